import type { Box, Contour, Point } from '../geometry/types.js';
import type { Homography } from '../scan/types.js';
import type { SixDistances, SquareCheck } from '../squaring/types.js';

/**
 * A place at a held side of the sheet where the outline of a second cut comes to the seam, and has to meet the lead edge of the next placement there. Sheet mm.
 */
export interface SheetJoin {
  /** `X1`, `X2`, …: down the right side, then along the bottom. */
  readonly name: string;
  readonly seam: 'right' | 'bottom';
  /** On the held side's seam. */
  readonly at: Point;
  /** The lead edge that comes to it, on the left or top seam: `at` minus `step`. */
  readonly lead: Point;
  /** From this placement to the next, whose lead edge it is. */
  readonly step: Point;
  /** Number of the opening whose second cut ends here, and of the one whose lead edge it meets (null where the plan has none). */
  readonly own: number;
  readonly partner: number | null;
  /** Along the seam (down, or to the right) the opening begins here, or ends. */
  readonly edge: 'begins' | 'ends';
}

/** Where an outline's first cut ends at the hold line, and its second cut begins. Sheet mm. */
export interface FirstCutEnd {
  /** `Y1`, `Y2`, …. */
  readonly name: string;
  readonly at: Point;
  /** Unit vector along the stop, down or to the right: offsets are measured along it. */
  readonly along: Point;
  readonly opening: number;
}

/** The places of a sheet at which a proof is measured. */
export interface SheetEnds {
  readonly joins: readonly SheetJoin[];
  readonly firstCutEnds: readonly FirstCutEnd[];
}

/** How far an end was really cut from its place, as the proof shows it: the one thing that a job keeps of a proof. */
export interface ProofOffset {
  /** Of a `SheetJoin` or a `FirstCutEnd`. */
  readonly name: string;
  /** Along the seam (or the stop): above zero down or to the right. mm. */
  readonly offsetMm: number;
  /** How far the lead edge is turned from the plan, degrees clockwise as seen; 0 where it was not measured, and for ends of the first cut. */
  readonly turnDeg: number;
  /** Where the end was planned when it was measured, field mm: tells whether the drawing was changed since. Null where typed by hand. */
  readonly place: Point | null;
}

/** A dot of the sheet as it printed. */
export interface PrintedDot {
  readonly name: string;
  /** px. */
  readonly at: Point;
  /** From its planned place once the print is laid over the plan, mm; 0 for dots that fix the laying completely. */
  readonly offMm: number;
}

/** How the print was laid over the plan. */
export interface LaidProof {
  /** px → sheet mm. */
  readonly toSheet: Homography;
  /** `dots`: found in the picture. `points`: the places of the corner dots as the person gave them. */
  readonly by: 'dots' | 'points';
  readonly dots: readonly PrintedDot[];
  /** Names of dots that were not found. */
  readonly missingDots: readonly string[];
  readonly pixelsPerMm: number;
  /** Share of the plan's openings that the picture shows dark, and of dark places that the plan has as openings, 0 to 1. */
  readonly agreement: number;
}

/** How the edge of an opening at a lead side lies to the plan. Offsets across the outline: above zero the opening is larger than planned. */
export interface LeadEdge {
  readonly number: number;
  readonly sides: readonly ('left' | 'top')[];
  readonly meanMm: number;
  /** The farthest, with its sign, and where, sheet mm. */
  readonly worstMm: number;
  readonly worstAt: Point;
  /** Joins at which it comes to a seam. */
  readonly joins: readonly string[];
}

/** Something of an opening that the print does not show, or something that it shows beside the plan. */
export interface PrintDifference {
  readonly kind: 'missing' | 'extra';
  /** The opening, or the nearest one. */
  readonly number: number;
  readonly areaMm2: number;
  /** The farthest that it reaches from the planned edge, mm. */
  readonly deepMm: number;
  readonly at: Point;
  readonly box: Box;
}

/** What a printed proof tells of a sheet. Differences, not faults: the cutter may have meant them. Sheet mm. */
export interface ProofReport {
  readonly laid: LaidProof;
  /** Middle distance of all first-cut edges from the plan, across the outline, mm: how far the print spread (above zero) or drew back. */
  readonly spreadMm: number;
  readonly leadEdges: readonly LeadEdge[];
  /** Measured at every join and first-cut end that the picture shows. */
  readonly offsets: readonly ProofOffset[];
  /** Ends at which the picture shows no edge within reach. */
  readonly unmeasured: readonly string[];
  readonly differences: readonly PrintDifference[];
  /** The distances between the corner dots as printed, mm, and what they prove; null where the picture has no scale but the dots themselves. */
  readonly distances: SixDistances | null;
  readonly square: SquareCheck | null;
  /** The print itself as outlines in sheet mm, for laying over the plan. */
  readonly printed: readonly Contour[];
}

/** One placement of a proof map. */
export interface ProofPlacement {
  /** In lattice steps of the sheet: i to the right, j down. */
  readonly i: number;
  readonly j: number;
  /** Printing order, from 1. */
  readonly order: number;
  /** From the first placement, mm. */
  readonly at: Point;
}

/** A kind of join: what comes together when two placements lie so. */
export interface ProofMapJoin {
  readonly from: number;
  readonly to: number;
  /** Names of dots: `from` on `to`. */
  readonly dots: readonly { readonly from: string; readonly to: string }[];
  readonly words: string;
}

/** The fewest placements that show every kind of join of a sheet. */
export interface ProofMap {
  readonly placements: readonly ProofPlacement[];
  readonly joins: readonly ProofMapJoin[];
}
