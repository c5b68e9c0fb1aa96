import { distance } from '../geometry/points.js';
import type { Box, Contour, Point } from '../geometry/types.js';
import { SEAM_SNAP_MM } from '../repeat/cell.js';
import type { CutSheet, StopMark } from '../stencil/types.js';

/** On which straight line of the sheet a side of a cut runs: a seam, the end of the lap beside a lead seam, or the stop of the first cut. */
export type CutLine = 'right' | 'bottom' | 'left' | 'top' | 'stop';

/** A node this near to a line of the sheet is on it, mm: some steps of the grid on which cuts are made. */
const ON_LINE_MM = 5e-4;

/** The lines along which a sheet's second cuts end. Sheet mm. */
export interface CutLines {
  /** Right and bottom are seams; left and top lie past them by the lap. */
  readonly box: Box;
  readonly stops: readonly StopMark[];
}

/** Where a run of outline ends on a line: its node, and the node to which the line goes on from there. */
export interface RunEnd {
  readonly at: Point;
  readonly line: CutLine;
  readonly onward: Point;
  /** Place in `chains` of the stretch of lines that it ends on. */
  readonly chain: number;
}

/** A stretch of true outline: its curves in the contour's own sense, and the lines on which it starts and ends. */
export interface OutlineRun {
  /** As in `Contour`, open. */
  readonly coords: Float64Array;
  readonly from: RunEnd;
  readonly to: RunEnd;
}

/** A stretch of lines between two runs: its nodes in the contour's own sense, those in the middle of a straight left out. */
export interface LineChain {
  readonly nodes: readonly Point[];
  /** It lies on one seam and is no longer than the snap: the outline only touches that seam there. */
  readonly touch: boolean;
}

/** A contour of a second cut as runs of outline and the chains between them: run k is followed by chain k. */
export interface CutRuns {
  readonly runs: readonly OutlineRun[];
  readonly chains: readonly LineChain[];
}

/** The lines of a sheet. */
export function cutLines({ field, lapMm, stops }: Pick<CutSheet, 'field' | 'lapMm' | 'stops'>): CutLines {
  return { box: { ...field, x0: field.x0 - lapMm, y0: field.y0 - lapMm }, stops };
}

/**
 * Divides a closed contour of the second cut of opening `number` into true outline and lines. Without runs where it has no line
 * (an opening that lies in the held margin wholly) or nothing else.
 */
export function cutRuns(contour: Contour, number: number, lines: CutLines): CutRuns {
  const { coords } = contour;
  const n = (coords.length - 2) / 6;
  const stops = lines.stops.filter((stop) => stop.number === number);
  const kinds = Array.from({ length: n }, (_, k) => lineOf(coords, 6 * k, lines.box, stops));
  const start = kinds.findIndex((kind, k) => kind === null && kinds[(k + n - 1) % n] !== null);
  if (start < 0) return { runs: [], chains: [] };
  const node = (k: number): Point => ({ x: coords[6 * (k % n)], y: coords[6 * (k % n) + 1] });
  const kindAt = (k: number): CutLine | null => kinds[k % n];
  const stretches: { from: number; to: number; end: number }[] = [];
  for (let k = start; k < start + n; ) {
    const from = k;
    while (kindAt(k) === null) k++;
    const to = k;
    while (k < start + n && kindAt(k) !== null) k++;
    stretches.push({ from, to, end: k });
  }
  const chains = stretches.map(({ to, end }) => chainOf(to, end, node, kindAt));
  const runs = stretches.map(({ from, to }, r): OutlineRun => {
    const before = (r + stretches.length - 1) % stretches.length;
    return {
      coords: part(coords, from, to, n),
      from: { at: node(from), line: kindAt(from + n - 1) as CutLine, onward: node(from + n - 1), chain: before },
      to: { at: node(to), line: kindAt(to) as CutLine, onward: node(to + 1), chain: r },
    };
  });
  return { runs, chains };
}

function lineOf(q: Float64Array, o: number, box: Box, stops: readonly StopMark[]): CutLine | null {
  const seat = (axis: 0 | 1, value: number): boolean =>
    Math.abs(q[o + axis] - value) <= ON_LINE_MM &&
    Math.abs(q[o + 6 + axis] - value) <= ON_LINE_MM &&
    // An outline that was taken onto the seam may still bend a little.
    Math.abs(q[o + 2 + axis] - value) <= SEAM_SNAP_MM &&
    Math.abs(q[o + 4 + axis] - value) <= SEAM_SNAP_MM;
  if (seat(0, box.x1)) return 'right';
  if (seat(1, box.y1)) return 'bottom';
  if (seat(0, box.x0)) return 'left';
  if (seat(1, box.y0)) return 'top';
  const on = (k: number, stop: StopMark): boolean => onStretch({ x: q[k], y: q[k + 1] }, stop);
  return stops.some((stop) => [o, o + 2, o + 4, o + 6].every((k) => on(k, stop))) ? 'stop' : null;
}

function onStretch(p: Point, { from, to }: StopMark): boolean {
  const [dx, dy] = [to.x - from.x, to.y - from.y];
  const length = Math.hypot(dx, dy);
  if (length === 0) return false;
  const along = ((p.x - from.x) * dx + (p.y - from.y) * dy) / length;
  const off = Math.abs((p.x - from.x) * dy - (p.y - from.y) * dx) / length;
  return off <= ON_LINE_MM && along >= -ON_LINE_MM && along <= length + ON_LINE_MM;
}

function chainOf(
  from: number,
  to: number,
  node: (k: number) => Point,
  kindAt: (k: number) => CutLine | null,
): LineChain {
  const nodes = [node(from)];
  let length = 0;
  let one = true;
  for (let k = from; k < to; k++) {
    const [a, b] = [node(k), node(k + 1)];
    length += distance(b, a);
    if (kindAt(k) !== kindAt(from)) one = false;
    if (k + 1 === to || bends(nodes[nodes.length - 1], b, node(k + 2))) nodes.push(b);
  }
  const kind = kindAt(from);
  return { nodes, touch: one && length <= SEAM_SNAP_MM && (kind === 'right' || kind === 'bottom') };
}

/** Whether the way `a → b → c` bends in `b` by more than rounding. */
function bends(a: Point, b: Point, c: Point): boolean {
  const [ax, ay, cx, cy] = [b.x - a.x, b.y - a.y, c.x - b.x, c.y - b.y];
  return Math.abs(ax * cy - ay * cx) > ON_LINE_MM * Math.max(Math.hypot(ax, ay), Math.hypot(cx, cy));
}

/** Cubics `from` … `to` of a closed contour of `n`, both counted on past its end. */
function part(coords: Float64Array, from: number, to: number, n: number): Float64Array {
  const out = new Float64Array(2 + 6 * (to - from));
  for (let k = from; k < to; k++) {
    const o = 6 * (k % n);
    if (k === from) out.set([coords[o], coords[o + 1]]);
    out.set(coords.subarray(o + 2, o + 8), 2 + 6 * (k - from));
  }
  return out;
}
