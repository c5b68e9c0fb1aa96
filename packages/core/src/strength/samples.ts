import { type CurvePoint, evaluateCubic } from '../geometry/curve.js';
import { distance } from '../geometry/points.js';
import type { Contour } from '../geometry/types.js';

/** Largest turn of the outline from one sample to the next, radians: 12°. */
const SAMPLE_TURN = Math.PI / 15;
/** Curves that turn by more (18°, its tangent) from one step to the next get samples between: the steps are even in the parameter, the turn is not. */
const LARGEST_TANGENT = Math.tan(1.5 * SAMPLE_TURN);
/** A turn within less than this is a corner, mm: a thousandth of what a knife can do. */
const HAIRPIN_MM = 2e-4;
/** A node at which the tangent turns by less than this is no corner: 2°, its tangent. */
const SMOOTH_TANGENT = Math.tan(Math.PI / 90);
/** Most samples on one cubic. */
const MAX_STEPS = 20_000;
/** A curve shorter than this is a jog where two outlines meet beside a corner, mm: it turns any way, and nothing that is drawn is so small. */
const JOG_MM = 1e-3;
/** Curves shorter than this have no direction, mm. */
const DEAD_MM = 1e-9;

/** What lies between two banks: paper, or an opening. */
export type Between = 'paper' | 'opening';

/**
 * Places along closed outlines, outline after outline, in the direction of each outline. Lists of equal length, one entry a sample; samples of
 * outline `k` are `start[k]` up to `start[k + 1]`, and the last is followed by the first.
 */
export interface Samples {
  readonly count: number;
  /** The material lies to this side of the outlines: 1 to the right hand, -1 to the left. */
  readonly side: 1 | -1;
  readonly start: Int32Array;
  readonly outline: Int32Array;
  /** Place on the outline: number of the cubic and the parameter on it. */
  readonly u: Float64Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
  /**
   * Unit normal into the material looked at. At a corner of more than 180° of it the normals fan out from `nx, ny` to `mx, my`; such a corner
   * has several samples in one place, each with its part of the fan (at most 12°; a corner of no more than that has one, with the middle normal). Elsewhere both normals are the same. A corner of less than
   * 180° has no normal: both are 0, nothing touches it from inside.
   */
  readonly nx: Float64Array;
  readonly ny: Float64Array;
  readonly mx: Float64Array;
  readonly my: Float64Array;
}

/**
 * Samples of closed outlines at most `spacingMm` apart (and at every node), with normals into the material `between` the banks. Openings lie
 * to the right hand of their outlines (see `Outline`), paper to the left. Curves shorter than 1 µm are left out.
 */
export function sampleOutlines(
  contours: readonly Contour[],
  { spacingMm, between }: { spacingMm: number; between: Between },
): Samples {
  const side = between === 'opening' ? 1 : -1;
  const rows = growing(2 * contours.reduce((sum, { coords }) => sum + coords.length / 6, 64));
  const start = new Int32Array(contours.length + 1);
  contours.forEach(({ coords }, k) => {
    const live = livePieces(coords);
    live.forEach((piece, i) => {
      const before = 6 * live[(i + live.length - 1) % live.length];
      const steps = stepsOf(coords, 6 * piece, spacingMm);
      addCorner(evaluateCubic(coords, before, 1), evaluateCubic(coords, 6 * piece, 0), piece, side, rows.push);
      addAlong(coords, piece, steps, side, rows.push);
    });
    start[k + 1] = rows.count();
  });
  const count = rows.count();
  const outline = new Int32Array(count);
  for (let k = 0; k < contours.length; k++) outline.fill(k, start[k], start[k + 1]);
  const [u, x, y, nx, ny, mx, my] = rows.columns();
  return { count, side, start, outline, u, x, y, nx, ny, mx, my };
}

/** The sample that follows along the outline. */
export function sampleAfter({ start, outline }: Samples, i: number): number {
  const k = outline[i];
  return i + 1 < start[k + 1] ? i + 1 : start[k];
}

/** The sample that comes before along the outline. */
export function sampleBefore({ start, outline }: Samples, i: number): number {
  const k = outline[i];
  return i > start[k] ? i - 1 : start[k + 1] - 1;
}

type Push = (u: number, x: number, y: number, nx: number, ny: number, mx: number, my: number) => void;

/** The angle through which the outline turns from one place to another, radians; clockwise as seen is positive. */
function turnOf(e: CurvePoint, p: CurvePoint): number {
  return Math.atan2(e.dx * p.dy - e.dy * p.dx, e.dx * p.dx + e.dy * p.dy);
}

/** The samples at a node: `e` the end of what comes before, `p` the start of what follows. */
function addCorner(e: CurvePoint, p: CurvePoint, u: number, side: number, push: Push): void {
  if (turnsLess(e, p, SMOOTH_TANGENT)) {
    addSmooth(p, u, side, push);
    return;
  }
  const turn = turnOf(e, p);
  if (side * turn > 0) {
    push(u, p.x, p.y, 0, 0, 0, 0);
    return;
  }
  const angle = Math.atan2(side * p.dx, -side * p.dy);
  const parts = Math.ceil(Math.abs(turn) / SAMPLE_TURN);
  if (parts === 1) {
    // A corner of a flattened curve: its fan is no wider than the step between two samples of the curve itself.
    const nx = Math.cos(angle - turn / 2);
    const ny = Math.sin(angle - turn / 2);
    push(u, p.x, p.y, nx, ny, nx, ny);
    return;
  }
  for (let j = 0; j < parts; j++) {
    const a = angle - turn * (1 - j / parts);
    const b = angle - turn * (1 - (j + 1) / parts);
    push(u, p.x, p.y, Math.cos(a), Math.sin(a), Math.cos(b), Math.sin(b));
  }
}

function addSmooth(p: CurvePoint, u: number, side: number, push: Push): void {
  const length = Math.sqrt(p.dx * p.dx + p.dy * p.dy) || 1;
  const nx = (-side * p.dy) / length;
  const ny = (side * p.dx) / length;
  push(u, p.x, p.y, nx, ny, nx, ny);
}

/** Whether the outline turns by less than the angle of which the tangent is given. */
function turnsLess(e: CurvePoint, p: CurvePoint, tangent: number): boolean {
  const along = e.dx * p.dx + e.dy * p.dy;
  return along > 0 && Math.abs(e.dx * p.dy - e.dy * p.dx) <= tangent * along;
}

/** The samples between the nodes of a cubic: even steps, and more where it turns fast; a hairpin smaller than `HAIRPIN_MM` is a corner. */
function addAlong(coords: Float64Array, piece: number, steps: number, side: number, push: Push): void {
  const o = 6 * piece;
  const between = (t0: number, p0: CurvePoint, t1: number, p1: CurvePoint): void => {
    if (turnsLess(p0, p1, LARGEST_TANGENT)) return;
    const middle = (t0 + t1) / 2;
    const p = evaluateCubic(coords, o, middle);
    if (distance(p1, p0) < HAIRPIN_MM || middle <= t0 || middle >= t1) {
      addCorner(p0, { ...p1, x: p.x, y: p.y }, piece + middle, side, push);
      return;
    }
    between(t0, p0, middle, p);
    addSmooth(p, piece + middle, side, push);
    between(middle, p, t1, p1);
  };
  let last = evaluateCubic(coords, o, 0);
  for (let j = 1; j <= steps; j++) {
    const p = evaluateCubic(coords, o, j / steps);
    between((j - 1) / steps, last, j / steps, p);
    if (j < steps) addSmooth(p, piece + j / steps, side, push);
    last = p;
  }
}

/** Numbers of the cubics that are longer than a jog. */
function livePieces(coords: Float64Array): number[] {
  const live: number[] = [];
  for (let o = 0; o + 7 < coords.length; o += 6) {
    if (polygonLength(coords, o) > JOG_MM) live.push(o / 6);
  }
  return live;
}

function stepsOf(coords: Float64Array, o: number, spacingMm: number): number {
  const byLength = polygonLength(coords, o) / spacingMm;
  // The control polygon turns at least as much as the curve.
  let turn = 0;
  let lx = 0;
  let ly = 0;
  for (let k = o; k < o + 6; k += 2) {
    const dx = coords[k + 2] - coords[k];
    const dy = coords[k + 3] - coords[k + 1];
    if (Math.hypot(dx, dy) < DEAD_MM) continue;
    if (lx !== 0 || ly !== 0) turn += Math.abs(Math.atan2(lx * dy - ly * dx, lx * dx + ly * dy));
    lx = dx;
    ly = dy;
  }
  return Math.min(MAX_STEPS, Math.max(1, Math.ceil(byLength - 1e-9), Math.ceil(turn / SAMPLE_TURN - 1e-9)));
}

function polygonLength(q: Float64Array, o: number): number {
  return (
    Math.hypot(q[o + 2] - q[o], q[o + 3] - q[o + 1]) +
    Math.hypot(q[o + 4] - q[o + 2], q[o + 5] - q[o + 3]) +
    Math.hypot(q[o + 6] - q[o + 4], q[o + 7] - q[o + 5])
  );
}

/** Lists of the numbers of samples, which double when they are full: millions of samples without an object each. */
function growing(room: number) {
  let capacity = Math.ceil(room);
  let n = 0;
  let columns = Array.from({ length: 7 }, () => new Float64Array(capacity));
  let [us, xs, ys, nxs, nys, mxs, mys] = columns;
  const grow = (): void => {
    capacity *= 2;
    columns = columns.map((column) => {
      const larger = new Float64Array(capacity);
      larger.set(column);
      return larger;
    });
    [us, xs, ys, nxs, nys, mxs, mys] = columns;
  };
  return {
    push(u: number, x: number, y: number, nx: number, ny: number, mx: number, my: number): void {
      if (n === capacity) grow();
      us[n] = u;
      xs[n] = x;
      ys[n] = y;
      nxs[n] = nx;
      nys[n] = ny;
      mxs[n] = mx;
      mys[n] = my;
      n++;
    },
    count: (): number => n,
    columns: (): Float64Array[] => columns.map((column) => column.subarray(0, n)),
  };
}
