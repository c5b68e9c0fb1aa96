import type { Box, Contour, Matrix, Point, Stroke } from '../geometry/types.js';
import { alongChain, chordCount, type EdgePlace, placeOn } from './cubic.js';
import { type PenRun, penRuns, tangent } from './stroke-path.js';

/** Two directions closer than this, radians, go on smoothly: no join is drawn. */
const SMOOTH = 1e-4;
/** The pen's centre line is looked at in pieces that turn by at most this, radians. */
const TURN = 0.05;
const DEPTH_MAX = 14;
/** Chords of the centre line lie this near to it, mm. */
const CENTRE_MM = 1e-3;

/** A piece of a centre line, between two of its parameters; places and derivatives at both. */
interface Piece {
  readonly q: Float64Array;
  readonly t0: number;
  readonly t1: number;
  readonly a: ReturnType<typeof placeOn>;
  readonly b: ReturnType<typeof placeOn>;
}

/** Part of a disc: from direction `from` (radians) on by `turn`. */
interface Sector {
  readonly at: Point;
  readonly from: number;
  readonly turn: number;
}

type Part = Piece | Sector | readonly Point[];

/**
 * The area inked by a pen, by its definition (SVG 2, "Computing the shape of the stroke"): all places that a normal of the centre line of half the
 * pen's width reaches, with joins and caps.
 */
export class StrokeCover {
  readonly box: Box = { x0: Infinity, y0: Infinity, x1: -Infinity, y1: -Infinity };
  private readonly half: number;
  private readonly toPen: Matrix | null;
  private readonly parts: Part[] = [];
  private readonly cells = new Map<number, number[]>();
  private readonly cell: number;

  constructor(
    contours: readonly Contour[],
    private readonly stroke: Stroke,
  ) {
    const [a, b, c, d] = stroke.pen;
    this.half = stroke.width / 2;
    const det = a * d - b * c;
    const scale = Math.max(Math.hypot(a, b), Math.hypot(c, d));
    this.cell = Math.max(this.half, 1 / (scale || 1));
    this.toPen = null;
    if (!(this.half > 0) || !(Math.abs(det) > 0)) return;
    const [e, f] = [stroke.pen[4], stroke.pen[5]];
    this.toPen = [d / det, -b / det, -c / det, a / det, (c * f - d * e) / det, (b * e - a * f) / det];
    for (const contour of contours) {
      for (const run of penRuns(contour, stroke, this.toPen, scale)) this.addRun(run, CENTRE_MM / scale);
    }
  }

  /** Whether a place (mm) is inked. */
  contains(x: number, y: number): boolean {
    const m = this.toPen;
    if (!m) return false;
    const [px, py] = [m[0] * x + m[2] * y + m[4], m[1] * x + m[3] * y + m[5]];
    for (const k of this.cells.get(cellKey(Math.floor(px / this.cell), Math.floor(py / this.cell))) ?? []) {
      if (this.holds(this.parts[k], px, py)) return true;
    }
    return false;
  }

  /** Places along all that can be an edge of the inked area, mm. */
  edges(step: number, visit: EdgePlace): void {
    const p = this.stroke.pen;
    const toMm = (x: number, y: number): Point => ({ x: p[0] * x + p[2] * y + p[4], y: p[1] * x + p[3] * y + p[5] });
    const chain = (points: readonly Point[]): void =>
      alongChain(
        points.map(({ x, y }) => toMm(x, y)),
        step,
        visit,
      );
    for (let k = 0; k < this.parts.length; ) {
      const part = this.parts[k++];
      if (isPolygon(part)) chain([...part, part[0]]);
      else if (isSector(part)) chain(this.arc(part));
      else {
        const run = [part];
        for (let next = this.parts[k]; goesOn(run[run.length - 1], next); next = this.parts[++k]) run.push(next);
        for (const side of [1, -1]) chain(run.flatMap((piece) => this.offset(piece, side)));
      }
    }
  }

  private arc({ at, from, turn }: Sector): Point[] {
    const n = Math.max(1, Math.ceil(Math.abs(turn) / TURN));
    return Array.from({ length: n + 1 }, (_, k) => {
      const angle = from + (turn * k) / n;
      return { x: at.x + this.half * Math.cos(angle), y: at.y + this.half * Math.sin(angle) };
    });
  }

  private offset({ q, t0, t1 }: Piece, side: number): Point[] {
    return [0, 0.25, 0.5, 0.75, 1].map((share) => {
      const t = t0 + share * (t1 - t0);
      const { x, y } = placeOn(q, 0, t);
      const way = tangent(q, t);
      return { x: x + side * this.half * way.y, y: y - side * this.half * way.x };
    });
  }

  private holds(part: Part, x: number, y: number): boolean {
    if (isPolygon(part)) return inConvex(part, x, y);
    if (isSector(part)) {
      const [dx, dy] = [x - part.at.x, y - part.at.y];
      if (dx * dx + dy * dy > this.half * this.half) return false;
      const way = Math.sign(part.turn) * (Math.atan2(dy, dx) - part.from);
      return way - 2 * Math.PI * Math.floor(way / (2 * Math.PI)) <= Math.abs(part.turn) + 1e-12;
    }
    return this.reaches(part, x, y);
  }

  /** Whether a normal that starts on a piece of the centre line reaches a place. */
  private reaches({ q, t0, t1, a, b }: Piece, x: number, y: number): boolean {
    let fa = (x - a.x) * a.dx + (y - a.y) * a.dy;
    const fb = (x - b.x) * b.dx + (y - b.y) * b.dy;
    if (fa > 0 === fb > 0 && fa !== 0 && fb !== 0) return false;
    let [low, high] = [t0, t1];
    let p = a;
    for (let n = 0; n < 48; n++) {
      const t = (low + high) / 2;
      p = placeOn(q, 0, t);
      const f = (x - p.x) * p.dx + (y - p.y) * p.dy;
      if (f > 0 === fa > 0) {
        low = t;
        fa = f;
      } else high = t;
      // Clearly within or clearly past the reach: no more digits are needed.
      const distance = Math.hypot(x - p.x, y - p.y);
      const slack = Math.hypot(p.dx, p.dy) * (high - low) + 1e-12;
      if (distance + 2 * slack < this.half) return true;
      if (distance - 2 * slack > this.half) return false;
    }
    return Math.hypot(x - p.x, y - p.y) <= this.half;
  }

  private addRun(run: PenRun, tolerance: number): void {
    const { parts, closed } = run;
    if (parts.length === 0) {
      this.addDot(run);
      return;
    }
    for (const { q, from, to } of parts) {
      const whole = chordCount(q, 0, tolerance);
      const n = Math.max(whole > 1 ? 8 : 1, Math.ceil(whole * (to - from)));
      for (let k = 0; k < n; k++) {
        this.addPiece(q, from + ((to - from) * k) / n, from + ((to - from) * (k + 1)) / n, whole > 1 ? 0 : DEPTH_MAX);
      }
    }
    const count = parts.length;
    for (let k = 0; k < (closed ? count : count - 1); k++) {
      const next = parts[(k + 1) % count];
      this.addJoin(next, tangent(parts[k].q, parts[k].to), tangent(next.q, next.from));
    }
    if (closed) return;
    const last = parts[count - 1];
    const end = placeOn(last.q, 0, last.to);
    this.addCap(end, tangent(last.q, last.to));
    const way = tangent(parts[0].q, parts[0].from);
    this.addCap(placeOn(parts[0].q, 0, parts[0].from), { x: -way.x, y: -way.y });
  }

  private addPiece(q: Float64Array, t0: number, t1: number, depth: number): void {
    const [a, b] = [directed(q, t0), directed(q, t1)];
    const turn = Math.abs(Math.atan2(a.dx * b.dy - a.dy * b.dx, a.dx * b.dx + a.dy * b.dy));
    if (turn > TURN && depth < DEPTH_MAX) {
      this.addPiece(q, t0, (t0 + t1) / 2, depth + 1);
      this.addPiece(q, (t0 + t1) / 2, t1, depth + 1);
      return;
    }
    const [x0, x1] = [Math.min(a.x, b.x) - this.half, Math.max(a.x, b.x) + this.half];
    const [y0, y1] = [Math.min(a.y, b.y) - this.half, Math.max(a.y, b.y) + this.half];
    const room = CENTRE_MM;
    this.add({ q, t0, t1, a, b }, { x0: x0 - room, y0: y0 - room, x1: x1 + room, y1: y1 + room });
  }

  /** What fills the outer side of a corner (SVG 2, "Line joins"). */
  private addJoin(next: { readonly q: Float64Array; readonly from: number }, before: Point, after: Point): void {
    const turn = Math.atan2(before.x * after.y - before.y * after.x, before.x * after.x + before.y * after.y);
    if (Math.abs(turn) < SMOOTH) return;
    const { x, y } = placeOn(next.q, 0, next.from);
    const side = turn > 0 ? this.half : -this.half;
    if (this.stroke.join === 'round') {
      this.addSector({ at: { x, y }, from: Math.atan2(-side * before.x, side * before.y), turn });
      return;
    }
    const corner = [
      { x, y },
      { x: x + side * before.y, y: y - side * before.x },
      { x: x + side * after.y, y: y - side * after.x },
    ];
    const cosHalf = Math.cos(turn / 2);
    if (this.stroke.join === 'miter' && cosHalf > 1e-9 && 1 / cosHalf <= this.stroke.miterLimit) {
      const [mx, my] = [before.y + after.y, -(before.x + after.x)];
      const size = side / (cosHalf * Math.hypot(mx, my));
      corner.splice(2, 0, { x: x + size * mx, y: y + size * my });
    }
    this.addPolygon(corner);
  }

  private addCap({ x, y }: Point, way: Point): void {
    const { half } = this;
    if (this.stroke.cap === 'round') {
      this.addSector({ at: { x, y }, from: Math.atan2(-way.x, way.y), turn: Math.PI });
      return;
    }
    const reach = this.stroke.cap === 'square' ? half : 0;
    const [sx, sy] = [half * way.y, -half * way.x];
    this.addPolygon([
      { x: x + sx, y: y + sy },
      { x: x + sx + reach * way.x, y: y + sy + reach * way.y },
      { x: x - sx + reach * way.x, y: y - sy + reach * way.y },
      { x: x - sx, y: y - sy },
    ]);
  }

  /** A line without length (SVG 2, "Line caps"): a disc, a square, or nothing. */
  private addDot({ start, along }: PenRun): void {
    if (this.stroke.cap === 'butt') return;
    this.addCap(start, along);
    this.addCap(start, { x: -along.x, y: -along.y });
  }

  private addSector(sector: Sector): void {
    const { x, y } = sector.at;
    const r = this.half;
    this.add(sector, { x0: x - r, y0: y - r, x1: x + r, y1: y + r });
  }

  private addPolygon(points: readonly Point[]): void {
    const xs = points.map((p) => p.x);
    const ys = points.map((p) => p.y);
    this.add(points, { x0: Math.min(...xs), y0: Math.min(...ys), x1: Math.max(...xs), y1: Math.max(...ys) });
  }

  private add(part: Part, { x0, y0, x1, y1 }: Box): void {
    const k = this.parts.push(part) - 1;
    for (let i = Math.floor(x0 / this.cell); i <= Math.floor(x1 / this.cell); i++) {
      for (let j = Math.floor(y0 / this.cell); j <= Math.floor(y1 / this.cell); j++) {
        const key = cellKey(i, j);
        const list = this.cells.get(key);
        if (list) list.push(k);
        else this.cells.set(key, [k]);
      }
    }
    const p = this.stroke.pen;
    const box = this.box as { -readonly [K in keyof Box]: number };
    for (const [x, y] of [
      [x0, y0],
      [x1, y0],
      [x1, y1],
      [x0, y1],
    ]) {
      const [mx, my] = [p[0] * x + p[2] * y + p[4], p[1] * x + p[3] * y + p[5]];
      box.x0 = Math.min(box.x0, mx);
      box.y0 = Math.min(box.y0, my);
      box.x1 = Math.max(box.x1, mx);
      box.y1 = Math.max(box.y1, my);
    }
  }
}

/** A place on a cubic whose derivative is never nothing: where handles lie on an end it is the tangent there. */
function directed(q: Float64Array, t: number): ReturnType<typeof placeOn> {
  const p = placeOn(q, 0, t);
  const way = tangent(q, t);
  const along = p.dx * way.x + p.dy * way.y;
  return along > 0 ? p : { ...p, dx: way.x, dy: way.y };
}

function isPolygon(part: Part): part is readonly Point[] {
  return Array.isArray(part);
}

/** Whether a part goes on where a piece of a centre line ends. */
function goesOn(piece: Piece, next: Part | undefined): next is Piece {
  return next !== undefined && 'q' in next && next.q === piece.q && next.t0 === piece.t1;
}

function isSector(part: Part): part is Sector {
  return 'turn' in part;
}

/** Whether a place lies in a convex polygon, whichever way it turns. */
function inConvex(points: readonly Point[], x: number, y: number): boolean {
  let [left, right] = [false, false];
  for (let k = 0; k < points.length; k++) {
    const [a, b] = [points[k], points[(k + 1) % points.length]];
    const side = (b.x - a.x) * (y - a.y) - (b.y - a.y) * (x - a.x);
    if (side > 0) left = true;
    if (side < 0) right = true;
  }
  return !(left && right);
}

function cellKey(i: number, j: number): number {
  return i * 4_194_304 + j;
}
