import { evaluateCubic } from '../geometry/curve.js';
import type { Contour } from '../geometry/types.js';

/** Largest turn of the outline from one sample to the next, radians: 12°. */
const SAMPLE_TURN = Math.PI / 15;
/** A node at which the tangent turns by less than this is no corner, radians: 2°. */
const SMOOTH = Math.PI / 90;
/** Most samples on one cubic. */
const MAX_STEPS = 20_000;

/** What lies between two banks: paper, or an opening. */
export type Between = 'paper' | 'opening';

/**
 * Places along closed outlines, outline after outline, in the direction of each outline. Lists of equal length, one entry a sample; samples of
 * outline `k` are `start[k]` up to `start[k + 1]`, and the last is followed by the first.
 */
export interface Samples {
  readonly count: number;
  readonly start: Int32Array;
  readonly outline: Int32Array;
  /** Place on the outline: number of the cubic and the parameter on it. */
  readonly u: Float64Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
  /**
   * Unit normal into the material looked at. At a corner of more than 180° of it the normals fan out from `nx, ny` to `mx, my`; elsewhere both
   * are the same. A corner of less than 180° has no normal: both are 0, nothing touches it from inside.
   */
  readonly nx: Float64Array;
  readonly ny: Float64Array;
  readonly mx: Float64Array;
  readonly my: Float64Array;
}

/**
 * Samples of closed outlines at most `spacingMm` apart (and at every node), with normals into the material `between` the banks. Openings lie
 * to the right hand of their outlines (see `Outline`), paper to the left. Curves without a length are left out.
 */
export function sampleOutlines(
  contours: readonly Contour[],
  { spacingMm, between }: { spacingMm: number; between: Between },
): Samples {
  const side = between === 'opening' ? 1 : -1;
  const rows: number[][] = [[], [], [], [], [], [], []];
  const [us, xs, ys, nxs, nys, mxs, mys] = rows;
  const outline: number[] = [];
  const start = new Int32Array(contours.length + 1);
  contours.forEach(({ coords }, k) => {
    const live = livePieces(coords);
    live.forEach((piece, i) => {
      const o = 6 * piece;
      const before = 6 * live[(i + live.length - 1) % live.length];
      const steps = stepsOf(coords, o, spacingMm);
      for (let j = 0; j < steps; j++) {
        const p = evaluateCubic(coords, o, j / steps);
        const length = Math.hypot(p.dx, p.dy) || 1;
        let [nx, ny] = [(-side * p.dy) / length, (side * p.dx) / length];
        let [mx, my] = [nx, ny];
        if (j === 0) {
          const e = evaluateCubic(coords, before, 1);
          const size = Math.hypot(e.dx, e.dy) || 1;
          const turn = Math.atan2(e.dx * p.dy - e.dy * p.dx, e.dx * p.dx + e.dy * p.dy);
          if (side * turn > SMOOTH) [nx, ny, mx, my] = [0, 0, 0, 0];
          else if (side * turn < -SMOOTH) [nx, ny] = [(-side * e.dy) / size, (side * e.dx) / size];
        }
        us.push(piece + j / steps);
        xs.push(p.x);
        ys.push(p.y);
        nxs.push(nx);
        nys.push(ny);
        mxs.push(mx);
        mys.push(my);
        outline.push(k);
      }
    });
    start[k + 1] = us.length;
  });
  const [u, x, y, nx, ny, mx, my] = rows.map((row) => Float64Array.from(row));
  return { count: u.length, start, outline: Int32Array.from(outline), u, x, y, nx, ny, mx, my };
}

/** Numbers of the cubics that have a length. */
function livePieces(coords: Float64Array): number[] {
  const live: number[] = [];
  for (let o = 0; o + 7 < coords.length; o += 6) {
    if (polygonLength(coords, o) > 1e-9) live.push(o / 6);
  }
  return live;
}

function stepsOf(coords: Float64Array, o: number, spacingMm: number): number {
  const byLength = polygonLength(coords, o) / spacingMm;
  // The control polygon turns at least as much as the curve.
  let turn = 0;
  let last: [number, number] | null = null;
  for (let k = o; k < o + 6; k += 2) {
    const d: [number, number] = [coords[k + 2] - coords[k], coords[k + 3] - coords[k + 1]];
    if (Math.hypot(...d) < 1e-9) continue;
    if (last) turn += Math.abs(Math.atan2(last[0] * d[1] - last[1] * d[0], last[0] * d[0] + last[1] * d[1]));
    last = d;
  }
  return Math.min(MAX_STEPS, Math.max(1, Math.ceil(byLength), Math.ceil(turn / SAMPLE_TURN)));
}

function polygonLength(q: Float64Array, o: number): number {
  return (
    Math.hypot(q[o + 2] - q[o], q[o + 3] - q[o + 1]) +
    Math.hypot(q[o + 4] - q[o + 2], q[o + 5] - q[o + 3]) +
    Math.hypot(q[o + 6] - q[o + 4], q[o + 7] - q[o + 5])
  );
}
