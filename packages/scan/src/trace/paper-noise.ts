import type { GreyImage } from '@okuri/core';

/** Pixels looked at: more would not make the estimate better than a percent. */
const SAMPLES = 400_000;

/**
 * The standard deviation of noise on even paper, 0 … 1: of the response to a mask that even and sloping greys leave at zero (J. Immerkær, Fast Noise Variance
 * Estimation, CVIU 64 (1996) 300), at pixels that are all nearer to `paper` than a quarter of the way to `ink` (0 … 1). 0 for a picture too small to tell.
 */
export function paperNoise(
  { width, height, values, white }: GreyImage,
  { ink, paper }: { ink: number; paper: number },
): number {
  const middle = paper * white;
  const most = (Math.abs(paper - ink) * white) / 4;
  const rows = Math.max(1, Math.floor((width * height) / SAMPLES));
  let sum = 0;
  let count = 0;
  for (let y = 1; y < height - 1; y += rows) {
    for (let x = 1, k = y * width + 1; x < width - 1; x++, k++) {
      const up = k - width;
      const down = k + width;
      const [a, b, c] = [values[up - 1], values[up], values[up + 1]];
      const [d, e, f] = [values[k - 1], values[k], values[k + 1]];
      const [g, h, i] = [values[down - 1], values[down], values[down + 1]];
      if (Math.abs(e - middle) > most) continue;
      const low = Math.min(a, b, c, d, f, g, h, i);
      const high = Math.max(a, b, c, d, f, g, h, i);
      if (middle - low > most || high - middle > most) continue;
      sum += Math.abs(a + c + g + i - 2 * (b + d + f + h) + 4 * e);
      count++;
    }
  }
  return count === 0 ? 0 : (Math.sqrt(Math.PI / 2) * sum) / (6 * count) / white;
}
