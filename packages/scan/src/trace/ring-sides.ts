import type { Point } from '@okuri/core';
import { distance } from '@okuri/core/inside';
import type { RingSamples } from './ring-samples.js';

/** Samples beside a corner that a scanner's blur (a spread of up to a pixel) may have moved. */
export const GAP = 2;

/** One side of a corner: a parabola `v = a + b u + c u²` along the axis (ux, uy) that leads away from the corner. */
export interface CornerSide {
  readonly ox: number;
  readonly oy: number;
  readonly ux: number;
  readonly uy: number;
  readonly a: number;
  readonly b: number;
  readonly c: number;
  /** Direction away from the corner, at the corner. */
  dx: number;
  dy: number;
  /** Standard deviations of the place and the slope that it gives at the corner. */
  readonly spread: number;
  readonly slope: number;
  /** Its own turn along its samples, in the sense of travel along the ring, radians. */
  readonly bend: number;
}

/** A side takes so many steps at least; beside a corner very near it reaches into that one's blur. */
export const LEAST_SIDE = 1;
/** Samples of a side on even paper, and how many more for each pixel of noise. */
const SIDE = 6;
const SIDE_PER_NOISE = 25;
/** A side that is carried on far is seen for longer: so many times the samples that blur has moved. */
const SIDE_PER_GAP = 2;
/** Even a clean scan's points lie no nearer than this to a line, px. */
const FLOOR_PX = 0.03;
/** A side may miss its line by this more than noise does, px: more means another bend within it. */
const SIDE_FIT_PX = 0.15;

/** The widest side that its samples keep to, from `gap` samples beyond a place on, away from it; null where there is no room or it bends at once. */
export function sideOf(
  ring: RingSamples,
  index: number,
  way: 1 | -1,
  gap: number,
  room: number,
  noisePx: number,
): CornerSide | null {
  const from = Math.ceil(gap);
  const wanted = Math.max(SIDE, SIDE_PER_GAP * gap) + SIDE_PER_NOISE * noisePx;
  let w = Math.min(Math.round(wanted), Math.max(LEAST_SIDE, Math.floor(room) - GAP - from));
  if (room < GAP + LEAST_SIDE + from - 1) return null;
  const sd = Math.max(noisePx, FLOOR_PX);
  for (; w >= LEAST_SIDE; w = Math.floor(w * 0.6)) {
    const side = fitSide(ring, index + way * from, way, w, from, sd);
    if (side.rms <= 2 * sd + SIDE_FIT_PX) return side;
  }
  return null;
}

function fitSide({ count, x, y }: RingSamples, first: number, way: number, w: number, from: number, sd: number) {
  const at = (k: number) => (((first + way * k) % count) + count) % count;
  let mx = 0;
  let my = 0;
  const n = w + 1;
  for (let k = 0; k < n; k++) {
    mx += x[at(k)] / n;
    my += y[at(k)] / n;
  }
  let ux = 0;
  let uy = 0;
  for (let k = 0; k < n; k++) {
    const f = k - w / 2;
    ux += f * (x[at(k)] - mx);
    uy += f * (y[at(k)] - my);
  }
  const len = Math.hypot(ux, uy) || 1;
  ux /= len;
  uy /= len;
  let [s2, s3, s4, v1, v2, vv, sv] = [0, 0, 0, 0, 0, 0, 0];
  for (let k = 0; k < n; k++) {
    const px = x[at(k)] - mx;
    const py = y[at(k)] - my;
    const u = px * ux + py * uy;
    const v = py * ux - px * uy;
    s2 += u * u;
    s3 += u * u * u;
    s4 += u * u * u * u;
    sv += v;
    v1 += u * v;
    v2 += u * u * v;
    vv += v * v;
  }
  // Sums of u and of v are nought: the origin is the mean.
  const b1 = s2 > 0 ? v1 / s2 : 0;
  const sseLine = Math.max(0, vv - b1 * v1);
  const reach = from + w / 2;
  const side = { ox: mx, oy: my, ux, uy, a: 0, b: b1, c: 0, dx: 0, dy: 0 };
  let sse = sseLine;
  let spread = sd * Math.sqrt(1 / n + (s2 > 0 ? (reach * reach) / s2 : 1));
  let slope = s2 > 0 ? sd / Math.sqrt(s2) : 1;
  if (n >= 5) {
    // The part of u² that neither a constant nor u holds.
    const q0 = s2 / n;
    const q1 = s3 / s2;
    const qq = s4 - s2 * q0 - s3 * q1;
    const qv = v2 - q1 * v1 - q0 * sv;
    if (qq > 0) {
      const c = qv / qq;
      const gain = qv * c;
      if (gain > 12 * sd * sd) {
        side.c = c;
        side.b = b1 - c * q1;
        side.a = -c * q0;
        sse -= gain;
        const lift = reach * reach + q1 * reach - q0;
        spread = Math.hypot(spread, (sd * lift) / Math.sqrt(qq));
        slope = Math.hypot(slope, (sd * (2 * reach + Math.abs(q1))) / Math.sqrt(qq));
      }
    }
  }
  // Away from the corner a side before it runs against the ring.
  const bend = way * 2 * side.c * w;
  return { ...side, spread, slope, bend, rms: Math.sqrt(Math.max(0, sse) / n) };
}

/** Where two sides cross, by Newton's steps from a place near by; leaves their directions there in them. */
export function crossSides(p: CornerSide, q: CornerSide, near: Point): Point | null {
  let at = near;
  for (let round = 0; round < 8; round++) {
    const s = tangentAt(p, at);
    const t = tangentAt(q, at);
    const det = s.dx * t.dy - s.dy * t.dx;
    if (Math.abs(det) < 0.02) return null;
    const k = ((t.x - s.x) * t.dy - (t.y - s.y) * t.dx) / det;
    const next = { x: s.x + k * s.dx, y: s.y + k * s.dy };
    if (distance(next, near) > 30) return null;
    const moved = distance(next, at);
    at = next;
    [p.dx, p.dy, q.dx, q.dy] = [s.dx, s.dy, t.dx, t.dy];
    if (moved < 1e-6) break;
  }
  return at;
}

function tangentAt(side: CornerSide, { x, y }: Point) {
  const u = (x - side.ox) * side.ux + (y - side.oy) * side.uy;
  const v = side.a + u * (side.b + u * side.c);
  const k = side.b + 2 * u * side.c;
  const len = Math.hypot(1, k);
  return {
    x: side.ox + u * side.ux - v * side.uy,
    y: side.oy + u * side.uy + v * side.ux,
    dx: (side.ux - k * side.uy) / len,
    dy: (side.uy + k * side.ux) / len,
  };
}

/** Turn from one vector to the other, -π … π. */
export function angleBetween(ax: number, ay: number, bx: number, by: number): number {
  return Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
}
