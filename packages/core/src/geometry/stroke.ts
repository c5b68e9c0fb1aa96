import { transformContour } from './contour.js';
import { type Curve, type CurvePoint, evaluateCubic, evaluateCurve } from './curve.js';
import { dashContour } from './dash.js';
import type { MarkedArea } from './fill.js';
import { FLATTEN_MM } from './flatten.js';
import type { Grid, GridPath } from './grid.js';
import { CurveMarks } from './marks.js';
import { invert } from './matrix.js';
import { combine } from './polygons.js';
import { pointDistance } from './segments.js';
import { closedCoords, settledContour } from './settle.js';
import { type Pen, StrokeOutline } from './stroke-outline.js';
import type { Contour, Point, Stroke } from './types.js';

/** Two directions closer than this (radians) go on smoothly: no join is drawn. */
const SMOOTH_ANGLE = 1e-4;
/** Deepest halving of one cubic: 4,096 steps. */
const MAX_DEPTH = 12;

/**
 * The area inked by drawing along contours with a pen. Caps, joins, miter limit and dashes as SVG 2 has them ("Stroke properties");
 * the pen may be slanted or uneven. Corners are marked with the offset line or arc that they lie on.
 *
 * The outline is put together from pieces (half-strips, joins, caps) that each turn the same way, so that their nonzero union is
 * right where the pen is wider than the curve is tight. A pen map that flattens the plane inks nothing.
 */
export function strokeArea(
  contours: readonly Contour[],
  stroke: Stroke,
  grid: Grid,
  { owner = 0, toleranceMm = FLATTEN_MM }: { owner?: number; toleranceMm?: number } = {},
): MarkedArea {
  const book = new CurveMarks();
  const back = invert(stroke.pen);
  if (!back || !(stroke.width > 0)) return { paths: [], book };
  const stretch = Math.max(Math.hypot(stroke.pen[0], stroke.pen[1]), Math.hypot(stroke.pen[2], stroke.pen[3]));
  const pen: Pen = { ...stroke, half: stroke.width / 2, tolerance: toleranceMm / stretch, grid, book, owner };
  const rings: GridPath[] = [];
  for (const contour of contours) {
    const whole = settledContour(contour.closed ? { closed: true, coords: closedCoords(contour.coords) } : contour);
    const inPen = transformContour(whole, back);
    const dashed = stroke.dash.length > 0 ? dashContour(inPen, stroke.dash, stroke.dashOffset) : [inPen];
    for (const piece of dashed) {
      const outline = new StrokeOutline(pen);
      strokeContour(piece, outline);
      rings.push(...outline.marked());
    }
  }
  // A mirroring pen turns all pieces at once, which nonzero does not mind.
  return { paths: rings.length > 0 ? combine('union', rings, [], { book }) : [], book };
}

/** One flattened piece of the centre line: a cubic in pen space and the parameters at which it is cut. */
interface Piece {
  readonly coords: Float64Array;
  readonly times: readonly number[];
  readonly start: Direction;
  readonly end: Direction;
}

interface Direction {
  readonly at: Point;
  /** Unit tangent. */
  readonly t: Point;
}

function strokeContour(contour: Contour, out: StrokeOutline): void {
  const { pen } = out;
  const pieces = piecesOf(contour, pen);
  if (pieces.length === 0) {
    if (contour.coords.length >= 2) dotAt({ x: contour.coords[0], y: contour.coords[1] }, out);
    return;
  }
  const first = pieces[0].start;
  const last = pieces[pieces.length - 1].end;
  const closed = contour.closed;
  // Left side forward, right side back: each as half-strips that turn the same way.
  side(pieces, 1, closed, out);
  if (closed) out.endRing();
  else cap(last, out);
  side(pieces, -1, closed, out);
  if (!closed) cap({ at: first.at, t: { x: -first.t.x, y: -first.t.y } }, out);
  out.endRing();
}

/** Runs along one side of the centre line (`sign` 1: forward; -1: the other side, backward), joins included. */
function side(pieces: readonly Piece[], sign: 1 | -1, closed: boolean, out: StrokeOutline): void {
  const n = pieces.length;
  const freeEnds = closed ? [] : [pieces[0].start.at, pieces[n - 1].end.at];
  for (let i = 0; i < n; i++) {
    const piece = pieces[sign === 1 ? i : n - 1 - i];
    halfStrips(piece, sign, freeEnds, out);
    const following = sign === 1 ? i + 1 : n - 2 - i;
    if (!closed && (following < 0 || following >= n)) continue;
    const next = pieces[(following + n) % n];
    const from = sign === 1 ? piece.end : turned(piece.start);
    const to = sign === 1 ? next.start : turned(next.end);
    joinPieces(from, to, out);
  }
}

function turned(d: Direction): Direction {
  return { at: d.at, t: { x: -d.t.x, y: -d.t.y } };
}

/**
 * Offset corners beside one cubic; where the offset line runs backwards, plain rectangles beside the chords. Near a free end of the line nothing else covers what the
 * pen's end sweeps there on its way back, so that is added.
 */
function halfStrips(piece: Piece, sign: 1 | -1, freeEnds: readonly Point[], out: StrokeOutline): void {
  const { pen } = out;
  const { coords, times } = piece;
  const distance = -sign * pen.half;
  const order = sign === 1 ? times : [...times].reverse();
  const probe: Curve = {
    kind: 'offset',
    coords,
    distance,
    pen: [1, 0, 0, 1, 0, 0],
    owner: pen.owner,
    s: [],
    closed: false,
    sEnd: 1,
  };
  let run: number[] = [];
  const flush = (): void => {
    if (run.length === 0) return;
    const s = sign === 1 ? run : [...run].reverse();
    out.curve({ ...probe, pen: pen.pen, s } as Curve, sign === -1);
    run = [];
  };
  for (let k = 0; k < order.length; k++) {
    if (k === 0) {
      run.push(order[0]);
      continue;
    }
    const a = evaluateCubic(coords, 0, order[k - 1]);
    const b = evaluateCubic(coords, 0, order[k]);
    const oa = evaluateCurve(probe, order[k - 1]);
    const ob = evaluateCurve(probe, order[k]);
    const forward = (ob.x - oa.x) * (b.x - a.x) + (ob.y - oa.y) * (b.y - a.y) > 0;
    if (!forward) {
      flush();
      const length = Math.hypot(b.x - a.x, b.y - a.y);
      if (length > 0) {
        const nx = ((b.y - a.y) / length) * pen.half;
        const ny = (-(b.x - a.x) / length) * pen.half;
        out.plain(a);
        out.plain({ x: a.x + nx, y: a.y + ny });
        out.plain({ x: b.x + nx, y: b.y + ny });
        out.plain(b);
      }
      if (freeEnds.some((end) => Math.hypot(a.x - end.x, a.y - end.y) < pen.half)) sweptBack(a, oa, b, ob, out);
    }
    run.push(order[k]);
  }
  flush();
}

/** By so much what is swept in one step laps over the next one, so that rounding leaves no crack between the two: some units of the grid, mm. */
const SWEPT_LAP_MM = 5e-4;

/** What the end of the pen passes over on its way back from `oa` (beside `a`) to `ob` (beside `b`): a triangle that turns like all other pieces. */
function sweptBack(a: Point, oa: Point, b: Point, ob: Point, out: StrokeOutline): void {
  const meet = crossing(a, oa, b, ob);
  const back = Math.hypot(oa.x - ob.x, oa.y - ob.y);
  if (meet === null || back < 2 * SWEPT_LAP_MM) return;
  const lap = { x: (SWEPT_LAP_MM * (oa.x - ob.x)) / back, y: (SWEPT_LAP_MM * (oa.y - ob.y)) / back };
  out.apart([meet, { x: ob.x - lap.x, y: ob.y - lap.y }, { x: oa.x + lap.x, y: oa.y + lap.y }]);
}

/** Where the straight ways from `a` to `oa` and from `b` to `ob` cross; null where they don't. */
function crossing(a: Point, oa: Point, b: Point, ob: Point): Point | null {
  const cross = (ux: number, uy: number, vx: number, vy: number): number => ux * vy - uy * vx;
  const [ux, uy, vx, vy] = [oa.x - a.x, oa.y - a.y, ob.x - b.x, ob.y - b.y];
  const turn = cross(ux, uy, vx, vy);
  const along = cross(b.x - a.x, b.y - a.y, vx, vy) / turn;
  const beside = cross(b.x - a.x, b.y - a.y, ux, uy) / turn;
  return along > 0 && along < 1 && beside > 0 && beside < 1 ? { x: a.x + along * ux, y: a.y + along * uy } : null;
}

/** Fills the outer side of a corner between two directions; on the inner side the outline goes through the corner itself. */
function joinPieces(from: Direction, to: Direction, out: StrokeOutline): void {
  const { pen } = out;
  const cross = from.t.x * to.t.y - from.t.y * to.t.x;
  const dot = from.t.x * to.t.x + from.t.y * to.t.y;
  const turn = Math.atan2(cross, dot);
  if (Math.abs(turn) < SMOOTH_ANGLE) return;
  const at = from.at;
  out.plain(edgePoint(at, from.t, pen.half));
  if (turn < 0) {
    // This side is the inner one of the bend: through the corner, so that no piece turns the wrong way.
    out.plain(at);
  } else if (pen.join === 'round') {
    arc(at, from.t, turn, out);
  } else if (pen.join === 'miter') {
    const cosHalf = Math.cos(turn / 2);
    // SVG: the miter's length over the width is 1/sin(θ/2) with θ the inner angle, that is 1/cos(turn/2).
    if (cosHalf > 1e-9 && 1 / cosHalf <= pen.miterLimit) {
      const reach = pen.half / cosHalf;
      const half = turn / 2;
      const nx = from.t.y;
      const ny = -from.t.x;
      const c = Math.cos(half);
      const s = Math.sin(half);
      out.plain({ x: at.x + reach * (nx * c - ny * s), y: at.y + reach * (nx * s + ny * c) });
    }
  }
  out.plain(edgePoint(at, to.t, pen.half));
}

/** The point at the pen's edge to the left of a direction (seen with y down: towards (ty, -tx)). */
function edgePoint(at: Point, t: Point, half: number): Point {
  return { x: at.x + t.y * half, y: at.y - t.x * half };
}

/** A round join or cap: an arc about `at` from the edge beside direction `t`, turning by `turn` > 0. */
function arc(at: Point, t: Point, turn: number, out: StrokeOutline): void {
  const { pen } = out;
  const start = Math.atan2(-t.x, t.y);
  const steps = Math.max(1, Math.ceil(turn / maxTurn(pen)));
  const s = Array.from({ length: steps + 1 }, (_, k) => start + (turn * k) / steps);
  out.curve({
    kind: 'arc',
    centre: at,
    radius: pen.half,
    pen: pen.pen,
    owner: pen.owner,
    s,
    closed: false,
    sEnd: s[steps],
  });
}

function cap(end: Direction, out: StrokeOutline): void {
  const { pen } = out;
  const { at, t } = end;
  if (pen.cap === 'round') {
    arc(at, t, Math.PI, out);
    return;
  }
  const reach = pen.cap === 'square' ? pen.half : 0;
  const ahead = { x: at.x + t.x * reach, y: at.y + t.y * reach };
  out.plain(edgePoint(ahead, t, pen.half));
  out.plain(edgePoint(ahead, { x: -t.x, y: -t.y }, pen.half));
}

/** A contour without length: a dot under round caps, a square under square ones, nothing under butt caps. */
function dotAt(at: Point, out: StrokeOutline): void {
  const { pen } = out;
  if (pen.cap === 'butt') return;
  const t = { x: 1, y: 0 };
  cap({ at, t }, out);
  cap({ at, t: { x: -1, y: 0 } }, out);
  out.endRing();
}

/** The largest turn of the pen's edge a side may span, radians. */
function maxTurn(pen: Pen): number {
  return Math.max(0.02, 2 * Math.acos(Math.max(0, 1 - pen.tolerance / pen.half)));
}

function piecesOf(contour: Contour, pen: Pen): Piece[] {
  const { coords } = contour;
  const pieces: Piece[] = [];
  for (let o = 0; o + 7 < coords.length; o += 6) {
    const q = coords.slice(o, o + 8);
    const reach = Math.max(
      Math.hypot(q[2] - q[0], q[3] - q[1]),
      Math.hypot(q[4] - q[0], q[5] - q[1]),
      Math.hypot(q[6] - q[0], q[7] - q[1]),
    );
    if (!(reach > 0)) continue;
    const times = [0];
    halve(q, 0, 1, pen, times, 0);
    pieces.push({ coords: q, times, start: directionAt(q, 0), end: directionAt(q, 1) });
  }
  return pieces;
}

function directionAt(q: Float64Array, t: number): Direction {
  const p = evaluateCubic(q, 0, t);
  const length = Math.hypot(p.dx, p.dy) || 1;
  return { at: { x: p.x, y: p.y }, t: { x: p.dx / length, y: p.dy / length } };
}

/** Cuts a cubic in halves until chord height and turn are both small enough for the centre line and the pen's edge. */
function halve(q: Float64Array, t0: number, t1: number, pen: Pen, times: number[], depth: number): void {
  const a = evaluateCubic(q, 0, t0);
  const b = evaluateCubic(q, 0, t1);
  const m = evaluateCubic(q, 0, (t0 + t1) / 2);
  const turn =
    Math.abs(Math.atan2(a.dx * m.dy - a.dy * m.dx, a.dx * m.dx + a.dy * m.dy)) +
    Math.abs(Math.atan2(m.dx * b.dy - m.dy * b.dx, m.dx * b.dx + m.dy * b.dy));
  const cx = b.x - a.x;
  const cy = b.y - a.y;
  const chord = Math.hypot(cx, cy);
  // A piece with an inflection can pass through its chord in the middle; an edge of the pen can run back and forth again while its centre goes on.
  const height = Math.max(
    ...[0.25, 0.5, 0.75].map((share) => {
      const p = evaluateCubic(q, 0, t0 + share * (t1 - t0));
      const centre =
        chord > 0 ? Math.abs((p.x - a.x) * cy - (p.y - a.y) * cx) / chord : Math.hypot(p.x - a.x, p.y - a.y);
      return Math.max(centre, offChord(a, p, b, pen.half), offChord(a, p, b, -pen.half));
    }),
  );
  // An inflection can hide at the middle: the first halving always looks at both parts.
  const probeBoth = depth === 0 && !straight(q);
  if (depth < MAX_DEPTH && (probeBoth || height > pen.tolerance || turn > maxTurn(pen))) {
    halve(q, t0, (t0 + t1) / 2, pen, times, depth + 1);
    halve(q, (t0 + t1) / 2, t1, pen, times, depth + 1);
    return;
  }
  times.push(t1);
}

/** How far the pen's edge beside `p` lies off the straight line between its edges beside `a` and `b`. */
function offChord(a: CurvePoint, p: CurvePoint, b: CurvePoint, half: number): number {
  const edge = ({ x, y, dx, dy }: CurvePoint): Point => {
    const length = Math.hypot(dx, dy) || 1;
    return { x: x + (dy * half) / length, y: y - (dx * half) / length };
  };
  return pointDistance({ from: edge(a), to: edge(b) }, edge(p));
}

function straight(q: Float64Array): boolean {
  const cx = q[6] - q[0];
  const cy = q[7] - q[1];
  const slack = 1e-9 * (Math.abs(cx) + Math.abs(cy)) ** 2;
  return (
    Math.abs((q[2] - q[0]) * cy - (q[3] - q[1]) * cx) <= slack &&
    Math.abs((q[4] - q[0]) * cy - (q[5] - q[1]) * cx) <= slack
  );
}
