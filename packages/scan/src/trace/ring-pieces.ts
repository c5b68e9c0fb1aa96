import type { RingCorner } from './ring-corners.js';
import type { RingSamples } from './ring-samples.js';

/** A smooth stretch of a ring, in px: samples the blur of corners has not moved, and the ends it has to meet. */
export interface SmoothPiece {
  readonly count: number;
  /** Sample of the ring at which entry 0 lies; later ones may run past the ring's end. */
  readonly first: number;
  /** The samples as they came. */
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** The samples with noise taken out. */
  readonly smoothX: Float64Array;
  readonly smoothY: Float64Array;
}

/** The samples of a ring from `first` on, without any from the other side of a corner. */
export function pieceOf(ring: RingSamples, first: number, count: number, options: { noisePx: number }): SmoothPiece {
  const x = new Float64Array(count);
  const y = new Float64Array(count);
  for (let k = 0; k < count; k++) {
    const i = (((first + k) % ring.count) + ring.count) % ring.count;
    x[k] = ring.x[i];
    y[k] = ring.y[i];
  }
  const half = smoothingHalf(options.noisePx);
  return { count, first, x, y, smoothX: smooth(x, half), smoothY: smooth(y, half) };
}

/** Where the samples of the stretch between two corners begin and end. */
export function stretchBetween(a: RingCorner, b: RingCorner, count: number): { first: number; count: number } {
  const first = a.index + Math.ceil(a.gap);
  let end = b.index - Math.ceil(b.gap);
  if (b.index <= a.index) end += count;
  return { first, count: Math.max(0, end - first + 1) };
}

function smoothingHalf(noisePx: number): number {
  if (noisePx < 0.06) return 2;
  if (noisePx < 0.12) return 3;
  return noisePx < 0.2 ? 5 : 7;
}

/** A. Savitzky and M. Golay's smoothing by parabolas (Analytical Chemistry 36, 1964), with fewer neighbours towards the ends. */
function smooth(values: Float64Array, half: number): Float64Array {
  const n = values.length;
  return values.map((value, i) => {
    const m = Math.min(half, i, n - 1 - i);
    if (m < 2) return value;
    const scale = 3 / ((2 * m + 3) * (2 * m + 1) * (2 * m - 1));
    let sum = 0;
    for (let k = -m; k <= m; k++) sum += (3 * m * m + 3 * m - 1 - 5 * k * k) * values[i + k];
    return sum * scale;
  });
}
