import { flattenCubic } from '../../geometry/flatten.js';
import { sideWinding } from '../../geometry/point-tests.js';
import type { Box, Contour, Point } from '../../geometry/types.js';

/** Curves are known to this where a leader meets them, mm on the page. */
const FLATTEN_MM = 0.05;

/** A straight piece of an outline. */
export interface StraightSide {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

/** Closed outlines whose straight pieces are made when they are first asked for. */
export interface Outlines {
  readonly box: Box;
  readonly sides: () => readonly StraightSide[];
}

/** Outlines with their box. */
export function outlinesOf(contours: readonly Contour[], box: Box): Outlines {
  let made: readonly StraightSide[] | null = null;
  return {
    box,
    sides: () => {
      made ??= flatSides(contours);
      return made;
    },
  };
}

function flatSides(contours: readonly Contour[]): StraightSide[] {
  const sides: StraightSide[] = [];
  for (const { coords } of contours) {
    if (coords.length < 8) continue;
    let x0 = coords[0];
    let y0 = coords[1];
    const side = (x1: number, y1: number): void => {
      sides.push({ x0, y0, x1, y1 });
      x0 = x1;
      y0 = y1;
    };
    for (let k = 0; k + 7 < coords.length; k += 6) flattenCubic(coords, k, FLATTEN_MM, side);
    side(coords[0], coords[1]);
  }
  return sides;
}

/** True where `p` lies inside by the nonzero rule. */
export function insideSides(sides: readonly StraightSide[], p: Point): boolean {
  return sides.reduce((sum, { x0, y0, x1, y1 }) => sum + sideWinding(x0, y0, x1, y1, p), 0) !== 0;
}
