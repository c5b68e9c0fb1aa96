import { generator } from './proof-print.js';

/** Values of a field repeat after so many steps; turned fields of several sizes together don't show it. */
const PERIOD = 256;

/** A smooth random function of the place on a sheet (mm), about −1 to 1. */
export type Field = (x: number, y: number) => number;

/** Value noise (K. Perlin, An Image Synthesizer, SIGGRAPH 1985: random values on a lattice, blended by 3t² − 2t³) with features of `widthMm` across and `lengthMm` along. */
export function field(seed: number, widthMm: number, lengthMm = widthMm): Field {
  const random = generator(seed);
  const values = Float32Array.from({ length: PERIOD * PERIOD }, () => 2 * random() - 1);
  const turn = random() * Math.PI;
  const [ux, uy] = [Math.cos(turn) / widthMm, Math.sin(turn) / widthMm];
  const [vx, vy] = [-Math.sin(turn) / lengthMm, Math.cos(turn) / lengthMm];
  return (x, y) => {
    const u = x * ux + y * uy;
    const v = x * vx + y * vy;
    const i = Math.floor(u);
    const j = Math.floor(v);
    const s = (u - i) * (u - i) * (3 - 2 * (u - i));
    const t = (v - j) * (v - j) * (3 - 2 * (v - j));
    const left = i & (PERIOD - 1);
    const right = (i + 1) & (PERIOD - 1);
    const upper = (j & (PERIOD - 1)) * PERIOD;
    const lower = ((j + 1) & (PERIOD - 1)) * PERIOD;
    const above = values[upper + left] + s * (values[upper + right] - values[upper + left]);
    const below = values[lower + left] + s * (values[lower + right] - values[lower + left]);
    return above + t * (below - above);
  };
}

/** Mean over a square window of Gaussian weights, in place: the picture goes on beyond its edges as it ends. */
export function blurred(values: Float32Array, width: number, height: number, sigmaPx: number): void {
  if (sigmaPx <= 0) return;
  const reach = Math.max(1, Math.ceil(3 * sigmaPx));
  const weights = Float64Array.from({ length: 2 * reach + 1 }, (_, k) =>
    Math.exp(-((k - reach) ** 2) / 2 / sigmaPx ** 2),
  );
  const total = weights.reduce((a, b) => a + b, 0);
  weights.forEach((w, k) => {
    weights[k] = w / total;
  });
  const padded = new Float32Array(width + 2 * reach);
  for (let y = 0; y < height; y++) {
    const row = values.subarray(y * width, (y + 1) * width);
    padded.fill(row[0], 0, reach);
    padded.set(row, reach);
    padded.fill(row[width - 1], reach + width);
    row.fill(0);
    for (let tap = 0; tap < weights.length; tap++) {
      for (let x = 0; x < width; x++) row[x] += weights[tap] * padded[x + tap];
    }
  }
  // Columns over a window of rows that moves down: rows are taken before they are written over.
  const size = 2 * reach + 1;
  const held = Array.from({ length: size }, () => new Float32Array(width));
  const take = (y: number): void => {
    const from = Math.min(height - 1, Math.max(0, y)) * width;
    held[(y + size * reach) % size].set(values.subarray(from, from + width));
  };
  for (let y = -reach; y < reach; y++) take(y);
  for (let y = 0; y < height; y++) {
    take(y + reach);
    const row = values.subarray(y * width, (y + 1) * width);
    row.fill(0);
    for (let tap = 0; tap < size; tap++) {
      const line = held[(y - reach + tap + size * reach) % size];
      for (let x = 0; x < width; x++) row[x] += weights[tap] * line[x];
    }
  }
}
