import type { SmoothPiece } from './ring-pieces.js';

/** Place (px), way of travel (radians) and curvature (1 over samples) of a stretch near one sample. */
export interface LocalShape {
  readonly x: number;
  readonly y: number;
  readonly angle: number;
  readonly curvature: number;
  /** Number of the half width that was taken. */
  readonly width: number;
}

/** Half widths tried, in samples, widest first. */
const HALVES = [64, 45, 32, 23, 16, 11, 8, 6, 4, 3, 2];
/** A window is too wide where its parabola misses the samples by more than this many times the noise, and this, px. */
const NOISE_TIMES = 1.2;
const MISFIT_PX = 0.03;

export interface LocalOptions {
  readonly noisePx: number;
  /** Number of the half width that was taken near by: the search begins a little wider. */
  readonly near?: number;
}

/**
 * The parabola through the samples around one of them, in the widest window that it fits. Towards a stretch's ends the window is cut off.
 */
export function localShape({ count, x, y }: SmoothPiece, entry: number, options: LocalOptions): LocalShape {
  const limit = NOISE_TIMES * options.noisePx + MISFIT_PX;
  for (let width = Math.max(0, (options.near ?? 2) - 2); ; width++) {
    const half = HALVES[width];
    const lo = Math.max(0, entry - half);
    const hi = Math.min(count - 1, entry + half);
    const shape = fitParabola(x, y, entry, lo, hi);
    if (half === 2 || shape.rms <= limit) return { ...shape, width };
  }
}

/** The parabola through samples `lo` to `hi`, at sample `entry`, and how far they (some sixteen of many) lie off it across (root of the mean square). */
export function fitParabola(
  xs: Float64Array,
  ys: Float64Array,
  entry: number,
  lo: number,
  hi: number,
): Omit<LocalShape, 'width'> & { readonly rms: number } {
  const n = hi - lo + 1;
  const middle = (lo + hi) / 2;
  let [x0, y0, x1, y1, x2, y2] = [0, 0, 0, 0, 0, 0];
  // Legendre's polynomials on n even places: 1, k, k² − (n² − 1)/12 are orthogonal.
  const q0 = (n * n - 1) / 12;
  for (let i = lo; i <= hi; i++) {
    const k = i - middle;
    const q = k * k - q0;
    x0 += xs[i];
    y0 += ys[i];
    x1 += k * xs[i];
    y1 += k * ys[i];
    x2 += q * xs[i];
    y2 += q * ys[i];
  }
  const s1 = n * q0;
  const s2 = (s1 * (n * n - 4)) / 15;
  x0 /= n;
  y0 /= n;
  x1 = s1 > 0 ? x1 / s1 : 0;
  y1 = s1 > 0 ? y1 / s1 : 0;
  x2 = s2 > 0 ? x2 / s2 : 0;
  y2 = s2 > 0 ? y2 / s2 : 0;
  const at = entry - middle;
  const dx = x1 + 2 * at * x2;
  const dy = y1 + 2 * at * y2;
  const speed = Math.hypot(dx, dy) || 1;
  let sum = 0;
  let looks = 0;
  const stride = Math.max(1, n >> 4);
  for (let i = lo; i <= hi; i += stride) {
    looks++;
    const k = i - middle;
    const q = k * k - q0;
    const rx = xs[i] - x0 - k * x1 - q * x2;
    const ry = ys[i] - y0 - k * y1 - q * y2;
    const tx = x1 + 2 * k * x2;
    const ty = y1 + 2 * k * y2;
    const across = tx * ry - ty * rx;
    sum += (across * across) / (tx * tx + ty * ty || 1);
  }
  const q = at * at - q0;
  return {
    x: x0 + at * x1 + q * x2,
    y: y0 + at * y1 + q * y2,
    angle: Math.atan2(dy, dx),
    curvature: (2 * (dx * y2 - dy * x2)) / speed ** 3,
    rms: Math.sqrt(sum / Math.max(1, looks)),
  };
}
