import { FLATTEN_MM, flattenCubic } from '../geometry/flatten.js';
import { closedCoords } from '../geometry/settle.js';
import type { Point } from '../geometry/types.js';

/** An outline by the distance walked along it, mm from its start; it is closed, so distances go on around it. */
export class OutlineWalk {
  /** The outline's cubics, closed by a straight side where its ends differ. */
  readonly coords: Float64Array;
  /** Distance at every node; the last is the whole length. */
  readonly nodes: Float64Array;
  /** Length of the flattened outline (5 µm), mm. */
  readonly lengthMm: number;
  private readonly distances: Float64Array;
  private readonly points: Float64Array;

  constructor(coords: Float64Array) {
    this.coords = closedCoords(coords);
    const q = this.coords;
    const pieces = Math.max(0, Math.floor((q.length - 2) / 6));
    this.nodes = new Float64Array(pieces + 1);
    const points: number[] = q.length >= 2 ? [q[0], q[1]] : [0, 0];
    const distances: number[] = [0];
    let [x, y, sum] = [points[0], points[1], 0];
    for (let k = 0; k < pieces; k++) {
      flattenCubic(q, 6 * k, FLATTEN_MM, (nx, ny) => {
        sum += Math.hypot(nx - x, ny - y);
        points.push(nx, ny);
        distances.push(sum);
        [x, y] = [nx, ny];
      });
      this.nodes[k + 1] = sum;
    }
    this.points = Float64Array.from(points);
    this.distances = Float64Array.from(distances);
    this.lengthMm = sum;
  }

  /** The place at a distance from the start, forwards or backwards, any number of times around. */
  pointAt(distance: number): Point {
    const { distances, points, lengthMm } = this;
    const s = lengthMm > 0 ? distance - Math.floor(distance / lengthMm) * lengthMm : 0;
    let a = 0;
    let b = distances.length - 1;
    while (b - a > 1) {
      const middle = (a + b) >> 1;
      if (distances[middle] <= s) a = middle;
      else b = middle;
    }
    const side = distances[b] - distances[a];
    const t = side > 0 ? Math.min(1, (s - distances[a]) / side) : 0;
    return {
      x: points[2 * a] + (points[2 * b] - points[2 * a]) * t,
      y: points[2 * a + 1] + (points[2 * b + 1] - points[2 * a + 1]) * t,
    };
  }

  /** How far the outline at `distance` stands off the straight line between its places `reachMm` before and after, mm. */
  standsOff(distance: number, reachMm: number): number {
    const p = this.pointAt(distance);
    const a = this.pointAt(distance - reachMm);
    const b = this.pointAt(distance + reachMm);
    const [x, y] = [b.x - a.x, b.y - a.y];
    const square = x * x + y * y;
    const t = square > 0 ? Math.min(1, Math.max(0, ((p.x - a.x) * x + (p.y - a.y) * y) / square)) : 0;
    return Math.hypot(p.x - a.x - t * x, p.y - a.y - t * y);
  }
}
