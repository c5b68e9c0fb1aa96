import { type Curve, evaluateCurve, parameterAt } from '../geometry/curve.js';
import { FLATTEN_MM } from '../geometry/flatten.js';
import type { Grid, GridPoint } from '../geometry/grid.js';
import type { CurveMarks } from '../geometry/marks.js';
import { type TracedSide, traceSide } from '../geometry/retrace.js';
import type { LineEnd } from '../geometry/sides.js';
import type { Side } from '../geometry/types.js';
import { SEAM_SNAP_MM } from './cell.js';
import type { SeamEnd } from './types.js';

/** A seam end with the shape whose curve makes it (-1 for none). */
export interface TracedEnd extends SeamEnd {
  readonly owner: number;
}

/** Places within this of the unit's corner, mm, are the corner. */
const CORNER_MM = SEAM_SNAP_MM;
/** A place this near to the seam, mm, is on it: rounding of coordinates of some metres. */
const ON_SEAM_MM = 1e-9;
/** A cut through a chord of a curve lies this near to the curve, mm: the tolerance of flattening, and the rounding to the grid. */
const CHORD_MM = FLATTEN_MM + 1e-3;
/** A crossing is refined until its bracket is shorter than this share of a curve piece. */
const PARAMETER_FLOOR = 1e-13;

/**
 * The end of a stretch on a side of the unit, traced back to the source curve: where that curve really goes through the seam, with what
 * tangent, and whether it runs on past it.
 */
export function traceEnd(
  end: LineEnd,
  kind: 'begin' | 'end',
  side: Side,
  { book, grid }: { book: CurveMarks; grid: Grid },
): TracedEnd {
  const frame = seamFrame(side, grid);
  const polygonAt = end.at / (frame.axis === 'x' ? grid.sy : grid.sx);
  const corner = polygonAt < CORNER_MM || polygonAt > frame.lengthMm - CORNER_MM;
  const traced = traceSide(end.inner, end.corner, book, grid) ?? traceSnapped(end, book, grid);
  if (!traced) {
    const tangent = unitVector((end.corner.x - end.inner.x) / grid.sx, (end.corner.y - end.inner.y) / grid.sy);
    return { atMm: polygonAt, kind, tangent, runsOn: false, corner, owner: -1 };
  }
  const { at, tangent } = crossing(goOn(traced, frame, book, end.corner) ?? traced, frame);
  const runsOn = runsPast(traced, frame, book, end.corner);
  // At a corner of the unit the curve's own place counts only where it is that corner's: the snap may have moved the polygon's end there.
  const own = at !== null && (!corner || Math.abs(at - polygonAt) <= 2 * SEAM_SNAP_MM) ? at : polygonAt;
  const across = Math.abs(frame.axis === 'x' ? tangent.x : tangent.y);
  const moved = at === null || Math.abs(at - polygonAt) * across > CHORD_MM;
  return { atMm: own, kind, tangent, runsOn, corner, owner: traced.curve.owner, ...(moved ? { moved } : {}) };
}

interface SeamFrame {
  /** The coordinate that is constant along the seam. */
  readonly axis: 'x' | 'y';
  readonly valueMm: number;
  /** 1 where growing coordinates lead out of the unit, else -1. */
  readonly out: 1 | -1;
  readonly lengthMm: number;
}

function seamFrame(side: Side, grid: Grid): SeamFrame {
  const width = grid.width / grid.sx;
  const height = grid.height / grid.sy;
  if (side === 'left') return { axis: 'x', valueMm: 0, out: -1, lengthMm: height };
  if (side === 'right') return { axis: 'x', valueMm: width, out: 1, lengthMm: height };
  if (side === 'top') return { axis: 'y', valueMm: 0, out: -1, lengthMm: width };
  return { axis: 'y', valueMm: height, out: 1, lengthMm: width };
}

/** Finds where the curve of a side that leads from inside the unit to the seam crosses it; `at` null where it never does. */
function crossing(side: TracedSide, frame: SeamFrame): { at: number | null; tangent: { x: number; y: number } } {
  const { curve } = side;
  const forward = side.to > side.from ? 1 : -1;
  const reach = (k: number): number => {
    const p = evaluateCurve(curve, wrapped(curve, parameterAround(curve, k)));
    return frame.out * ((frame.axis === 'x' ? p.x + side.dx : p.y + side.dy) - frame.valueMm);
  };
  // Bracket the crossing between a place inside and one beyond, at most one flattened step further on.
  let inside = side.from;
  let beyond = side.to;
  if (reach(inside) > 0) inside = forward > 0 ? Math.ceil(inside) - 1 : Math.floor(inside) + 1;
  // Corners within the snap lie on the seam although their curve has not got there yet: go on until it has, or turns back.
  const first = { inside, beyond };
  for (let step = 0; reach(beyond) < -ON_SEAM_MM && step < curve.s.length; step++) {
    const next = forward > 0 ? Math.floor(beyond) + 1 : Math.ceil(beyond) - 1;
    if (!curve.closed && (next < 0 || next >= curve.s.length)) break;
    if (reach(next) < -SEAM_SNAP_MM) break;
    inside = beyond;
    beyond = next;
  }
  const hit = (curve.closed || inBounds(curve, inside)) && reach(inside) <= 0 && reach(beyond) >= -ON_SEAM_MM;
  if (!hit) ({ inside, beyond } = first);
  let s0 = parameterAround(curve, inside);
  let s1 = parameterAround(curve, beyond);
  const sInside = s0;
  if (hit) {
    while (Math.abs(s1 - s0) > PARAMETER_FLOOR * (1 + Math.abs(s1))) {
      const m = (s0 + s1) / 2;
      if (m === s0 || m === s1) break;
      const p = evaluateCurve(curve, wrapped(curve, m));
      const r = frame.out * ((frame.axis === 'x' ? p.x + side.dx : p.y + side.dy) - frame.valueMm);
      if (r <= 0) s0 = m;
      else s1 = m;
    }
  } else {
    s1 = parameterAround(curve, side.to);
  }
  // At a node the tangent is that of the piece inside the unit.
  const base = wrapped(curve, s1) - s1;
  const p = evaluateCurve(curve, nearNode(s1 + base), sInside + base);
  const t = unitVector(p.dx * forward, p.dy * forward);
  const outward = frame.out * (frame.axis === 'x' ? t.x : t.y);
  const tangent = outward >= 0 ? t : frame.axis === 'x' ? unitVector(0, t.y || 1) : unitVector(t.x || 1, 0);
  const place = frame.axis === 'x' ? p.y + side.dy : p.x + side.dx;
  return { at: hit ? place : null, tangent };
}

/**
 * Where a curve ends just short of the seam (an offset line does at its cubic's end), the side on the curve that goes on from there and
 * crosses it; null where the curve itself gets there, or none does.
 */
function goOn(side: TracedSide, frame: SeamFrame, book: CurveMarks, corner: GridPoint): TracedSide | null {
  const reach = ({ curve, dx, dy }: TracedSide, k: number): number => {
    const p = evaluateCurve(curve, parameterAround(curve, k));
    return frame.out * ((frame.axis === 'x' ? p.x + dx : p.y + dy) - frame.valueMm);
  };
  if (side.curve.closed || reach(side, side.to) >= 0) return null;
  for (const { curve, dx, dy, k } of book.refs(corner.z)) {
    if (curve === side.curve || curve.closed) continue;
    for (const to of [k + 1, k - 1]) {
      const next = { curve, dx, dy, from: k, to };
      if (inBounds(curve, to) && reach(next, k) <= 0 && reach(next, to) >= 0) return next;
    }
  }
  return null;
}

/**
 * The curve of a side whose corner was moved onto the seam: it lies off the chord then, and where two curves meet it may be marked with the
 * other one only. Null where no neighbour of the inner corner on its curve lies within the snap.
 */
function traceSnapped({ inner, corner }: LineEnd, book: CurveMarks, grid: Grid): TracedSide | null {
  for (const { curve, dx, dy, k } of book.refs(inner.z)) {
    for (const to of [Math.floor(k) + 1, Math.ceil(k) - 1]) {
      if (!curve.closed && !inBounds(curve, to)) continue;
      const p = evaluateCurve(curve, wrapped(curve, parameterAround(curve, to)));
      const away = Math.hypot(p.x + dx - corner.x / grid.sx, p.y + dy - corner.y / grid.sy);
      if (away <= SEAM_SNAP_MM) return { curve, dx, dy, from: k, to };
    }
  }
  return null;
}

/** Parameters a rounding away from a node are the node. */
function nearNode(s: number): number {
  const whole = Math.round(s);
  return Math.abs(s - whole) < 1e-9 ? whole : s;
}

function inBounds(curve: Curve, k: number): boolean {
  return k >= 0 && k <= curve.s.length - 1;
}

/** Parameter at corner `k`, going on past the ends of a closed curve without a jump. */
function parameterAround(curve: Curve, k: number): number {
  const n = curve.s.length;
  if (!curve.closed) return parameterAt(curve, Math.min(n - 1, Math.max(0, k)));
  return parameterAt(curve, k) + Math.floor(k / n) * (curve.sEnd - curve.s[0]);
}

function wrapped(curve: Curve, s: number): number {
  if (!curve.closed) return s;
  const length = curve.sEnd - curve.s[0];
  const turns = Math.floor((s - curve.s[0]) / length);
  return s - turns * length;
}

/** Follows the outline on from the seam until it has left the snap's band; true where it leaves to the outside. */
function runsPast(side: TracedSide, frame: SeamFrame, book: CurveMarks, corner: GridPoint): boolean {
  const own = followOut(side.curve, side.dx, side.dy, side.to, side.to > side.from ? 1 : -1, frame);
  if (own !== null) return own;
  // The curve ended within the band (an offset line does at its cubic's end): go on along the stroke's whole outline.
  for (const r of book.refs(corner.z)) {
    if (r.curve === side.curve) continue;
    for (const way of [1, -1] as const) {
      const past = followOut(r.curve, r.dx, r.dy, r.k, way, frame);
      if (past) return true;
    }
  }
  return false;
}

function followOut(curve: Curve, dx: number, dy: number, from: number, way: 1 | -1, frame: SeamFrame): boolean | null {
  const n = curve.s.length;
  let k = way > 0 ? Math.floor(from) + 1 : Math.ceil(from) - 1;
  for (let step = 0; step < n; step++, k += way) {
    if (!curve.closed && (k < 0 || k >= n)) return null;
    const p = evaluateCurve(curve, parameterAt(curve, k));
    const reach = frame.out * ((frame.axis === 'x' ? p.x + dx : p.y + dy) - frame.valueMm);
    if (reach > SEAM_SNAP_MM) return true;
    if (reach < -SEAM_SNAP_MM) return false;
  }
  return false;
}

function unitVector(x: number, y: number): { x: number; y: number } {
  const length = Math.hypot(x, y);
  return length > 0 ? { x: x / length, y: y / length } : { x: 1, y: 0 };
}
