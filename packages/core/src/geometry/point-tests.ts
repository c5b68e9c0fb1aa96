import { evaluateCubic } from './curve.js';
import { FLATTEN_MM, flattenCubic } from './flatten.js';
import { paperCurve, paperPoint } from './paper.js';
import type { Contour, Point } from './types.js';

/** Whether a point lies inside closed contours (nonzero). On the outline either answer may come. */
export function insideContours(contours: readonly Contour[], at: Point): boolean {
  let winding = 0;
  for (const { coords } of contours) {
    let x = coords[0];
    let y = coords[1];
    const edge = (nx: number, ny: number): void => {
      if (y <= at.y !== ny <= at.y) {
        const cut = x + ((at.y - y) * (nx - x)) / (ny - y);
        if (cut > at.x) winding += ny > y ? 1 : -1;
      }
      x = nx;
      y = ny;
    };
    for (let o = 0; o + 7 < coords.length; o += 6) flattenCubic(coords, o, FLATTEN_MM, edge);
    edge(coords[0], coords[1]);
  }
  return winding !== 0;
}

/** Distance from a point to the straight way between two others. */
export function distanceToSegment(p: Point, a: Point, b: Point): number {
  const [dx, dy] = [b.x - a.x, b.y - a.y];
  const square = dx * dx + dy * dy;
  const t = square === 0 ? 0 : Math.min(1, Math.max(0, ((p.x - a.x) * dx + (p.y - a.y) * dy) / square));
  return Math.hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
}

/** The distance from a point to the nearest place on contours, mm; infinite for no contours. */
export function contourDistance(contours: readonly Contour[], at: Point): number {
  let best = Infinity;
  for (const { coords } of contours) {
    for (let o = 0; o + 7 < coords.length; o += 6) {
      if (boxDistance(coords, o, at) >= best) continue;
      const location = paperCurve(coords, o).getNearestLocation(paperPoint(at));
      const p = evaluateCubic(coords, o, location.time);
      best = Math.min(best, Math.hypot(p.x - at.x, p.y - at.y));
    }
  }
  return best;
}

/** Distance to the box of a cubic's control points: never more than that to the curve. */
function boxDistance(q: Float64Array, o: number, at: Point): number {
  const xs = [q[o], q[o + 2], q[o + 4], q[o + 6]];
  const ys = [q[o + 1], q[o + 3], q[o + 5], q[o + 7]];
  const dx = Math.max(Math.min(...xs) - at.x, 0, at.x - Math.max(...xs));
  const dy = Math.max(Math.min(...ys) - at.y, 0, at.y - Math.max(...ys));
  return Math.hypot(dx, dy);
}
