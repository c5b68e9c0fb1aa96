import type { GridPath, GridPoint } from '../geometry/grid.js';
import { distance } from '../geometry/points.js';

/** Spacing of the places that are looked at along an outline, mm. */
const SAMPLE_MM = 0.3;
/** Over this length before and after a place the outline's turn is taken, mm: rounder than a radius of 0.5 mm is no corner. */
const TURN_WINDOW_MM = 0.25;
/** Nearer to the end of an outline than this no turn is taken, mm. */
const LEAST_WINDOW_MM = 0.05;
/** From this turn on the knife stops and the paper is turned: a corner, degrees. */
const CORNER_DEG = 30;

/** A place on an outline beside a stop. */
export interface BankPlace {
  readonly x: number;
  readonly y: number;
  /** The corners between which it lies, in the ring's order; the same one twice where it is a corner. */
  readonly after: GridPoint;
  readonly before: GridPoint;
  /** Distance from the hold line, grid units. */
  readonly off: number;
  readonly corner: boolean;
}

/** The outline beside a stop, followed away from the hold line. */
export interface Bank {
  /** In order from the line; all within the limit. */
  readonly places: readonly BankPlace[];
  /** It came round to the other end of the stop without leaving the limit: the piece ends there in a tip. */
  readonly met: boolean;
}

export interface BankOptions {
  /** Grid units a mm. */
  readonly scale: number;
  /** How far from the line the outline is followed, grid units. */
  readonly limit: number;
  readonly off: (p: GridPoint) => number;
  /** Corners at which following ends: other stops, and the edges of what is cut at all. */
  readonly isWall: (p: GridPoint) => boolean;
}

interface RawPlace {
  x: number;
  y: number;
  after: GridPoint;
  before: GridPoint;
  off: number;
  node: boolean;
}

/**
 * Follows a ring from its corner `start` (1: onward, -1: backward) to its corner `goal` at most, as closely spaced places. Following ends where
 * the ring leaves the limit or meets a wall.
 */
export function followBank(
  ring: GridPath,
  start: number,
  goal: number,
  direction: 1 | -1,
  { scale, limit, off, isWall }: BankOptions,
): Bank {
  const n = ring.length;
  const spacing = SAMPLE_MM * scale;
  const extra = limit + TURN_WINDOW_MM * scale;
  const raw: RawPlace[] = [nodePlace(ring[start], off)];
  let met = false;
  for (let k = start; ; ) {
    const next = (k + direction + n) % n;
    const [p, q] = [ring[k], ring[next]];
    // Along the edge of what is cut at all runs no outline of the artwork.
    if (isWall(p) && isWall(q) && next !== goal) break;
    const [after, before] = direction === 1 ? [p, q] : [q, p];
    const length = distance(q, p);
    const parts = Math.max(1, Math.ceil(length / spacing));
    let left = false;
    for (let i = 1; i < parts && !left; i++) {
      const at = { x: p.x + ((q.x - p.x) * i) / parts, y: p.y + ((q.y - p.y) * i) / parts };
      raw.push({ ...at, after, before, off: off(at), node: false });
      left = off(at) > extra;
    }
    if (left) break;
    if (next === goal) {
      raw.push(nodePlace(q, off));
      met = raw.every((place) => place.off <= limit);
      break;
    }
    if (isWall(q)) break;
    raw.push(nodePlace(q, off));
    if (off(q) > extra) break;
    k = next;
  }
  const places: BankPlace[] = [];
  for (const [k, place] of raw.entries()) {
    if (place.off > limit) break;
    places.push({ ...place, corner: place.node && k > 0 && turnAt(raw, k, scale) >= CORNER_DEG });
  }
  return { places: sharpest(places, raw, scale), met };
}

function nodePlace(p: GridPoint, off: (p: GridPoint) => number): RawPlace {
  return { x: p.x, y: p.y, after: p, before: p, off: off(p), node: true };
}

/** The turn of the outline at one of its places, degrees, over a window before and after it; 0 too near to its ends. */
function turnAt(places: readonly RawPlace[], k: number, scale: number): number {
  const back = placeAway(places, k, -1, TURN_WINDOW_MM * scale);
  const on = placeAway(places, k, 1, TURN_WINDOW_MM * scale);
  if (Math.min(back.length, on.length) < LEAST_WINDOW_MM * scale) return 0;
  const { x, y } = places[k];
  const cross = (x - back.x) * (on.y - y) - (y - back.y) * (on.x - x);
  const dot = (x - back.x) * (on.x - x) + (y - back.y) * (on.y - y);
  return Math.abs((Math.atan2(cross, dot) * 180) / Math.PI);
}

/** The place a length away along the outline, or its end. */
function placeAway(places: readonly RawPlace[], from: number, direction: 1 | -1, length: number) {
  let left = length;
  for (let k = from; ; k += direction) {
    const p = places[k];
    const q = places[k + direction];
    if (q === undefined) return { x: p.x, y: p.y, length: length - left };
    const step = distance(q, p);
    if (step >= left && step > 0) {
      const t = left / step;
      return { x: p.x + t * (q.x - p.x), y: p.y + t * (q.y - p.y), length };
    }
    left -= step;
  }
}

/** Of corners within a window of one another only the sharpest stays one. */
function sharpest(places: readonly BankPlace[], raw: readonly RawPlace[], scale: number): BankPlace[] {
  const corners = places.flatMap((p, k) => (p.corner ? [{ k, turn: turnAt(raw, k, scale) }] : []));
  const keep = new Set<number>();
  for (const { k } of corners.toSorted((a, b) => b.turn - a.turn)) {
    const near = [...keep].some((o) => distance(places[o], places[k]) < 2 * TURN_WINDOW_MM * scale);
    if (!near) keep.add(k);
  }
  return places.map((p, k) => (p.corner && !keep.has(k) ? { ...p, corner: false } : p));
}
