import type { SmoothPiece } from './ring-pieces.js';

/** A straight run: its first and last entry of a piece, and the line through it (px). */
export interface StraightRun {
  readonly from: number;
  readonly to: number;
  /** How far its samples keep to the line, where noise may hide the beginning of an arc. */
  readonly seenFrom: number;
  readonly seenTo: number;
  readonly line: Line;
}

/** A place on a line and its unit vector. */
export interface Line {
  readonly x: number;
  readonly y: number;
  readonly ux: number;
  readonly uy: number;
}

export interface StraightOptions {
  readonly noisePx: number;
}

/** Shorter runs within a smooth stretch are left to the curves, samples; and how many more for each pixel of noise, in which flat arcs look straight. */
const LEAST_RUN = 20;
const RUN_PER_NOISE = 300;
/** Ends of a run are first found to a sixteenth of its length: they are taken back anyway. */
const FINEST = 4;
/** A run of fewer samples, its ends taken back, is no run. */
const SHORTEST = 12;
/** Means of neighbouring samples of a straight run lie this near to their line, px; and so many times the noise farther (neighbours err together). */
const NEAR_PX = 0.1;
const NOISE_TIMES = 1.6;
/** Samples to either side in such a mean, on a calm ring and on others. */
const MEAN_HALF = 2;
const MEAN_HALF_NOISY = 4;
const CALM_PX = 0.06;
/**
 * The middle of a run (this share) has to be straighter than the run as a whole, or it is the flattest part of an arc or of an S: by how much a parabola or a cubic
 * leaves the line, px.
 */
const INNER = 0.8;
const INNER_RISE_PX = 0.03;
/** Within two runs that are one means may lie this much farther off. */
const TORN_TIMES = 1.6;
/** A short run to begin with may rise by so many times the noise over the root of its samples: three standard deviations. */
const SEED_NOISE = 10;
/** Ends are taken back to where the means keep to the middle's line within this, px, */
const TRIM_PX = 0.04;
/** and by so many samples more, and more for each pixel of noise, which hides where an arc begins: the curve beyond has room for a straight beginning. */
const BACK = 3;
const BACK_PER_NOISE = 40;

/** Whether all of a stretch keeps to a line. */
export function wholeStraight(piece: SmoothPiece, options: StraightOptions): boolean {
  if (piece.count < 2) return true;
  const fit = fitLine(averaged(piece, options), 0, piece.count - 1);
  return fit.worst <= limit(NEAR_PX, options);
}

/**
 * The straight runs of a stretch, in order. Each is grown from a short seed until its samples leave the line; a run is straight if its middle is much
 * straighter than that: along an arc, however flat, the rise of the middle is a fixed share of the whole.
 */
export function findStraights(stretch: SmoothPiece, options: StraightOptions): StraightRun[] {
  const piece = averaged(stretch, options);
  const runs: StraightRun[] = [];
  let least = 0;
  const leastRun = Math.ceil(LEAST_RUN + RUN_PER_NOISE * options.noisePx);
  const step = leastRun >> 2;
  for (let next = 0; next + leastRun <= piece.count; ) {
    if (!seemsStraight(piece, next, next + leastRun - 1, options)) {
      next += step;
      continue;
    }
    const seed = fitLine(piece, next, next + leastRun - 1);
    if (Math.abs(seed.rise) > INNER_RISE_PX + (SEED_NOISE * options.noisePx) / Math.sqrt(leastRun)) {
      next += step;
      continue;
    }
    const [from, to] = grown(piece, next, next + leastRun - 1, least, options);
    const run = innerRun(piece, from, to, options);
    if (run) {
      const last = runs.at(-1);
      const both = last && joined(piece, last, run, options);
      if (both) runs[runs.length - 1] = both;
      else runs.push(run);
      least = run.to + 1;
    }
    next = Math.max(next + step, run ? run.to + 1 : Math.floor((from + to) / 2));
  }
  return runs;
}

/** Two runs that are one, which noise has torn apart. */
function joined(piece: Averaged, a: StraightRun, b: StraightRun, options: StraightOptions): StraightRun | null {
  const fit = fitLine(piece, a.from, b.to);
  if (fit.worst > TORN_TIMES * limit(NEAR_PX, options)) return null;
  const most = INNER_RISE_PX + (6.7 * options.noisePx) / Math.sqrt(b.to - a.from);
  if (Math.abs(fit.rise) > most || Math.abs(fit.sway) > most) return null;
  return { from: a.from, to: b.to, seenFrom: a.seenFrom, seenTo: b.seenTo, line: fit };
}

/** A quick look: the middle lies near the chord. */
function seemsStraight({ meanX, meanY }: Averaged, from: number, to: number, options: StraightOptions): boolean {
  const dx = meanX[to] - meanX[from];
  const dy = meanY[to] - meanY[from];
  const near = (2 * INNER_RISE_PX + 2 * options.noisePx) * Math.hypot(dx, dy);
  for (const share of [0.5, 0.25, 0.75]) {
    const i = Math.round(from + share * (to - from));
    if (Math.abs((meanY[i] - meanY[from]) * dx - (meanX[i] - meanX[from]) * dy) > near) return false;
  }
  return true;
}

/** The stretch with means of neighbours beside its samples. */
interface Averaged extends SmoothPiece {
  readonly meanX: Float64Array;
  readonly meanY: Float64Array;
}

function averaged(piece: SmoothPiece, { noisePx }: StraightOptions): Averaged {
  const half = noisePx < CALM_PX ? MEAN_HALF : MEAN_HALF_NOISY;
  return { ...piece, meanX: means(piece.x, half), meanY: means(piece.y, half) };
}

function means(values: Float64Array, half: number): Float64Array {
  const n = values.length;
  const sums = new Float64Array(n + 1);
  for (let i = 0; i < n; i++) sums[i + 1] = sums[i] + values[i];
  return values.map((_, i) => {
    const m = Math.min(half, i, n - 1 - i);
    return (sums[i + m + 1] - sums[i - m]) / (2 * m + 1);
  });
}

/** By how many samples the ends of runs are taken back. */
export function takenBack({ noisePx }: StraightOptions): number {
  return Math.round(BACK + BACK_PER_NOISE * noisePx);
}

function limit(px: number, { noisePx }: StraightOptions): number {
  return px + NOISE_TIMES * noisePx;
}

/** The longest run around a seed that keeps to its line; not before `least`. */
function grown(piece: Averaged, seedFrom: number, seedTo: number, least: number, options: StraightOptions) {
  const near = limit(NEAR_PX, options);
  let [from, to] = [seedFrom, seedTo];
  if (fitLine(piece, from, to).worst > near) return [from, to] as const;
  for (const way of [1, -1]) {
    for (let chunk = (to - from) >> 1; chunk >= Math.max(1, (to - from) >> FINEST); ) {
      const f = way < 0 ? Math.max(least, from - chunk) : from;
      const t = way > 0 ? Math.min(piece.count - 1, to + chunk) : to;
      if ((f !== from || t !== to) && fitLine(piece, f, t).worst <= near) {
        [from, to] = [f, t];
        chunk = Math.max(chunk, (to - from) >> 1);
      } else chunk >>= 1;
    }
  }
  return [from, to] as const;
}

function innerRun(piece: Averaged, from: number, to: number, options: StraightOptions): StraightRun | null {
  const cut = Math.round(((to - from) * (1 - INNER)) / 2);
  const fit = fitLine(piece, from + cut, to - cut);
  const n = to - from - 2 * cut + 1;
  // Standard deviations of both through n places: √720 / 8 and √2800 / 20, times σ / √n.
  const sd = options.noisePx / Math.sqrt(n);
  if (Math.abs(fit.rise) > INNER_RISE_PX + 6.7 * sd || Math.abs(fit.sway) > INNER_RISE_PX + 5.3 * sd) return null;
  if (fit.worst > limit(TRIM_PX, options)) return null;
  const near = limit(TRIM_PX, options);
  let [f, t] = [from + cut, to - cut];
  while (f > from && off(piece, fit, f - 1) <= near) f--;
  while (t < to && off(piece, fit, t + 1) <= near) t++;
  const back = takenBack(options);
  const first = f > 0 ? Math.min(f + back, from + 2 * cut) : f;
  const last = t < piece.count - 1 ? Math.max(t - back, to - 2 * cut) : t;
  return last - first >= SHORTEST ? { from: first, to: last, seenFrom: f, seenTo: t, line: fit } : null;
}

function off(piece: Averaged, { x, y, ux, uy }: Line, i: number): number {
  return Math.abs((piece.meanY[i] - y) * ux - (piece.meanX[i] - x) * uy);
}

interface LineFit extends Line {
  /** Largest distance of a mean. */
  readonly worst: number;
  /** Rise of the parabola through the samples in the middle over its ends. */
  readonly rise: number;
  /** How far the cubic through the samples leaves the line at the ends. */
  readonly sway: number;
}

function fitLine(piece: Averaged, from: number, to: number): LineFit {
  const { x, y } = piece;
  const n = to - from + 1;
  const middle = (from + to) / 2;
  const q0 = (n * n - 1) / 12;
  let [x0, y0, x1, y1, x2, y2, x3, y3] = [0, 0, 0, 0, 0, 0, 0, 0];
  const q1 = (3 * n * n - 7) / 20;
  for (let i = from; i <= to; i++) {
    const k = i - middle;
    const q = k * k - q0;
    const c = k * (k * k - q1);
    x0 += x[i];
    y0 += y[i];
    x1 += k * x[i];
    y1 += k * y[i];
    x2 += q * x[i];
    y2 += q * y[i];
    x3 += c * x[i];
    y3 += c * y[i];
  }
  const len = Math.hypot(x1, y1) || 1;
  const line = { x: x0 / n, y: y0 / n, ux: x1 / len, uy: y1 / len };
  const s2 = (n * q0 * (n * n - 4)) / 15;
  const bend = s2 > 0 ? (y2 * line.ux - x2 * line.uy) / s2 : 0;
  const s3 = (n * (n * n - 1) * (n * n - 4) * (n * n - 9)) / 2800;
  const curl = s3 > 0 ? (y3 * line.ux - x3 * line.uy) / s3 : 0;
  const end = (n - 1) / 2;
  let worst = 0;
  for (let i = from; i <= to; i++) worst = Math.max(worst, off(piece, line, i));
  return { ...line, worst, rise: bend * end * end, sway: curl * end * (end * end - q1) };
}
