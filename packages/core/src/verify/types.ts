import type { Box, Contour, Point } from '../geometry/types.js';
import type { Ink, Shape } from '../motif/types.js';
import type { Lattice } from '../repeat/types.js';

/** A strip of paper left standing across an opening, as it was decided: its ends on the two banks, and how far it runs on past each. Unit mm. */
export interface TieStrip {
  readonly from: Point;
  readonly to: Point;
  readonly widthMm: number;
  /** How much wider it gets on each side at its ends. */
  readonly flareMm: number;
  readonly reachMm: number | { readonly from: number; readonly to: number };
}

/** Which colour is cut. `light`: all that none of `chosen` covers; else what is seen of `ink`. */
export interface CutInk {
  readonly ink: Ink;
  readonly light: boolean;
  /** Inks that print; null for all but the paper colour. Asked only where the light is cut. */
  readonly chosen: readonly Ink[] | null;
  readonly paperColour: Ink;
}

/**
 * The artwork that a sheet has to show, in symbols, with all decisions that were made about it. Places are unit mm: the upper left of the
 * sheet's first unit is the origin.
 */
export interface Artwork {
  /** At the size of the unit, in paint order. */
  readonly shapes: readonly Shape[];
  readonly lattice: Lattice;
  /** What is done with a shape: laid with every lattice copy, as drawn and trimmed at the unit, or not at all. */
  readonly reading: (index: number) => 'carry' | 'trim' | 'leave-out';
  readonly cut: CutInk;
  readonly ties: readonly TieStrip[];
  /** The part of the cloth that the sheet holds, its lap included. */
  readonly reach: Box;
  /** The part of the cloth up to which a sheet may be cut for ends that are too slight to be cut on the other side of their seam; its reach by default. */
  readonly farthest?: Box;
  /** Bars where the first cut ends and the second goes on. */
  readonly stops: readonly { readonly from: Point; readonly to: Point }[];
  /** Outlines of what was dropped on purpose, too slight for any blade. */
  readonly dropped: readonly Contour[];
}

/**
 * What a sample can show. `invented`: a cut line with the same on both of its sides. `wrong-side`: there is an edge of the ink, but the lines
 * drawn do not bound the ink once (drawn twice, or the wrong way round). `lost`: an edge of the ink without a cut line.
 */
export type MissKind = 'invented' | 'wrong-side' | 'lost';

/** A sample that does not hold. Unit mm; `by`: how far the next edge of ink (the next cut line) is, mm, as far as was looked. */
export interface Miss {
  readonly x: number;
  readonly y: number;
  readonly what: MissKind;
  readonly by: number;
}

/** Why a stretch may go unjudged. */
export type ExemptReason = 'stop' | 'tie' | 'edge' | 'dropped';

/** What of the lines was judged against what, mm of cut line. */
export type JudgedLengths = Readonly<Record<'outline' | 'stop' | 'tie' | 'edge', number>>;

/** How the cut lines of a sheet and its artwork agree. */
export interface Verification {
  /** Places looked at, along cut lines and along edges of the artwork. */
  readonly samples: number;
  readonly misses: readonly Miss[];
  /** Length of all cut lines, mm. */
  readonly lengthMm: number;
  /** Length of the artwork's edges that are seen on the sheet, mm. */
  readonly edgeMm: number;
  /**
   * Cut lines by what they were found to be: edges of ink; stop bars (on a listed bar, ink on both sides); sides of ties (of the strips given); edges of the
   * design (the sides of `reach`). All of these are judged.
   */
  readonly judged: JudgedLengths;
  /**
   * Edges without a line that need none, mm: in places that are listed as dropped and were found to have no room for a blade, and past the lead edges of
   * the design (x = 0, y = 0), in the lap, where the next print has them.
   */
  readonly slightMm: number;
  /** What could not be judged, by reason, mm. */
  readonly exempt: Readonly<Record<ExemptReason, number>>;
  /** All of `exempt` over `lengthMm`; 0 where nothing is drawn. */
  readonly exemptShare: number;
  /** No misses, and no more than the allowed share exempt. */
  readonly ok: boolean;
}

/** How closely a sheet is looked at. */
export interface VerifyOptions {
  /** Cut lines and edges are sampled at most this far apart, mm; 0.25 by default. */
  readonly stepMm?: number;
  /** A line may lie this far from its edge, mm; 0.05 by default. */
  readonly toleranceMm?: number;
}
