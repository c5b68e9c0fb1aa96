import type { Point } from '@okuri/core';
import { distance } from '@okuri/core/inside';
import type { OutlineWalk } from './outline-walk.js';
import { CORNER_REACH_MM } from './planned-edges.js';
import { type PrintedEdges, printedOffset } from './printed-edges.js';

/** How far from the line into the sheet an edge is looked at, mm: long enough to tell its direction, short enough to be straight to a knife. */
export const WINDOW_MM = 2;

/** Edges are looked at every so far within the window, mm: about a pixel at 300 dpi. */
const STEP_MM = 0.1;

/** Fewer places tell no edge. */
const LEAST_PLACES = 5;

/** A stretch of outline between two corners shorter than this prints as one blot, mm. */
const LEAST_STRETCH_MM = 0.5;

/** Places that run straight across the line count 1, slanting ones the square of their share; with fewer in all an outline hardly crosses it. */
const LEAST_ACROSS = 1;

/** What lies farther than so many times the usual from the straight trend is left out … */
const OUTLIER_FACTOR = 3;
/** … but never what is nearer than this, mm. */
const OUTLIER_MM = 0.1;

/** An outline that runs along the line more than across it, so that it leaves it less than this for its own length, has no place on it that can be told. */
const LEAST_SLANT = 0.15;

/** Rounds in which outliers go. */
const ROUNDS = 3;

/** Shift and turn can't be told apart where what they do is alike to this share of their squares. */
const ALIKE = 1e-3;

/** Where an edge comes to a line, against its planned place. */
export interface MeasuredEnd {
  /** Along the line, as it printed and with the spread taken off, mm. */
  readonly printedMm: number;
  readonly cutMm: number;
  /** Clockwise as seen. */
  readonly turnDeg: number;
}

export interface MeasureEndOptions {
  /** How far the print spread beyond the cut. */
  readonly spreadMm: number;
  readonly reachMm: number;
}

/**
 * Where the print of an outline comes to a line, measured from `line.at` along the unit vector `line.along`. The planned outline (`walk`) starts on the line. The cut is
 * taken for the planned outline shifted along the line and turned about its place there, by the offsets across the outline over a short window: corners at
 * the line itself (the end of a lap, the stop of a first cut) print rounded. Null where the print shows no edge, or the outline runs along the line.
 */
export function measureEnd(
  walk: OutlineWalk,
  line: { readonly at: Point; readonly along: Point },
  printed: PrintedEdges,
  { spreadMm, reachMm }: MeasureEndOptions,
): MeasuredEnd | null {
  const [start] = walk.points;
  const first = outward(placeOn(walk.points, 0).way, walk);
  const slant = first.x * line.along.x + first.y * line.along.y;
  if (Math.abs(slant) < LEAST_SLANT) return null;
  const motion = motionAlong(walk, line.along, printed, { spreadMm, reachMm });
  if (motion === null) return null;
  const planned = (start.x - line.at.x) * line.along.x + (start.y - line.at.y) * line.along.y;
  const cutMm = planned + motion.shiftMm;
  return { printedMm: cutMm + spreadMm / slant, cutMm, turnDeg: (motion.turn * 180) / Math.PI };
}

/** A place of the outline: how far the cut lies off it, and how far it would for a shift of 1 mm along the line and for a turn of 1 rad about the start. */
interface OffsetAt {
  readonly offset: number;
  readonly byShift: number;
  readonly byTurn: number;
}

interface Motion {
  readonly shiftMm: number;
  /** Clockwise as seen, rad. */
  readonly turn: number;
}

/** How the cut outline is moved against the planned one: by the window, or between near corners by its middle alone. */
function motionAlong(
  walk: OutlineWalk,
  along: Point,
  printed: PrintedEdges,
  options: MeasureEndOptions,
): Motion | null {
  const ahead = walk.toCorner ? walkLength(walk.points) : Infinity;
  const from = Math.max(0, CORNER_REACH_MM - walk.cornerBehindMm);
  const to = Math.min(from + WINDOW_MM, ahead - CORNER_REACH_MM);
  const offsets = (window: { from: number; to: number }): OffsetAt[] =>
    offsetsAlong(walk, along, printed, { ...window, ...options });
  if (to - from >= LEAST_PLACES * STEP_MM) return motionOf(offsets({ from, to }));
  // Between corners that print rounded only the middle third of the stretch tells, and no direction.
  const [start, whole] = [-walk.cornerBehindMm, ahead + walk.cornerBehindMm];
  if (!(whole >= LEAST_STRETCH_MM && whole < Infinity)) return null;
  const few = offsets({ from: Math.max(0, start + whole / 3), to: Math.max(0, start + (2 * whole) / 3) });
  return few.length === 0 ? null : { shiftMm: shiftOf(few), turn: 0 };
}

function offsetsAlong(
  walk: OutlineWalk,
  along: Point,
  printed: PrintedEdges,
  { from, to, spreadMm, reachMm }: MeasureEndOptions & { readonly from: number; readonly to: number },
): OffsetAt[] {
  const [start] = walk.points;
  const offsets: OffsetAt[] = [];
  for (let s = from; s <= to; s += STEP_MM) {
    const { at, way } = placeOn(walk.points, s);
    const n = outward(way, walk);
    const offset = printedOffset(printed, { at, outward: n }, reachMm) - spreadMm;
    const byShift = n.x * along.x + n.y * along.y;
    const byTurn = n.y * (at.x - start.x) - n.x * (at.y - start.y);
    if (!Number.isNaN(offset)) offsets.push({ offset, byShift, byTurn });
  }
  return offsets;
}

/** Shift and turn by least squares, without what lies far from them. */
function motionOf(all: readonly OffsetAt[]): Motion | null {
  let kept = all;
  let motion: Motion | null = null;
  for (let round = 0; round < ROUNDS; round++) {
    if (kept.length < LEAST_PLACES) return null;
    const fitted = fittedMotion(kept);
    if (fitted === null) return null;
    motion = fitted;
    const off = kept.map((one) => Math.abs(one.offset - fitted.shiftMm * one.byShift - fitted.turn * one.byTurn));
    const usual = off.toSorted((a, b) => a - b)[off.length >> 1];
    const limit = Math.max(OUTLIER_MM, OUTLIER_FACTOR * usual);
    if (off.every((one) => one <= limit)) break;
    kept = kept.filter((_, k) => off[k] <= limit);
  }
  return motion;
}

function fittedMotion(offsets: readonly OffsetAt[]): Motion | null {
  let [ss, st, tt, so, to] = [0, 0, 0, 0, 0];
  for (const { offset, byShift, byTurn } of offsets) {
    ss += byShift * byShift;
    st += byShift * byTurn;
    tt += byTurn * byTurn;
    so += byShift * offset;
    to += byTurn * offset;
  }
  if (ss < LEAST_ACROSS) return null;
  const det = ss * tt - st * st;
  if (!(det > ALIKE * ss * tt)) return { shiftMm: shiftOf(offsets), turn: 0 };
  return { shiftMm: (so * tt - to * st) / det, turn: (to * ss - so * st) / det };
}

function shiftOf(offsets: readonly OffsetAt[]): number {
  let [ss, so] = [0, 0];
  for (const { offset, byShift } of offsets) {
    ss += byShift * byShift;
    so += byShift * offset;
  }
  return ss === 0 ? 0 : so / ss;
}

function outward(way: Point, { onward }: OutlineWalk): Point {
  return onward ? { x: way.y, y: -way.x } : { x: -way.y, y: way.x };
}

function walkLength(points: readonly Point[]): number {
  return points.reduce((sum, p, k) => (k === 0 ? 0 : sum + distance(p, points[k - 1])), 0);
}

/** The place `s` along a walk, and the way on from there as a unit vector; after its end it goes on straight. */
function placeOn(points: readonly Point[], s: number): { at: Point; way: Point } {
  let left = s;
  for (let k = 1; ; k++) {
    const [p, q] = [points[k - 1], points[k]];
    const length = distance(q, p);
    if (left > length && k + 1 < points.length) {
      left -= length;
      continue;
    }
    const way = { x: (q.x - p.x) / length, y: (q.y - p.y) / length };
    return { at: { x: p.x + left * way.x, y: p.y + left * way.y }, way };
  }
}
