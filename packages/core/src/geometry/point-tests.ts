import { boxDistance, controlBox } from './boxes.js';
import { evaluateCubic } from './curve.js';
import { FLATTEN_MM, flattenCubic } from './flatten.js';
import { paperCurve, paperPoint } from './paper.js';
import type { Contour, Point } from './types.js';

/**
 * What a side adds to how often its outline winds round a place: 1, −1 or 0, by the crossings of a ray to the right. Sides of a closed outline in turn sum to
 * its winding number; on the outline itself either answer may come.
 */
export function sideWinding(x0: number, y0: number, x1: number, y1: number, at: Point): -1 | 0 | 1 {
  if (y0 <= at.y === y1 <= at.y || !(x0 + ((at.y - y0) * (x1 - x0)) / (y1 - y0) > at.x)) return 0;
  return y1 > y0 ? 1 : -1;
}

/** Whether a place lies inside closed contours (nonzero), flattened to `toleranceMm`. On the outline either answer may come. */
export function insideContours(contours: readonly Contour[], at: Point, toleranceMm = FLATTEN_MM): boolean {
  let winding = 0;
  for (const { coords } of contours) {
    let x = coords[0];
    let y = coords[1];
    const side = (nx: number, ny: number): void => {
      winding += sideWinding(x, y, nx, ny, at);
      x = nx;
      y = ny;
    };
    for (let o = 0; o + 7 < coords.length; o += 6) flattenCubic(coords, o, toleranceMm, side);
    side(coords[0], coords[1]);
  }
  return winding !== 0;
}

/** The distance from a point to the nearest place on contours, mm; infinite for no contours. */
export function contourDistance(contours: readonly Contour[], at: Point): number {
  let best = Infinity;
  for (const { coords } of contours) {
    for (let o = 0; o + 7 < coords.length; o += 6) {
      if (boxDistance(controlBox(coords, o), at) >= best) continue;
      const location = paperCurve(coords, o).getNearestLocation(paperPoint(at));
      const p = evaluateCubic(coords, o, location.time);
      best = Math.min(best, Math.hypot(p.x - at.x, p.y - at.y));
    }
  }
  return best;
}
