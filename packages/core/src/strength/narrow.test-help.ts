import { boxContour, polyline, transformContour } from '../geometry/contour.js';
import type { Contour, Point } from '../geometry/types.js';
import type { CutPaper } from './types.js';

/** A sheet with room on all sides. */
export const EDGE = { x0: -100, y0: -100, x1: 200, y1: 200 };

/** Each contour an opening of its own. */
export function sheet(contours: readonly Contour[], edge = EDGE): CutPaper {
  return { edge, outlines: contours.map((contour, opening) => ({ contour, opening })) };
}

/** A closed outline of straight sides. */
export function ring(points: readonly (readonly [number, number])[]): Contour {
  return polyline(
    points.map(([x, y]) => ({ x, y })),
    { closed: true },
  );
}

/** The outline of a box. */
export function box(x0: number, y0: number, x1: number, y1: number): Contour {
  return boxContour({ x0, y0, x1, y1 });
}

/** An outline turned, and moved a little. */
export function turned(contour: Contour, degrees: number): Contour {
  const a = (degrees * Math.PI) / 180;
  return transformContour(contour, [Math.cos(a), Math.sin(a), -Math.sin(a), Math.cos(a), 3, -2]);
}

/** An outline along half of which the points are those of `f`, and back along `g`. */
export function strip(length: number, steps: number, f: (x: number) => Point, g: (x: number) => Point): Contour {
  const xs = Array.from({ length: steps + 1 }, (_, k) => (length * k) / steps);
  return polyline([...xs.map(f), ...xs.reverse().map(g)], { closed: true });
}
