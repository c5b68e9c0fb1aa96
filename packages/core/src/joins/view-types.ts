import type { Box, Contour } from '../geometry/types.js';
import type { Join } from './types.js';

/** A join as both of its sides look where they come together, for drawing it. Lengths and places in unit mm. */
export interface JoinView {
  readonly join: Join;
  /** The one of two sheets that print the ink in which its openings are cut; null where there is one sheet. */
  readonly part: 'A' | 'B' | null;
  /** Number of the opening on the join's own side (right or bottom); null where none is there. */
  readonly own: number | null;
  /** Number of the opening that it meets, on the left or top side; null without a partner. */
  readonly partner: number | null;
  /** What is to be seen. */
  readonly box: Box;
  /** Outlines of both sides, the partner's moved by the step. */
  readonly contours: readonly Contour[];
}
