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

/** Rounds of looking from one bank to the other; the length settles long before. */
const ROUNDS = 200;
/** The search stops where a round shortens the span by less, mm. */
const SETTLED_MM = 1e-9;
/** Places looked at in a window before the best of them is refined. */
const LOOKS = 12;

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

/** The place nearest to `at` on the stretch of a contour that reaches `windowMm` to both sides of `u`. */
function nearestNear({ coords }: Contour, u: number, at: Point, windowMm: number): number {
  const pieces = (coords.length - 2) / 6;
  let best = { u, d: away(coords, u, at) };
  for (const direction of [1, -1]) {
    let left = windowMm;
    let from = u;
    // At most once around.
    for (let n = 0; n <= pieces && left > 0; n++) {
      const to = direction > 0 ? Math.floor(from) + 1 : Math.ceil(from) - 1;
      const length = chordLength(coords, from, to);
      const share = length > left ? left / length : 1;
      const end = from + (to - from) * share;
      best = nearestOnPiece(coords, from, end, at, best);
      left -= length;
      from = to;
    }
  }
  return ((best.u % pieces) + pieces) % pieces;
}

type Best = { u: number; d: number };

/** The nearest place between `u0` and `u1`, which lie on one cubic, if it is nearer than `best`. */
function nearestOnPiece(coords: Float64Array, u0: number, u1: number, at: Point, best: Best): Best {
  let near: Best = { u: u0, d: Infinity };
  for (let k = 0; k <= LOOKS; k++) {
    const u = u0 + ((u1 - u0) * k) / LOOKS;
    const d = onPiece(coords, u0, u1, u, at).d;
    if (d < near.d) near = { u, d };
  }
  // Halving steps around the best look: safe with every curve; the last ones are far below a thousandth of a micrometre.
  let step = (u1 - u0) / LOOKS;
  for (let k = 0; k < 48 && Math.abs(step) > 1e-13; k++) {
    const low = Math.min(u0, u1);
    const high = Math.max(u0, u1);
    let moved = false;
    for (const u of [near.u + step, near.u - step]) {
      const inside = Math.min(high, Math.max(low, u));
      const d = onPiece(coords, u0, u1, inside, at).d;
      if (d < near.d) {
        near = { u: inside, d };
        moved = true;
        break;
      }
    }
    if (!moved) step /= 2;
  }
  return near.d < best.d ? near : best;
}

function onPiece(coords: Float64Array, u0: number, u1: number, u: number, at: Point): { d: number } {
  const pieces = (coords.length - 2) / 6;
  const piece = Math.floor(Math.min(u0, u1) + 1e-12);
  const p = evaluateCubic(coords, 6 * (((piece % pieces) + pieces) % pieces), u - piece);
  return { d: (p.x - at.x) ** 2 + (p.y - at.y) ** 2 };
}

function evaluate(coords: Float64Array, u: number): Point {
  const pieces = (coords.length - 2) / 6;
  const inside = ((u % pieces) + pieces) % pieces;
  const piece = Math.min(pieces - 1, Math.floor(inside));
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
