import type { GreyImage } from '@okuri/core';

/** Width of a Gaussian that is cut off, standard deviations: what lies beyond holds under 0.3 %. */
const CUT_OFF = 3;

/**
 * The picture smoothed by a Gaussian of standard deviation `sigmaPx`, which leaves the middle of every straight edge where it is. Rows first, then columns, over a few rows
 * of memory; the picture goes on beyond its edges as it ends.
 */
export function smoothImage(image: GreyImage, sigmaPx: number): GreyImage {
  const { width, height, values, white } = image;
  const reach = Math.max(1, Math.ceil(CUT_OFF * sigmaPx));
  const weights = gaussian(sigmaPx, reach);
  const size = 2 * reach + 1;
  const out = white === 255 ? new Uint8Array(values.length) : new Uint16Array(values.length);
  // Rows smoothed along, by their number modulo the window's height.
  const rows = Array.from({ length: size }, () => new Float32Array(width));
  const padded = new Float32Array(width + 2 * reach);
  const sum = new Float32Array(width);
  for (let y = -reach; y < height + reach; y++) {
    const row = rows[(y + size) % size];
    const from = Math.min(height - 1, Math.max(0, y)) * width;
    for (let k = 0; k < padded.length; k++) padded[k] = values[from + Math.min(width - 1, Math.max(0, k - reach))];
    row.fill(0);
    weights.forEach((weight, tap) => {
      for (let x = 0; x < width; x++) row[x] += weight * padded[x + tap];
    });
    const middle = y - reach;
    if (middle < 0) continue;
    sum.fill(0.5);
    weights.forEach((weight, tap) => {
      const line = rows[(middle - reach + tap + size) % size];
      for (let x = 0; x < width; x++) sum[x] += weight * line[x];
    });
    for (let x = 0, k = middle * width; x < width; x++, k++) out[k] = sum[x];
  }
  return { width, height, values: out, white };
}

/** Weights that add up to one. */
function gaussian(sigma: number, reach: number): number[] {
  const weights = Array.from({ length: 2 * reach + 1 }, (_, k) => Math.exp(-((k - reach) ** 2) / (2 * sigma * sigma)));
  const total = weights.reduce((a, b) => a + b, 0);
  return weights.map((w) => w / total);
}
