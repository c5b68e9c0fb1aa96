import type Flatbush from 'flatbush';
import { boxOf } from '../geometry/boxes.js';
import { boxIndex } from '../geometry/cluster.js';
import { FLATTEN_MM, flattenCubic } from '../geometry/flatten.js';
import type { Box, Contour, Point } from '../geometry/types.js';

/** The tangent turns by at least this much at a corner, radians: 25°. */
const CORNER_TURN = (25 * Math.PI) / 180;
/** What a ray meets nearer than this is the bank that it starts from, mm. */
const START_MM = 1e-3;
/** Ends of the stretches in which a ray looks for what it meets, mm; it goes on doubling. */
const FIRST_LOOK_MM = 2;

/** One outline of an opening, flattened to 5 µm: a bank on which ties land. Its last point is its first again. */
export interface Bank {
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Length along the bank up to each point, mm. */
  readonly s: Float64Array;
  readonly lengthMm: number;
  /** Places of its corners, rising, mm along the bank. */
  readonly corners: readonly number[];
  /** True for the rim of paper within the opening. */
  readonly rim: boolean;
}

/** The banks of one opening, its sides found by place. */
export interface Banks {
  readonly banks: readonly Bank[];
  readonly sides: Flatbush | null;
  /** Bank of every side, and the first of its two points. */
  readonly bankOf: Int32Array;
  readonly pointOf: Int32Array;
}

/** Where a ray meets a bank. */
export interface Hit {
  readonly bank: number;
  /** Length along the bank, mm. */
  readonly s: number;
  readonly distanceMm: number;
}

/** Flattens the outlines of one opening and indexes their sides. Outlines of fewer than three different points give an empty bank. */
export function layBanks(contours: readonly Contour[]): Banks {
  const banks = contours.map(bankFrom);
  const total = banks.reduce((sum, b) => sum + b.x.length - 1, 0);
  const bankOf = new Int32Array(total);
  const pointOf = new Int32Array(total);
  if (total === 0) return { banks, sides: null, bankOf, pointOf };
  const boxes: Box[] = [];
  banks.forEach(({ x, y }, k) => {
    for (let i = 0; i + 1 < x.length; i++) {
      bankOf[boxes.length] = k;
      pointOf[boxes.length] = i;
      boxes.push(
        boxOf([
          { x: x[i], y: y[i] },
          { x: x[i + 1], y: y[i + 1] },
        ]),
      );
    }
  });
  return { banks, sides: boxIndex(boxes), bankOf, pointOf };
}

/** The place at a length along a bank (any number; banks close). */
export function placeOn(bank: Bank, s: number): Point {
  const at = wrap(s, bank.lengthMm);
  const i = sideAt(bank, at);
  const share = (at - bank.s[i]) / (bank.s[i + 1] - bank.s[i] || 1);
  return { x: bank.x[i] + share * (bank.x[i + 1] - bank.x[i]), y: bank.y[i] + share * (bank.y[i + 1] - bank.y[i]) };
}

/**
 * The unit normal of a bank into the opening, of the chord from `halfMm` before the place to `halfMm` behind it: what a tie of that width
 * lands on, corners included. At most a sixth of the bank to either side.
 */
export function normalOn(bank: Bank, s: number, halfMm: number): Point {
  const half = Math.min(halfMm, bank.lengthMm / 6);
  const a = placeOn(bank, s - half);
  const b = placeOn(bank, s + half);
  const length = Math.hypot(b.x - a.x, b.y - a.y) || 1;
  return { x: -(b.y - a.y) / length, y: (b.x - a.x) / length };
}

/** How far along a bank, either way, its nearest corner is, mm; infinite for none. */
export function cornerDistance(bank: Bank, s: number): number {
  const { corners, lengthMm } = bank;
  if (corners.length === 0) return Infinity;
  const at = wrap(s, lengthMm);
  const k = lastAtMost(corners, at);
  const before = corners[k < 0 ? corners.length - 1 : k];
  const after = corners[(k + 1) % corners.length];
  return Math.min(ringDistance(at, before, lengthMm), ringDistance(at, after, lengthMm));
}

/** By how much a bank turns (positive: the opening bulges out) over `halfMm` to either side, radians. At most once around. */
export function turnOver(bank: Bank, s: number, halfMm: number): number {
  const half = Math.min(halfMm, bank.lengthMm / 2);
  const step = half / 4;
  let turn = 0;
  let last: Point | null = null;
  for (let k = -4; k < 4; k++) {
    const a = placeOn(bank, s + k * step);
    const b = placeOn(bank, s + (k + 1) * step);
    const d = { x: b.x - a.x, y: b.y - a.y };
    if (last) turn += Math.atan2(last.x * d.y - last.y * d.x, last.x * d.x + last.y * d.y);
    last = d;
  }
  return turn;
}

/** The way along a closed line of a length between two places on it, the shorter way around. */
export function ringDistance(a: number, b: number, length: number): number {
  const d = Math.abs(a - b) % length;
  return Math.min(d, length - d);
}

/** The first bank that a ray meets within `maxMm`; null for none. `way` has length 1. */
export function castRay(banks: Banks, from: Point, way: Point, maxMm: number): Hit | null {
  if (!banks.sides) return null;
  let best: Hit | null = null;
  for (let low = 0, high = FIRST_LOOK_MM; low < maxMm; low = high, high *= 2) {
    const end = Math.min(high, maxMm);
    const [ax, ay] = [from.x + low * way.x, from.y + low * way.y];
    const [bx, by] = [from.x + end * way.x, from.y + end * way.y];
    for (const side of banks.sides.search(Math.min(ax, bx), Math.min(ay, by), Math.max(ax, bx), Math.max(ay, by))) {
      const hit = meet(banks, side, from, way);
      if (hit && hit.distanceMm <= maxMm && (!best || hit.distanceMm < best.distanceMm)) best = hit;
    }
    if (best && best.distanceMm <= end) return best;
  }
  return best;
}

function meet(banks: Banks, side: number, from: Point, way: Point): Hit | null {
  const k = banks.bankOf[side];
  const i = banks.pointOf[side];
  const { x, y, s } = banks.banks[k];
  const va = (x[i] - from.x) * way.y - (y[i] - from.y) * way.x;
  const vb = (x[i + 1] - from.x) * way.y - (y[i + 1] - from.y) * way.x;
  // Half-open, so that a corner is met once.
  if (va <= 0 === vb <= 0) return null;
  const share = va / (va - vb);
  const px = x[i] + share * (x[i + 1] - x[i]);
  const py = y[i] + share * (y[i + 1] - y[i]);
  const distanceMm = (px - from.x) * way.x + (py - from.y) * way.y;
  return distanceMm < START_MM ? null : { bank: k, s: s[i] + share * (s[i + 1] - s[i]), distanceMm };
}

function bankFrom({ coords }: Contour): Bank {
  const xs = [coords[0]];
  const ys = [coords[1]];
  const s = [0];
  const push = (x: number, y: number): void => {
    const d = Math.hypot(x - xs[xs.length - 1], y - ys[ys.length - 1]);
    if (!(d > 1e-9)) return;
    xs.push(x);
    ys.push(y);
    s.push(s[s.length - 1] + d);
  };
  for (let o = 0; o + 7 < coords.length; o += 6) flattenCubic(coords, o, FLATTEN_MM, push);
  push(coords[0], coords[1]);
  let twice = 0;
  for (let i = 0; i + 1 < xs.length; i++) twice += xs[i] * ys[i + 1] - xs[i + 1] * ys[i];
  return {
    x: Float64Array.from(xs),
    y: Float64Array.from(ys),
    s: Float64Array.from(s),
    lengthMm: s[s.length - 1],
    corners: cornersOf(xs, ys, s),
    rim: twice < 0,
  };
}

function cornersOf(xs: readonly number[], ys: readonly number[], s: readonly number[]): number[] {
  const found: number[] = [];
  const n = xs.length - 1;
  for (let i = 0; i < n; i++) {
    const h = i === 0 ? n - 1 : i - 1;
    const [ax, ay] = [xs[i] - xs[h], ys[i] - ys[h]];
    const [bx, by] = [xs[i + 1] - xs[i], ys[i + 1] - ys[i]];
    if (Math.abs(Math.atan2(ax * by - ay * bx, ax * bx + ay * by)) >= CORNER_TURN) found.push(s[i]);
  }
  return found;
}

function sideAt({ s }: Bank, at: number): number {
  return Math.min(s.length - 2, Math.max(0, lastAtMost(s, at)));
}

/** Index of the last of rising values that is at most `at`; -1 for none. */
function lastAtMost(values: ArrayLike<number>, at: number): number {
  let low = -1;
  let high = values.length - 1;
  while (low < high) {
    const mid = (low + high + 1) >> 1;
    if (values[mid] <= at) low = mid;
    else high = mid - 1;
  }
  return low;
}

function wrap(s: number, length: number): number {
  return length > 0 ? ((s % length) + length) % length : 0;
}
