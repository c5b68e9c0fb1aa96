import type { Contour, Matrix, Point, Stroke } from '../geometry/types.js';
import { mapped, POINT_MM, placeOn } from './cubic.js';

/** A part of a cubic in pen space. */
export interface PathPart {
  readonly q: Float64Array;
  readonly from: number;
  readonly to: number;
}

/** One run of the pen: parts end to end, or a dot where there are none. */
export interface PenRun {
  readonly parts: readonly PathPart[];
  readonly closed: boolean;
  readonly start: Point;
  /** Unit tangent at a dot. */
  readonly along: Point;
}

/** Steps of a cubic's table of lengths, and the nodes and weights of Gauss's rule with three places (exact to degree 5). */
const LENGTH_STEPS = 32;
const GAUSS = [
  [0.5 - Math.sqrt(15) / 10, 5 / 18],
  [0.5, 4 / 9],
  [0.5 + Math.sqrt(15) / 10, 5 / 18],
] as const;

/** The runs of a pen along a contour, in pen space: the whole of it, or its dashes. `scale`: mm for one pen unit, at most. */
export function penRuns(contour: Contour, stroke: Stroke, toPen: Matrix, scale: number): PenRun[] {
  const coords = mapped(contour.coords, toPen);
  if (coords.length < 2) return [];
  const point = POINT_MM / scale;
  const start = { x: coords[0], y: coords[1] };
  const parts: PathPart[] = [];
  for (let o = 0; o + 7 < coords.length; o += 6) {
    const q = coords.slice(o, o + 8);
    if (reachOf(q) > point) parts.push({ q, from: 0, to: 1 });
  }
  const n = coords.length;
  if (contour.closed && n >= 8 && Math.hypot(coords[n - 2] - start.x, coords[n - 1] - start.y) > point) {
    const [x, y] = [coords[n - 2], coords[n - 1]];
    const line = [x, y, (2 * x + start.x) / 3, (2 * y + start.y) / 3, (x + 2 * start.x) / 3, (y + 2 * start.y) / 3];
    parts.push({ q: Float64Array.from([...line, start.x, start.y]), from: 0, to: 1 });
  }
  if (parts.length === 0) return [{ parts, closed: contour.closed, start, along: { x: 1, y: 0 } }];
  const pattern = stroke.dash.length % 2 === 1 ? [...stroke.dash, ...stroke.dash] : stroke.dash;
  const period = pattern.reduce((sum, d) => sum + d, 0);
  if (!(period > 0) || pattern.some((d) => d < 0)) {
    return [{ parts, closed: contour.closed, start, along: tangent(parts[0].q, 0) }];
  }
  return dashes(parts, pattern, (((stroke.dashOffset % period) + period) % period) as number);
}

/** Unit tangent of a cubic, at its ends too where handles lie on them. */
export function tangent(q: Float64Array, t: number): Point {
  const { dx, dy } = placeOn(q, 0, t);
  const size = Math.hypot(dx, dy);
  const whole = reachOf(q);
  if (size > 1e-9 * whole) return { x: dx / size, y: dy / size };
  // The next handle that is elsewhere gives the direction (SVG 2, "Path directionality").
  const order = t < 0.5 ? [2, 4, 6] : [4, 2, 0];
  const at = t < 0.5 ? 0 : 6;
  for (const k of order) {
    const [x, y] = [q[k] - q[at], q[k + 1] - q[at + 1]];
    const length = Math.hypot(x, y);
    if (length > 1e-9 * whole) return t < 0.5 ? { x: x / length, y: y / length } : { x: -x / length, y: -y / length };
  }
  return { x: 1, y: 0 };
}

function reachOf(q: Float64Array): number {
  return Math.max(
    Math.hypot(q[2] - q[0], q[3] - q[1]),
    Math.hypot(q[4] - q[0], q[5] - q[1]),
    Math.hypot(q[6] - q[0], q[7] - q[1]),
  );
}

function dashes(parts: readonly PathPart[], pattern: readonly number[], phase: number): PenRun[] {
  const tables = parts.map(({ q }) => lengthTable(q));
  const starts = [0];
  for (const table of tables) starts.push(starts[starts.length - 1] + table[LENGTH_STEPS]);
  const total = starts[parts.length];
  const runs: PenRun[] = [];
  let index = 0;
  let rest = phase;
  while (rest >= pattern[index]) {
    rest -= pattern[index];
    index = (index + 1) % pattern.length;
  }
  let left = pattern[index] - rest;
  for (let at = 0; at < total; ) {
    const end = Math.min(total, at + left);
    if (index % 2 === 0) runs.push(runBetween(parts, tables, starts, at, end));
    at = end;
    index = (index + 1) % pattern.length;
    left = pattern[index];
  }
  return runs;
}

function runBetween(
  parts: readonly PathPart[],
  tables: readonly Float64Array[],
  starts: readonly number[],
  from: number,
  to: number,
): PenRun {
  const found: PathPart[] = [];
  let first = parts.length - 1;
  for (let k = parts.length - 1; k >= 0; k--) if (starts[k + 1] > from) first = k;
  const at = timeAt(parts[first].q, tables[first], from - starts[first]);
  for (let k = first; k < parts.length && starts[k] < to; k++) {
    const t0 = k === first ? at : 0;
    const t1 = to >= starts[k + 1] ? 1 : timeAt(parts[k].q, tables[k], to - starts[k]);
    if (t1 > t0) found.push({ q: parts[k].q, from: t0, to: t1 });
  }
  const { x, y } = placeOn(parts[first].q, 0, at);
  return { parts: found, closed: false, start: { x, y }, along: tangent(parts[first].q, at) };
}

/** Lengths of a cubic up to each of its steps. */
function lengthTable(q: Float64Array): Float64Array {
  const table = new Float64Array(LENGTH_STEPS + 1);
  for (let k = 0; k < LENGTH_STEPS; k++) table[k + 1] = table[k] + arcLength(q, k / LENGTH_STEPS, 1 / LENGTH_STEPS);
  return table;
}

function arcLength(q: Float64Array, t: number, h: number): number {
  let sum = 0;
  for (const [node, weight] of GAUSS) {
    const { dx, dy } = placeOn(q, 0, t + node * h);
    sum += weight * Math.hypot(dx, dy);
  }
  return sum * h;
}

function timeAt(q: Float64Array, table: Float64Array, length: number): number {
  if (length <= 0) return 0;
  if (length >= table[LENGTH_STEPS]) return 1;
  let k = 0;
  while (table[k + 1] < length) k++;
  let [low, high] = [0, 1 / LENGTH_STEPS];
  for (let n = 0; n < 40; n++) {
    const middle = (low + high) / 2;
    if (table[k] + arcLength(q, k / LENGTH_STEPS, middle) < length) low = middle;
    else high = middle;
  }
  return k / LENGTH_STEPS + (low + high) / 2;
}
