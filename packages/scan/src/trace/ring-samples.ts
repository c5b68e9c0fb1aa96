/**
 * A ring in pixels around its own middle: the points as they came, and the same line in even steps of about a pixel, for work by index.
 * Both start at the same place, which hangs on the shape alone and not on where the ring began.
 */
export interface RingSamples {
  readonly count: number;
  /** Length of the ring's line between neighbouring samples, px. */
  readonly step: number;
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** The points as they came, doubles left out, px. */
  readonly pointX: Float64Array;
  readonly pointY: Float64Array;
  /** Where they lie along the ring, in samples: 0 … count. */
  readonly pointAt: Float64Array;
  /** Share of the ring that each stands for, in samples. */
  readonly weight: Float64Array;
}

export interface SampleRingOptions {
  readonly pixelMm: number;
  /** Subtracted from the points before all else, mm. */
  readonly originX: number;
  readonly originY: number;
}

/** Points nearer than this to their forerunner are left out, px: they add length by noise and nothing else. */
const DOUBLE_PX = 0.05;

/** A traced ring's points lie no farther apart, px. */
const FAR_PX = 2;

/** Null where fewer than three places remain. */
export function sampleRing(points: Float64Array, { pixelMm, originX, originY }: SampleRingOptions): RingSamples | null {
  const given = points.length >> 1;
  const start = firstPoint(points);
  const xs = new Float64Array(given);
  const ys = new Float64Array(given);
  let kept = 0;
  for (let k = 0; k < given; k++) {
    const i = 2 * ((start + k) % given);
    const x = (points[i] - originX) / pixelMm;
    const y = (points[i + 1] - originY) / pixelMm;
    if (kept > 0 && Math.hypot(x - xs[kept - 1], y - ys[kept - 1]) < DOUBLE_PX) continue;
    xs[kept] = x;
    ys[kept] = y;
    kept++;
  }
  while (kept > 1 && Math.hypot(xs[0] - xs[kept - 1], ys[0] - ys[kept - 1]) < DOUBLE_PX) kept--;
  if (kept < 3) return null;
  const { pointX, pointY } = filled(xs.subarray(0, kept), ys.subarray(0, kept));
  kept = pointX.length;
  const along = new Float64Array(kept + 1);
  for (let k = 0; k < kept; k++) {
    const j = k + 1 < kept ? k + 1 : 0;
    along[k + 1] = along[k] + Math.hypot(pointX[j] - pointX[k], pointY[j] - pointY[k]);
  }
  const length = along[kept];
  const count = Math.max(3, Math.round(length));
  const step = length / count;
  const pointAt = along.slice(0, kept).map((s) => s / step);
  const weight = pointAt.map((_, k) => {
    const before = k > 0 ? pointAt[k - 1] : pointAt[kept - 1] - count;
    const after = k + 1 < kept ? pointAt[k + 1] : pointAt[0] + count;
    return (after - before) / 2;
  });
  return { count, step, ...even(pointX, pointY, along, count), pointX, pointY, pointAt, weight };
}

/** The points with more between those that lie far apart: a ring drawn with few points is straight between them. */
function filled(xs: Float64Array, ys: Float64Array): { pointX: Float64Array; pointY: Float64Array } {
  const x: number[] = [];
  const y: number[] = [];
  for (let k = 0; k < xs.length; k++) {
    const j = (k + 1) % xs.length;
    const parts = Math.max(1, Math.ceil(Math.hypot(xs[j] - xs[k], ys[j] - ys[k]) / FAR_PX));
    for (let i = 0; i < parts; i++) {
      x.push(xs[k] + (i / parts) * (xs[j] - xs[k]));
      y.push(ys[k] + (i / parts) * (ys[j] - ys[k]));
    }
  }
  return { pointX: Float64Array.from(x), pointY: Float64Array.from(y) };
}

function even(pointX: Float64Array, pointY: Float64Array, along: Float64Array, count: number) {
  const n = pointX.length;
  const x = new Float64Array(count);
  const y = new Float64Array(count);
  const step = along[n] / count;
  let k = 0;
  for (let i = 0; i < count; i++) {
    while (k < n - 1 && along[k + 1] <= i * step) k++;
    const share = (i * step - along[k]) / (along[k + 1] - along[k]);
    const j = k + 1 < n ? k + 1 : 0;
    x[i] = pointX[k] + share * (pointX[j] - pointX[k]);
    y[i] = pointY[k] + share * (pointY[j] - pointY[k]);
  }
  return { x, y };
}

/** The point farthest right, the lowest of those: the same one wherever the ring began. */
function firstPoint(points: Float64Array): number {
  let best = 0;
  for (let i = 1; i < points.length >> 1; i++) {
    const dx = points[2 * i] - points[2 * best];
    if (dx > 0 || (dx === 0 && points[2 * i + 1] > points[2 * best + 1])) best = i;
  }
  return best;
}
