import type { GreyImage } from '@okuri/core';

/** Share of a tile that may be ink before its paper level is taken from the ink. */
const PAPER_QUANTILE = 0.8;

/** Steps of grey in which a tile's paper level is found. */
const STEPS = 256;

/** Paper darker than this share of white is taken as this light: a black tile has no paper. */
const PAPER_MIN = 0.05;

/** Grey of a picture made smaller, as a share of the paper's grey near by: 1 on paper, towards 0 on ink. */
export interface EvenPicture {
  readonly width: number;
  readonly height: number;
  readonly values: Float32Array;
  /** Pixels of the picture that one value covers, across and down. */
  readonly factor: number;
}

/**
 * A quick look at a picture for finding marks: pixels averaged over squares of `factor`, then divided by the level of the paper near by, which is the 0.8
 * quantile of tiles of `tilePx`, bilinear between their middles. It finds marks; it doesn't measure them.
 */
export function evenPaper(
  image: GreyImage,
  { factor, tilePx }: { readonly factor: number; readonly tilePx: number },
): EvenPicture {
  const small = shrunk(image, factor);
  const { width, height, values } = small;
  const tile = Math.max(4, Math.round(tilePx / factor));
  const columns = Math.max(1, Math.round(width / tile));
  const rows = Math.max(1, Math.round(height / tile));
  const levels = tileLevels(small, columns, rows);
  for (let y = 0; y < height; y++) {
    const [r0, r1, v] = between(((y + 0.5) * rows) / height - 0.5, rows);
    for (let x = 0; x < width; x++) {
      const [c0, c1, u] = between(((x + 0.5) * columns) / width - 0.5, columns);
      const upper = levels[r0 * columns + c0] * (1 - u) + levels[r0 * columns + c1] * u;
      const lower = levels[r1 * columns + c0] * (1 - u) + levels[r1 * columns + c1] * u;
      values[y * width + x] /= upper * (1 - v) + lower * v;
    }
  }
  return { width, height, values, factor };
}

/** Averages over squares of `factor` pixels; the last row and column take what is left. */
function shrunk({ width, height, values, white }: GreyImage, factor: number): EvenPicture {
  const [w, h] = [Math.ceil(width / factor), Math.ceil(height / factor)];
  const sums = new Float32Array(w * h);
  for (let j = 0; j < h; j++) {
    const [y0, y1] = [j * factor, Math.min((j + 1) * factor, height)];
    for (let y = y0; y < y1; y++) {
      for (let x = 0, i = 0, left = factor; x < width; x++) {
        sums[j * w + i] += values[y * width + x];
        if (--left === 0) {
          left = factor;
          i++;
        }
      }
    }
    for (let i = 0; i < w; i++) {
      sums[j * w + i] /= white * (y1 - y0) * (Math.min((i + 1) * factor, width) - i * factor);
    }
  }
  return { width: w, height: h, values: sums, factor };
}

function tileLevels({ width, height, values }: EvenPicture, columns: number, rows: number): Float64Array {
  const levels = new Float64Array(columns * rows);
  const counts = new Uint32Array(STEPS);
  for (let r = 0; r < rows; r++) {
    const [y0, y1] = [Math.floor((r * height) / rows), Math.floor(((r + 1) * height) / rows)];
    for (let c = 0; c < columns; c++) {
      const [x0, x1] = [Math.floor((c * width) / columns), Math.floor(((c + 1) * width) / columns)];
      counts.fill(0);
      for (let y = y0; y < y1; y++) {
        for (let x = x0; x < x1; x++) counts[Math.min(STEPS - 1, Math.floor(values[y * width + x] * STEPS))]++;
      }
      let left = PAPER_QUANTILE * (y1 - y0) * (x1 - x0);
      let step = 0;
      while (step < STEPS - 1 && left > counts[step]) left -= counts[step++];
      levels[r * columns + c] = Math.max(PAPER_MIN, (step + 0.5) / STEPS);
    }
  }
  return levels;
}

function between(at: number, count: number): readonly [number, number, number] {
  const low = Math.min(Math.max(Math.floor(at), 0), count - 1);
  const high = Math.min(low + 1, count - 1);
  return [low, high, Math.min(Math.max(at - low, 0), 1)];
}
