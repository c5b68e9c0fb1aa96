import type { Point } from '../geometry/types.js';

/**
 * A place at a held side of the sheet where the outline of a second cut comes to the seam, and has to meet the lead edge of the next placement there. Sheet mm.
 */
export interface SheetJoin {
  /** `J1`, `J2`, …: down the right side, then along the bottom. */
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
  /** There where the lead edge waits in the held margin itself (near its ends), so that no proof shows it and it is cut as planned. */
  readonly leadCut?: 'second';
}

/** Where an outline's first cut ends at the hold line, and its second cut begins. Sheet mm. */
export interface FirstCutEnd {
  /** Goes on from the last join at a seam: after `J4` comes `J5`. */
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
