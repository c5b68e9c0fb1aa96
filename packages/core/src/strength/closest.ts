import { evaluateCubic } from '../geometry/curve.js';
import type { Contour, Point } from '../geometry/types.js';
import type { Span } from './types.js';

/** A place on a closed contour: number of the cubic and the parameter on it, in one number. */
export interface OutlinePlace {
  readonly contour: Contour;
  readonly u: number;
}

/** A span with the places of its ends. */
export interface ClosestSpan extends Span {
  readonly fromU: number;
  readonly toU: number;
}

/** Rounds of looking from one bank to the other; each is followed by steps on both banks at once, so few are needed. */
const ROUNDS = 40;
/** The search stops where a round shortens the span by less, mm. */
const SETTLED_MM = 1e-9;
/** Places looked at on each cubic of a window before the best of them is refined. */
const LOOKS = 8;
/** Halvings of the step around the best look: from a whole cubic to a hundredth of a micrometre. */
const HALVINGS = 40;
/** Steps on both banks at once in one round. */
const STEPS = 6;

/**
 * The shortest way between two banks near two given places: a local minimum of the distance between the curves themselves, corners included.
 * Looks at most `windowMm` along each bank from where it stands, again and again, until it gets no shorter.
 */
export function closestSpan(a: OutlinePlace, b: OutlinePlace, { windowMm }: { windowMm: number }): ClosestSpan {
  let [u, v] = [a.u, b.u];
  let p = placeAt(a.contour, u);
  let q = placeAt(b.contour, v);
  let length = Math.hypot(q.x - p.x, q.y - p.y);
  for (let round = 0; round < ROUNDS; round++) {
    u = nearestNear(a.contour, u, q, windowMm);
    p = placeAt(a.contour, u);
    v = nearestNear(b.contour, v, p, windowMm);
    [u, v] = stepTogether(a.contour.coords, u, b.contour.coords, v);
    p = placeAt(a.contour, u);
    q = placeAt(b.contour, v);
    const now = Math.hypot(q.x - p.x, q.y - p.y);
    if (!(length - now > SETTLED_MM)) break;
    length = now;
  }
  return { from: p, to: q, lengthMm: Math.hypot(q.x - p.x, q.y - p.y), fromU: u, toU: v };
}

/** The place `u` of a closed contour. */
export function placeAt({ coords }: Contour, u: number): Point {
  const { x, y } = evaluate(coords, u);
  return { x, y };
}

/**
 * The place nearest to `at` on the stretch of a contour that reaches `windowMm` to both sides of `u`.
 */
export function nearestNear({ coords }: Contour, u: number, at: Point, windowMm: number): number {
  const pieces = (coords.length - 2) / 6;
  const best: Best = { u, d: away(coords, u, at) };
  for (const direction of [1, -1]) {
    let left = windowMm;
    let from = u;
    // At most once around.
    for (let n = 0; n <= pieces && left > 0; n++) {
      const to = direction > 0 ? Math.floor(from) + 1 : Math.ceil(from) - 1;
      const length = chordLength(coords, from, to);
      const share = length > left ? left / length : 1;
      lookAlong(coords, from, from + (to - from) * share, at, best);
      left -= length;
      from = to;
    }
  }
  return inRange(best.u, pieces);
}

type Best = { u: number; d: number };

/** Puts the nearest place between `u0` and `u1`, which lie on one cubic, into `best` if it is nearer. */
function lookAlong(coords: Float64Array, u0: number, u1: number, at: Point, best: Best): void {
  const pieces = (coords.length - 2) / 6;
  const piece = Math.floor(Math.min(u0, u1) + 1e-12);
  const o = 6 * inRange(piece, pieces);
  const distance = (u: number): number => {
    const p = evaluateCubic(coords, o, u - piece);
    return (p.x - at.x) ** 2 + (p.y - at.y) ** 2;
  };
  let nearU = u0;
  let nearD = Infinity;
  for (let k = 0; k <= LOOKS; k++) {
    const u = u0 + ((u1 - u0) * k) / LOOKS;
    const d = distance(u);
    if (d < nearD) {
      nearD = d;
      nearU = u;
    }
  }
  // A golden search would do as well; halving steps around the best look needs no bracket at the stretch's ends.
  const low = Math.min(u0, u1);
  const high = Math.max(u0, u1);
  let step = (u1 - u0) / LOOKS;
  for (let k = 0; k < HALVINGS && Math.abs(step) > 1e-12; k++) {
    const before = nearD;
    for (const raw of [nearU + step, nearU - step]) {
      const u = Math.min(high, Math.max(low, raw));
      const d = distance(u);
      if (d < nearD) {
        nearD = d;
        nearU = u;
        break;
      }
    }
    if (nearD === before) step /= 2;
  }
  if (nearD < best.d) {
    best.u = nearU;
    best.d = nearD;
  }
}

/**
 * Newton's steps for the distance as a function of both places, while they shorten the way and stay on their cubics: looking from bank to
 * bank alone creeps where the banks are close and bend little.
 */
function stepTogether(a: Float64Array, u0: number, b: Float64Array, v0: number): [number, number] {
  let [u, v] = [u0, v0];
  const i = pieceOf(a, u);
  const j = pieceOf(b, v);
  for (let k = 0; k < STEPS; k++) {
    const p = evaluateCubic(a, 6 * i, u - i);
    const q = evaluateCubic(b, 6 * j, v - j);
    const [px, py] = bend(a, 6 * i, u - i);
    const [qx, qy] = bend(b, 6 * j, v - j);
    const dx = p.x - q.x;
    const dy = p.y - q.y;
    const gu = dx * p.dx + dy * p.dy;
    const gv = -(dx * q.dx + dy * q.dy);
    const uu = p.dx * p.dx + p.dy * p.dy + dx * px + dy * py;
    const vv = q.dx * q.dx + q.dy * q.dy - dx * qx - dy * qy;
    const uv = -(p.dx * q.dx + p.dy * q.dy);
    const det = uu * vv - uv * uv;
    // Even banks and corners have no single best pair of places; there the looks from bank to bank have done it.
    if (!(uu > 0 && det > 1e-9 * uu * vv)) break;
    const nextU = u - (vv * gu - uv * gv) / det;
    const nextV = v - (uu * gv - uv * gu) / det;
    if (nextU < i || nextU > i + 1 || nextV < j || nextV > j + 1) break;
    const s = evaluateCubic(a, 6 * i, nextU - i);
    const t = evaluateCubic(b, 6 * j, nextV - j);
    if (!((s.x - t.x) ** 2 + (s.y - t.y) ** 2 < dx * dx + dy * dy)) break;
    u = nextU;
    v = nextV;
  }
  return [u, v];
}

/** Second derivative of the cubic at `o`. */
function bend(q: Float64Array, o: number, t: number): [number, number] {
  const e = 6 * (1 - t);
  const f = 6 * t;
  return [
    e * (q[o + 4] - 2 * q[o + 2] + q[o]) + f * (q[o + 6] - 2 * q[o + 4] + q[o + 2]),
    e * (q[o + 5] - 2 * q[o + 3] + q[o + 1]) + f * (q[o + 7] - 2 * q[o + 5] + q[o + 3]),
  ];
}

function pieceOf(coords: Float64Array, u: number): number {
  return Math.min((coords.length - 2) / 6 - 1, Math.max(0, Math.floor(u)));
}

function inRange(u: number, pieces: number): number {
  return ((u % pieces) + pieces) % pieces;
}

function evaluate(coords: Float64Array, u: number): Point {
  const inside = inRange(u, (coords.length - 2) / 6);
  const piece = pieceOf(coords, inside);
  return evaluateCubic(coords, 6 * piece, inside - piece);
}

function away(coords: Float64Array, u: number, at: Point): number {
  const p = evaluate(coords, u);
  return (p.x - at.x) ** 2 + (p.y - at.y) ** 2;
}

function chordLength(coords: Float64Array, u0: number, u1: number): number {
  const a = evaluate(coords, u0);
  const b = evaluate(coords, u1);
  const m = evaluate(coords, (u0 + u1) / 2);
  return Math.hypot(m.x - a.x, m.y - a.y) + Math.hypot(b.x - m.x, b.y - m.y);
}
