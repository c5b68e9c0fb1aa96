import { evaluateCubic } from '../geometry/curve.js';
import { nearestShare } from '../geometry/segments.js';
import type { Point } from '../geometry/types.js';
import { type FlatRing, sideBox, sideCurve, sideError, sideIndex } from './flat-ring.js';

/** Two places that lie opposite each other on two rings (or on one). `s` as in `FlatRing`. mm. */
export interface PlacePair {
  readonly lengthMm: number;
  readonly from: Point;
  readonly to: Point;
  readonly fromS: number;
  readonly toS: number;
}

/** Two sides that may be nearest to each other, and how far their flattenings are apart. */
export interface SidePair {
  readonly a: number;
  readonly b: number;
  readonly mm: number;
}

/** Most pairs of sides that are looked at on their curves: more only come near together where two outlines run side by side. */
const MAX_REFINED = 64;

/** The nearest places of two rings that do not cross, refined on their curves (to some 1e-6 mm; 1e-4 is needed). */
export function nearestPlaces(from: FlatRing, to: FlatRing): PlacePair {
  const index = sideIndex(to);
  const n = from.x.length;
  let best = Infinity;
  const lower = new Float64Array(n);
  // The distance to the other ring changes no faster than one goes: what is known of a side bounds the next one.
  let known = -Infinity;
  for (let k = 0; k < n; k++) {
    const m = k + 1 < n ? k + 1 : 0;
    const mx = (from.x[k] + from.x[m]) / 2;
    const my = (from.y[k] + from.y[m]) / 2;
    const half = Math.hypot(from.x[m] - from.x[k], from.y[m] - from.y[k]) / 2;
    if (k > 0) {
      const p = k - 1;
      known -= Math.hypot(mx - (from.x[p] + from.x[k]) / 2, my - (from.y[p] + from.y[k]) / 2);
    }
    if (known - half <= best) {
      const [side] = index.neighbors(mx, my, 1);
      const box = sideBox(to, side);
      known = Math.hypot(Math.max(box.x0 - mx, 0, mx - box.x1), Math.max(box.y0 - my, 0, my - box.y1));
      best = Math.min(best, sideDistance(from, k, to, side));
    }
    lower[k] = known - half;
  }
  const pairs: SidePair[] = [];
  const order = Array.from(lower.keys()).sort((a, b) => lower[a] - lower[b]);
  for (const k of order) {
    const own = sideError(from, k);
    if (lower[k] - own > best + ERROR_MM) break;
    const box = sideBox(from, k);
    const half = Math.hypot(box.x1 - box.x0, box.y1 - box.y0) / 2;
    const reach = best + ERROR_MM;
    const look = (side: number): boolean => {
      const mm = sideDistance(from, k, to, side);
      if (mm < best) best = mm;
      if (mm - own - sideError(to, side) <= best) pairs.push({ a: k, b: side, mm });
      return false;
    };
    // A circle catches far less than a box where the way is long and the side short.
    if (half < reach) index.neighbors((box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2, 1, reach + half, look);
    else index.search(box.x0 - reach, box.y0 - reach, box.x1 + reach, box.y1 + reach, look);
  }
  return refinePairs(from, to, pairs);
}

/** Two flattenings are nearer or farther than their curves by at most this, mm. */
const ERROR_MM = 0.01;

/** The nearest places of two rings among pairs of their sides (at least one), refined on the curves. */
export function refinePairs(from: FlatRing, to: FlatRing, pairs: readonly SidePair[]): PlacePair {
  let best: PlacePair | null = null;
  const sorted = valleys(from, to, pairs)
    .sort((p, q) => p.mm - q.mm)
    .slice(0, MAX_REFINED);
  for (const pair of sorted) {
    const slack = sideError(from, pair.a) + sideError(to, pair.b);
    if (best && pair.mm - slack >= best.lengthMm) continue;
    const found = refined(from, pair.a, to, pair.b);
    if (!best || found.lengthMm < best.lengthMm) best = found;
  }
  if (!best) throw new RangeError('got no pairs of sides, expected at least one');
  return best;
}

/** The pairs that no pair beside them (one side on, on either ring) undercuts. */
function valleys(from: FlatRing, to: FlatRing, pairs: readonly SidePair[]): SidePair[] {
  if (pairs.length <= 4) return [...pairs];
  const n = from.x.length;
  const m = to.x.length;
  const known = new Map(pairs.map((p) => [p.a * m + p.b, p.mm]));
  return pairs.filter(({ a, b, mm }) => {
    for (let i = -1; i <= 1; i++) {
      for (let j = -1; j <= 1; j++) {
        const beside = known.get(((a + n + i) % n) * m + ((b + m + j) % m));
        if (beside !== undefined && beside < mm) return false;
      }
    }
    return true;
  });
}

/** How far two sides that do not cross are apart. */
export function sideDistance(a: FlatRing, i: number, b: FlatRing, j: number): number {
  const i1 = i + 1 < a.x.length ? i + 1 : 0;
  const j1 = j + 1 < b.x.length ? j + 1 : 0;
  const [ax0, ay0, ax1, ay1] = [a.x[i], a.y[i], a.x[i1], a.y[i1]];
  const [bx0, by0, bx1, by1] = [b.x[j], b.y[j], b.x[j1], b.y[j1]];
  const squared = Math.min(
    squaredTo(ax0, ay0, bx0, by0, bx1, by1),
    squaredTo(ax1, ay1, bx0, by0, bx1, by1),
    squaredTo(bx0, by0, ax0, ay0, ax1, ay1),
    squaredTo(bx1, by1, ax0, ay0, ax1, ay1),
  );
  return Math.sqrt(squared);
}

/** The square of the distance from a point to a side; nothing but numbers, as it is asked for millions of times. */
function squaredTo(px: number, py: number, x0: number, y0: number, x1: number, y1: number): number {
  const share = nearestShare(px, py, x0, y0, x1, y1);
  const ex = x0 + share * (x1 - x0) - px;
  const ey = y0 + share * (y1 - y0) - py;
  return ex * ex + ey * ey;
}

/** How far a point is from a side. */
export function pointToSide(x: number, y: number, ring: FlatRing, side: number): number {
  const next = side + 1 < ring.x.length ? side + 1 : 0;
  return Math.sqrt(squaredTo(x, y, ring.x[side], ring.y[side], ring.x[next], ring.y[next]));
}

/** The nearest places of two sides, as shares of their lengths. */
function straightPlaces(
  a: FlatRing,
  i: number,
  b: FlatRing,
  j: number,
): { squared: number; shareA: number; shareB: number } {
  const i1 = i + 1 < a.x.length ? i + 1 : 0;
  const j1 = j + 1 < b.x.length ? j + 1 : 0;
  let squared = Infinity;
  let shareA = 0;
  let shareB = 0;
  for (const end of [0, 1]) {
    const p = end === 0 ? i : i1;
    const onB = shareOn(a.x[p], a.y[p], b.x[j], b.y[j], b.x[j1], b.y[j1]);
    if (onB.squared < squared) [squared, shareA, shareB] = [onB.squared, end, onB.share];
    const q = end === 0 ? j : j1;
    const onA = shareOn(b.x[q], b.y[q], a.x[i], a.y[i], a.x[i1], a.y[i1]);
    if (onA.squared < squared) [squared, shareA, shareB] = [onA.squared, onA.share, end];
  }
  return { squared, shareA, shareB };
}

function shareOn(px: number, py: number, x0: number, y0: number, x1: number, y1: number) {
  const share = nearestShare(px, py, x0, y0, x1, y1);
  return { share, squared: (x0 + share * (x1 - x0) - px) ** 2 + (y0 + share * (y1 - y0) - py) ** 2 };
}

/** Two places on cubics (by where these start in the coordinates) and the square of their distance. */
interface Footing {
  readonly oa: number;
  readonly t: number;
  readonly ob: number;
  readonly u: number;
  readonly squared: number;
}

/** Most times that a place moves over to the next cubic: it starts on the right one or beside it. */
const MAX_HOPS = 4;

/** The nearest places of the curves near two sides, from the sides' nearest places on; they may move over to the next cubic of their ring. */
function refined(ra: FlatRing, i: number, rb: FlatRing, j: number): PlacePair {
  const a = ra.contour.coords;
  const b = rb.contour.coords;
  const ca = sideCurve(ra, i);
  const cb = sideCurve(rb, j);
  const start = straightPlaces(ra, i, rb, j);
  let best = descend(a, ca.o, ca.t0 + start.shareA * (ca.t1 - ca.t0), b, cb.o, cb.t0 + start.shareB * (cb.t1 - cb.t0));
  for (let hop = 0; hop < MAX_HOPS; hop++) {
    let next = best;
    const [nextA, ta] = beyond(a, best.oa, best.t);
    const [nextB, ub] = beyond(b, best.ob, best.u);
    if (nextA !== best.oa) next = lesser(next, descend(a, nextA, ta, b, best.ob, best.u));
    if (nextB !== best.ob) next = lesser(next, descend(a, best.oa, best.t, b, nextB, ub));
    if (next === best) break;
    best = next;
  }
  const p = evaluateCubic(a, best.oa, best.t);
  const q = evaluateCubic(b, best.ob, best.u);
  return {
    lengthMm: Math.sqrt(best.squared),
    from: { x: p.x, y: p.y },
    to: { x: q.x, y: q.y },
    fromS: best.oa / 6 + best.t,
    toS: best.ob / 6 + best.u,
  };
}

function lesser(a: Footing, b: Footing): Footing {
  return b.squared < a.squared ? b : a;
}

/** The cubic on the other side of the end at which a place has come to lie, and the place there; the same cubic for a place between. */
function beyond(coords: Float64Array, o: number, t: number): [o: number, t: number] {
  const length = coords.length - 2;
  if (t <= 0) return [(o + length - 6) % length, 1];
  if (t >= 1) return [(o + 6) % length, 0];
  return [o, t];
}

/** Enough: Newton's steps double the digits, and halved ones come first where the start is poor. */
const MAX_STEPS = 40;

/**
 * Down to the nearest places of two cubics from two places on them: Newton's method on the two parameters, held to the cubics, with steps
 * down the slope where the distance does not bend upwards.
 */
function descend(a: Float64Array, oa: number, t0: number, b: Float64Array, ob: number, u0: number): Footing {
  let t = t0;
  let u = u0;
  let p = evaluateCubic(a, oa, t);
  let q = evaluateCubic(b, ob, u);
  let squared = (p.x - q.x) ** 2 + (p.y - q.y) ** 2;
  for (let step = 0; step < MAX_STEPS && squared > 0; step++) {
    const [dt, du] = newtonStep(a, oa, t, b, ob, u);
    let moved = false;
    for (let part = 1; part > 1e-6; part /= 2) {
      const nt = Math.min(1, Math.max(0, t + part * dt));
      const nu = Math.min(1, Math.max(0, u + part * du));
      p = evaluateCubic(a, oa, nt);
      q = evaluateCubic(b, ob, nu);
      const next = (p.x - q.x) ** 2 + (p.y - q.y) ** 2;
      if (next < squared) {
        moved = squared - next > 1e-13 * squared;
        [t, u, squared] = [nt, nu, next];
        break;
      }
    }
    if (!moved) break;
  }
  return { oa, t, ob, u, squared };
}

function newtonStep(
  a: Float64Array,
  oa: number,
  t: number,
  b: Float64Array,
  ob: number,
  u: number,
): [dt: number, du: number] {
  const p = evaluateCubic(a, oa, t);
  const q = evaluateCubic(b, ob, u);
  const dx = p.x - q.x;
  const dy = p.y - q.y;
  const gt = dx * p.dx + dy * p.dy;
  const gu = -(dx * q.dx + dy * q.dy);
  const bendA = bend(a, oa, t);
  const bendB = bend(b, ob, u);
  const speedA = p.dx * p.dx + p.dy * p.dy || 1e-18;
  const speedB = q.dx * q.dx + q.dy * q.dy || 1e-18;
  const tt = speedA + dx * bendA.x + dy * bendA.y;
  const uu = speedB - dx * bendB.x - dy * bendB.y;
  const tu = -(p.dx * q.dx + p.dy * q.dy);
  // At an end of a cubic, a step that would leave it is no step: the other place then moves alone.
  const stuckT = (t <= 0 && gt > 0) || (t >= 1 && gt < 0);
  const stuckU = (u <= 0 && gu > 0) || (u >= 1 && gu < 0);
  if (stuckT || stuckU) {
    const dt = stuckT ? 0 : -gt / (tt > 0 ? tt : speedA);
    const du = stuckU ? 0 : -gu / (uu > 0 ? uu : speedB);
    return [dt, du];
  }
  const det = tt * uu - tu * tu;
  if (tt > 0 && det > 1e-9 * speedA * speedB) return [(-gt * uu + gu * tu) / det, (-gu * tt + gt * tu) / det];
  return [-gt / (2 * speedA), -gu / (2 * speedB)];
}

/** Second derivative of a cubic. */
function bend(q: Float64Array, o: number, t: number): Point {
  const u = 6 * (1 - t);
  const v = 6 * t;
  return {
    x: u * (q[o + 4] - 2 * q[o + 2] + q[o]) + v * (q[o + 6] - 2 * q[o + 4] + q[o + 2]),
    y: u * (q[o + 5] - 2 * q[o + 3] + q[o + 1]) + v * (q[o + 7] - 2 * q[o + 5] + q[o + 3]),
  };
}
