import { fitParabola } from './ring-local.js';
import type { RingSamples } from './ring-samples.js';

/** Samples on either side of the one whose surroundings are looked at. */
const HALF = 3;
/** Windows looked at: enough to know a median to some percent. */
const WINDOWS = 500;
/** Even samples lie between points and so have less noise: two thirds of its variance on average (a straight share of two neighbours). */
const EVENED = 2 / 3;

/** Standard deviation of a ring's points across its line, px, from how far samples lie off parabolas through seven of them (by the median, which corners don't move). */
export function ringNoise({ count, x, y }: RingSamples): number {
  const width = 2 * HALF + 1;
  if (count < width) return 0;
  const xs = new Float64Array(width);
  const ys = new Float64Array(width);
  const stride = Math.max(1, Math.floor(count / WINDOWS));
  const variances: number[] = [];
  for (let i = 0; i < count; i += stride) {
    for (let k = 0; k < width; k++) {
      xs[k] = x[(i + k) % count];
      ys[k] = y[(i + k) % count];
    }
    variances.push(fitParabola(xs, ys, HALF, 0, width - 1).rms ** 2);
  }
  const median = Float64Array.from(variances).sort()[variances.length >> 1];
  // Seven samples less three of the parabola; the median of a sum of four squares is 0.84 of its mean.
  return Math.sqrt((median * width) / (width - 3) / 0.84 / EVENED);
}
