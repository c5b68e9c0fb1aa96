import type { Box, Contour, Point } from '../geometry/types.js';
import type { Ink } from '../motif/types.js';

/** A punched hole. Position on the sheet, mm from the sheet's upper left. */
export interface Dot {
  /** A, B, C … clockwise from the upper left. */
  readonly name: string;
  readonly at: Point;
  readonly diameterMm: number;
  /** Leading dots (left, top) print; trailing ones are landed upon. */
  readonly lead: boolean;
}

/** A distance to check with a ruler. */
export interface Measure {
  readonly what: 'width' | 'height' | 'diagonal' | 'step';
  readonly from: string;
  readonly to: string;
  readonly mm: number;
  /** The nearest 1/32 inch, in lowest terms: `14 3/16`. */
  readonly inches: string;
  /** `inches` minus `mm`, in mm: what is lost by measuring in inches. */
  readonly inchErrorMm: number;
}

/** One opening as it is cut in this sheet. An opening of the cloth that a seam divides is several of these. */
export interface SheetOpening {
  /** 1, 2, 3 … in cutting order. */
  readonly number: number;
  /** The opening of the pattern it belongs to. */
  readonly openingId: string;
  /** Outlines in sheet mm (holes included, nonzero); empty where nothing is cut before the proof. */
  readonly firstCut: readonly Contour[];
  /** What waits in the held margin; empty where nothing does. */
  readonly secondCut: readonly Contour[];
  readonly areaMm2: number;
  readonly box: Box;
  /** A point inside the waste of the first cut (of the second where there is no first). */
  readonly labelAt: Point;
  /** Distance from `labelAt` to the nearest outline, mm. */
  readonly labelRoomMm: number;
}

/** A stretch where an opening's first cut stops at the hold line. Sheet mm. */
export interface StopMark {
  readonly number: number;
  readonly from: Point;
  readonly to: Point;
}

/** The physical paper of one stencil. All positions in sheet mm: upper left of the paper, face up. */
export interface Sheet {
  readonly ink: Ink;
  /** 1-based place among the job's stencils, and their count. */
  readonly index: number;
  readonly count: number;
  readonly widthMm: number;
  readonly heightMm: number;
  /** The design field: `across × down` units. */
  readonly field: Box;
  readonly across: number;
  readonly down: number;
  /** The held margin along the right and the bottom; null where that side is not held. */
  readonly heldRight: Box | null;
  readonly heldBottom: Box | null;
  readonly lapMm: number;
  readonly dots: readonly Dot[];
  readonly measures: readonly Measure[];
  readonly openings: readonly SheetOpening[];
  readonly stops: readonly StopMark[];
  /** The smallest of the named papers that takes the sheet whole, e.g. `A2`; null where none does. */
  readonly fitsPaper: string | null;
}
