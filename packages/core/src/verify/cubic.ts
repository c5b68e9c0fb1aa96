import type { Contour, Matrix, Point } from '../geometry/types.js';

/** A place on a curve and the derivative there. */
export interface CurvePlace {
  readonly x: number;
  readonly y: number;
  readonly dx: number;
  readonly dy: number;
}

/** What is shorter than this, mm, is a point: it has no direction, and joins nothing to anything. */
export const POINT_MM = 1e-4;

/** Most chords for one cubic. */
const CHORDS_MAX = 4096;

/** A place on the cubic that starts at `q[o]`, by Bernstein's products. */
export function placeOn(q: ArrayLike<number>, o: number, t: number): CurvePlace {
  const u = 1 - t;
  const [a, b, c, d] = [u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t];
  const [e, f, g] = [3 * u * u, 6 * u * t, 3 * t * t];
  return {
    x: a * q[o] + b * q[o + 2] + c * q[o + 4] + d * q[o + 6],
    y: a * q[o + 1] + b * q[o + 3] + c * q[o + 5] + d * q[o + 7],
    dx: e * (q[o + 2] - q[o]) + f * (q[o + 4] - q[o + 2]) + g * (q[o + 6] - q[o + 4]),
    dy: e * (q[o + 3] - q[o + 1]) + f * (q[o + 5] - q[o + 3]) + g * (q[o + 7] - q[o + 5]),
  };
}

/** How many equal steps of the parameter keep the chords of a cubic within `tolerance`: a chord's height is at most |c''| h² / 8. */
export function chordCount(q: ArrayLike<number>, o: number, tolerance: number): number {
  const first = Math.hypot(q[o] - 2 * q[o + 2] + q[o + 4], q[o + 1] - 2 * q[o + 3] + q[o + 5]);
  const second = Math.hypot(q[o + 2] - 2 * q[o + 4] + q[o + 6], q[o + 3] - 2 * q[o + 5] + q[o + 7]);
  const bend = 6 * Math.max(first, second);
  return Math.max(1, Math.min(CHORDS_MAX, Math.ceil(Math.sqrt(bend / (8 * tolerance)))));
}

/** The corners of a contour's chords, x and y in turn; a curve is off by at most `tolerance`. */
export function chordsOf({ coords }: Contour, tolerance: number): number[] {
  const out: number[] = coords.length >= 2 ? [coords[0], coords[1]] : [];
  for (let o = 0; o + 7 < coords.length; o += 6) {
    const n = chordCount(coords, o, tolerance);
    for (let k = 1; k < n; k++) {
      const { x, y } = placeOn(coords, o, k / n);
      out.push(x, y);
    }
    out.push(coords[o + 6], coords[o + 7]);
  }
  return out;
}

/** Coordinates under an affine map. */
export function mapped(coords: ArrayLike<number>, [a, b, c, d, e, f]: Matrix): Float64Array {
  const out = new Float64Array(coords.length);
  for (let k = 0; k + 1 < coords.length; k += 2) {
    out[k] = a * coords[k] + c * coords[k + 1] + e;
    out[k + 1] = b * coords[k] + d * coords[k + 1] + f;
  }
  return out;
}

/** A place on an outline, and a unit vector across it. */
export type EdgePlace = (x: number, y: number, nx: number, ny: number, lengthMm: number) => void;

/** Places along a cubic, at most `step` apart by length of arc, each with the length that it stands for. */
export function alongCubic(q: ArrayLike<number>, o: number, step: number, visit: EdgePlace): number {
  const n = Math.max(4, chordCount(q, o, step / 50));
  const reach = new Float64Array(n + 1);
  let [px, py] = [q[o], q[o + 1]];
  for (let k = 1; k <= n; k++) {
    const { x, y } = placeOn(q, o, k / n);
    reach[k] = reach[k - 1] + Math.hypot(x - px, y - py);
    [px, py] = [x, y];
  }
  const length = reach[n];
  if (!(length > 0)) return 0;
  const count = Math.ceil(length / step);
  let k = 1;
  for (let m = 0; m < count; m++) {
    const at = ((m + 0.5) * length) / count;
    while (k < n && reach[k] < at) k++;
    const t = (k - 1 + (at - reach[k - 1]) / (reach[k] - reach[k - 1] || 1)) / n;
    const p = placeOn(q, o, t);
    let [dx, dy] = [p.dx, p.dy];
    if (!(Math.hypot(dx, dy) > 1e-9)) {
      const [a, b] = [placeOn(q, o, (k - 1) / n), placeOn(q, o, k / n)];
      [dx, dy] = [b.x - a.x, b.y - a.y];
    }
    const size = Math.hypot(dx, dy) || 1;
    visit(p.x, p.y, -dy / size, dx / size, length / count);
  }
  return length;
}

/** Places along a straight line, at most `step` apart, each with the length that it stands for. */
export function alongLine(x0: number, y0: number, x1: number, y1: number, step: number, visit: EdgePlace): void {
  const length = Math.hypot(x1 - x0, y1 - y0);
  if (!(length > 0)) return;
  const count = Math.ceil(length / step);
  const [nx, ny] = [-(y1 - y0) / length, (x1 - x0) / length];
  for (let m = 0; m < count; m++) {
    const share = (m + 0.5) / count;
    visit(x0 + share * (x1 - x0), y0 + share * (y1 - y0), nx, ny, length / count);
  }
}

/** Places along a chain of straight sides, at most `step` apart by its length, each with the length that it stands for. */
export function alongChain(points: readonly Point[], step: number, visit: EdgePlace): void {
  let total = 0;
  for (let k = 1; k < points.length; k++) {
    total += Math.hypot(points[k].x - points[k - 1].x, points[k].y - points[k - 1].y);
  }
  if (!(total > 0)) return;
  const count = Math.ceil(total / step);
  const each = total / count;
  let [gone, next] = [0, 0];
  for (let k = 1; k < points.length && next < count; k++) {
    const [a, b] = [points[k - 1], points[k]];
    const length = Math.hypot(b.x - a.x, b.y - a.y);
    if (!(length > 0)) continue;
    for (; next < count && (next + 0.5) * each <= gone + length; next++) {
      const share = ((next + 0.5) * each - gone) / length;
      const [ux, uy] = [(b.x - a.x) / length, (b.y - a.y) / length];
      visit(a.x + share * (b.x - a.x), a.y + share * (b.y - a.y), -uy, ux, each);
    }
    gone += length;
  }
}
