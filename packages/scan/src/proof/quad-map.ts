import type { Point } from '@okuri/core';
import type { Homography } from '@okuri/core/inside';
import { composeHomography, invertHomography } from '../scale/homography.js';

/** Four places. */
export type Quad = readonly [Point, Point, Point, Point];

/**
 * The perspective map that takes four places to four others, in closed form over the unit square (Heckbert, Fundamentals of Texture Mapping and Image
 * Warping, 1989, §2.2.3): for the many hundred thousand ways in which marks may be dots. Null where three of four lie on a line.
 */
export function quadMap(from: Quad, to: Quad): Homography | null {
  const [one, other] = [squareTo(from), squareTo(to)];
  const back = one === null ? null : invertHomography(one);
  return back === null || other === null ? null : composeHomography(other, back);
}

/** The map of (0,0), (1,0), (1,1), (0,1) to four places. */
export function squareTo([a, b, c, d]: Quad): Homography | null {
  const [sx, sy] = [a.x - b.x + c.x - d.x, a.y - b.y + c.y - d.y];
  const [x1, y1, x2, y2] = [b.x - c.x, b.y - c.y, d.x - c.x, d.y - c.y];
  const det = x1 * y2 - x2 * y1;
  if (det === 0) return null;
  const g = (sx * y2 - x2 * sy) / det;
  const h = (x1 * sy - sx * y1) / det;
  return [b.x - a.x + g * b.x, d.x - a.x + h * d.x, a.x, b.y - a.y + g * b.y, d.y - a.y + h * d.y, a.y, g, h, 1];
}

/** Whether four places are the corners of a convex figure that turns clockwise as seen (y runs down). */
export function turnsClockwise(quad: Quad): boolean {
  return quad.every((p, k) => {
    const [q, r] = [quad[(k + 1) % 4], quad[(k + 2) % 4]];
    return (q.x - p.x) * (r.y - q.y) - (q.y - p.y) * (r.x - q.x) > 0;
  });
}
