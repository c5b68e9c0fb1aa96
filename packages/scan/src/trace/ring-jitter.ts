import type { GreyRing } from '../types.js';

/** Points looked at: more would not make the estimate better than a percent or two. */
const SAMPLES = 20_000;

/** Points from one to the next that are compared: smoothing and JPEG move neighbours alike, and hide what they do from any closer look. */
const LAG = 3;

/** Rings of fewer points have too few bends apart to compare. */
const LEAST_POINTS = 40;

/**
 * The standard deviation, px, by which points of rings lie off a smooth line, from fourth differences across the line, which vanish for cubics (weights 1, −4, 6, −4, 1, whose squares
 * add up to 70): by their median, which corners don't move (median absolute deviation, 1.4826 for a normal law). Whatever moves edges shows in it: noise, grain of the paper, JPEG.
 */
export function ringJitter(rings: readonly GreyRing[]): number {
  let total = 0;
  for (const { points } of rings) total += points.length / 2;
  const stride = Math.max(1, Math.floor(total / SAMPLES));
  const off: number[] = [];
  for (const { points } of rings) {
    const n = points.length / 2;
    if (n < LEAST_POINTS) continue;
    for (let k = 0; k < n; k += stride) {
      const a = 2 * ((k + n - 2 * LAG) % n);
      const b = 2 * ((k + n - LAG) % n);
      const c = 2 * k;
      const d = 2 * ((k + LAG) % n);
      const e = 2 * ((k + 2 * LAG) % n);
      const difference = (s: 0 | 1): number =>
        points[a + s] - 4 * (points[b + s] + points[d + s]) + 6 * points[c + s] + points[e + s];
      const wayX = points[d] - points[b];
      const wayY = points[d + 1] - points[b + 1];
      const length = Math.hypot(wayX, wayY);
      if (length > 0) off.push(Math.abs(wayX * difference(1) - wayY * difference(0)) / length);
    }
  }
  if (off.length === 0) return 0;
  const sorted = Float64Array.from(off).sort();
  return (1.4826 * sorted[sorted.length >> 1]) / Math.sqrt(70);
}
