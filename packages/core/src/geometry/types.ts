/** A place or a vector in the plane. y runs **down**; units are stated where it is used (mm unless said otherwise). */
export interface Point {
  readonly x: number;
  readonly y: number;
}

/** An axis-aligned box, `x0 <= x1` and `y0 <= y1`. */
export interface Box {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

/** Affine map in SVG and PDF order: `x' = a x + c y + e`, `y' = b x + d y + f`. */
export type Matrix = readonly [a: number, b: number, c: number, d: number, e: number, f: number];

/**
 * A chain of cubic Bézier curves. `coords` holds the start point and then three points for each curve:
 * `x0 y0  c1x c1y c2x c2y x1 y1  …`, so its length is `2 + 6 n`, n >= 0. A straight line is a cubic whose handles lie
 * at its thirds. `closed` contours end where they start (to rounding).
 *
 * With y running down, a contour that turns clockwise as seen has a positive area (see `contourArea`).
 */
export interface Contour {
  readonly closed: boolean;
  readonly coords: Float64Array;
}

export type FillRule = 'nonzero' | 'evenodd';

/** Four sides of a unit, in the drawing's own orientation. */
export type Side = 'left' | 'right' | 'top' | 'bottom';

/**
 * How an outline is inked along its length. Contours of a stroked shape are in mm like all others; the pen itself is a
 * circle of diameter `width` in *pen space*, and `pen` maps pen space to mm (its translation is of no account), so that a
 * stroke under a slanting or uneven transform keeps its true shape. Dashes are lengths in pen space.
 */
export interface Stroke {
  readonly width: number;
  readonly cap: 'butt' | 'round' | 'square';
  readonly join: 'miter' | 'round' | 'bevel';
  readonly miterLimit: number;
  readonly dash: readonly number[];
  readonly dashOffset: number;
  readonly pen: Matrix;
}

/**
 * A perspective map of the plane, row by row: `x' = (h0 x + h1 y + h2) / (h6 x + h7 y + h8)`, `y' = (h3 x + h4 y + h5) / (same)`.
 */
export type Homography = readonly [
  h0: number,
  h1: number,
  h2: number,
  h3: number,
  h4: number,
  h5: number,
  h6: number,
  h7: number,
  h8: number,
];
