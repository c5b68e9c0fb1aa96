import type { Box, Contour, Homography, Point } from '../geometry/types.js';
import type { SixDistances, SquareCheck } from '../register/types.js';

export type { FirstCutEnd, SheetEnds, SheetJoin } from '../stencil/end-types.js';

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
  /** Its middle from its planned place once the print is laid over the plan, mm; 0 for dots that fix the laying completely. */
  readonly offMm: number;
}

/** How the print was laid over the plan. */
export interface LaidProof {
  /** px → sheet mm. */
  readonly toSheet: Homography;
  /** `dots`: found in the picture. `points`: the places of the corner dots as the person gave them. */
  readonly by: 'dots' | 'points';
  /**
   * `rigid`: only turned and shifted, at its true size. `stretched`: at its true size the dots lay more than a hole can be off from their places, so the
   * paper moved, and the print was carried by all of them. `perspective`: a photograph, whose scale and slant the dots themselves take away.
   */
  readonly frame: 'rigid' | 'stretched' | 'perspective';
  /** px → mm by something else than the dots, and how that is said; null in a photograph. */
  readonly scale: { readonly toMm: Homography; readonly words: string } | null;
  readonly dots: readonly PrintedDot[];
  /** Names of dots that were not found. */
  readonly missingDots: readonly string[];
  readonly pixelsPerMm: number;
  /** Share of the plan's openings that the picture shows dark, and of dark places that the plan has as openings, 0 to 1. */
  readonly agreement: number;
}

/**
 * How the edge of an opening at a lead side was cut. Offsets across the outline, with the spread of the print taken off: above zero the opening is larger than planned.
 */
export interface LeadEdge {
  readonly number: number;
  readonly sides: readonly ('left' | 'top')[];
  readonly meanMm: number;
  /** The farthest, with its sign, and where, sheet mm. */
  readonly worstMm: number;
  readonly worstAt: Point;
  /** Share of the edge at which the print shows one within reach, 0 to 1. */
  readonly shownShare: number;
  /** Joins at which it comes to a seam. */
  readonly joins: readonly string[];
}

/** Something of an opening that the print does not show, or something that it shows beside the plan. */
export interface PrintDifference {
  readonly kind: 'missing' | 'extra';
  /** The opening, or the nearest one. */
  readonly number: number;
  readonly areaMm2: number;
  /** The farthest that it reaches from the planned edge, mm, to about 0.2. */
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
  /** At every join and first-cut end that the picture shows: how far the **cut** is off, so the spread is taken off (see `compareProof`). */
  readonly offsets: readonly ProofOffset[];
  /** The same as it printed, spread and all. */
  readonly printedOffsets: readonly { readonly name: string; readonly offsetMm: number }[];
  /** Ends at which the picture shows no edge within reach. */
  readonly unmeasured: readonly string[];
  /** The largest first. */
  readonly differences: readonly PrintDifference[];
  /** Share of the planned second cut that is dark, 0 to 1: near 0 in a proof of the first cut. */
  readonly heldShare: number;
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

/** Dots of a placement that do not print, and on which others are laid: they are marked through with a pencil while the sheet lies there. */
export interface ProofPencil {
  /** Its printing order. */
  readonly placement: number;
  /** Names of its dots, in the order of the sheet's. */
  readonly dots: readonly string[];
}

/** A point where three placements or more meet. */
export interface ProofMeeting {
  /** From the upper left of the first placement's field, mm. */
  readonly at: Point;
  /** Their printing orders. */
  readonly placements: readonly number[];
}

/** The fewest placements that show every kind of join of a sheet. */
export interface ProofMap {
  readonly placements: readonly ProofPlacement[];
  readonly joins: readonly ProofMapJoin[];
  /** For each placement on whose sighting dots another is laid. */
  readonly pencil: readonly ProofPencil[];
  readonly meetings: readonly ProofMeeting[];
  /** One placement more, which shows the other kind of point where three meet; null where there is none to show. */
  readonly further: ProofPlacement | null;
}
