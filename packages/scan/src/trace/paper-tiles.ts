import type { GreyImage } from '@okuri/core';

/** The grey of paper at the middles of square tiles, row by row, in units of the picture's own greys; -1 where it isn't known. */
export interface PaperTiles {
  readonly tilePx: number;
  readonly columns: number;
  readonly rows: number;
  readonly greys: Float64Array;
}

/** Paper is looked for from this share of a tile's lightest pixels on: lighter ones may be grains and glints. */
const LIGHTEST = 0.06;

/** Half the width of the range of greys that paper has in one tile, of white. */
const HALF_RANGE = 0.06;

/** Least share of a tile that has to lie in that range for it to be taken for paper: less may be the sides of lines. */
const LEAST_SHARE = 0.3;

/** Paper of this share of the lightest paper's grey, or more, is paper. */
const LIT = 0.7;

/** From tile to tile light falls off no faster than by this share; ink on paper does. */
const FALL_OFF = 0.8;

/** Rounds in which paper is grown and bridged. */
const ROUNDS = 12;

/** Grey of paper in every tile, bridged where ink covers it: null where no tile shows paper. */
export function paperTiles(image: GreyImage, tilePx: number, within: Uint8Array | null = null): PaperTiles | null {
  const columns = Math.ceil(image.width / tilePx);
  const rows = Math.ceil(image.height / tilePx);
  const seen = new Float64Array(columns * rows);
  for (let r = 0; r < rows; r++) {
    for (let c = 0; c < columns; c++) seen[r * columns + c] = lightestGrey(image, tilePx, c, r, within);
  }
  const known = seen.filter((grey) => grey >= 0).sort();
  if (known.length === 0) return null;
  const lightest = known[Math.floor(0.95 * (known.length - 1))];
  const greys = seen.map((grey) => (grey >= LIT * lightest ? grey : -1));
  const tiles = { tilePx, columns, rows, greys };
  let filled: Float64Array = greys;
  for (let round = 0; round < ROUNDS; round++) {
    grow(tiles, seen);
    filled = bridged(tiles);
    // What light ink has parted from the rest is paper where it is about as light as the bridge over it.
    let more = 0;
    for (let k = 0; k < greys.length; k++) {
      if (greys[k] >= 0 || seen[k] < FALL_OFF * filled[k]) continue;
      greys[k] = seen[k];
      more++;
    }
    if (more === 0) break;
  }
  return { tilePx, columns, rows, greys: filled };
}

/** The grey of a tile's lightest large share of pixels: their median after three steps towards where they are most dense; -1 for none. */
function lightestGrey(image: GreyImage, tilePx: number, c: number, r: number, within: Uint8Array | null): number {
  const { width, height, values, white } = image;
  const shift = white === 255 ? 0 : 8;
  const counts = new Int32Array(256);
  const x1 = Math.min(width, (c + 1) * tilePx);
  const y1 = Math.min(height, (r + 1) * tilePx);
  let total = 0;
  for (let y = r * tilePx; y < y1; y++) {
    for (let k = y * width + c * tilePx, end = y * width + x1; k < end; k++) {
      if (within !== null && within[k] !== 255) continue;
      counts[values[k] >> shift]++;
      total++;
    }
  }
  if (total === 0) return -1;
  let middle = 255;
  for (let left = LIGHTEST * total; middle > 0; middle--) {
    left -= counts[middle];
    if (left <= 0) break;
  }
  const half = Math.round(HALF_RANGE * 255);
  let held = 0;
  for (let step = 0; step < 3; step++) {
    const low = Math.max(0, middle - half);
    const high = Math.min(255, middle + half);
    held = 0;
    for (let grey = low; grey <= high; grey++) held += counts[grey];
    let left = held / 2;
    middle = low;
    while (middle < high && left > counts[middle]) left -= counts[middle++];
  }
  return held < LEAST_SHARE * total ? -1 : shift === 0 ? middle : middle * 257;
}

/** Takes tiles beside known ones for paper where the light can fall off from one to the other. */
function grow({ columns, rows, greys }: PaperTiles, seen: Float64Array): void {
  const queue: number[] = [];
  for (let k = 0; k < greys.length; k++) if (greys[k] >= 0) queue.push(k);
  for (let at = 0; at < queue.length; at++) {
    const k = queue[at];
    const c = k % columns;
    const r = (k - c) / columns;
    for (const n of [
      c > 0 ? k - 1 : -1,
      c < columns - 1 ? k + 1 : -1,
      r > 0 ? k - columns : -1,
      r < rows - 1 ? k + columns : -1,
    ]) {
      if (n < 0 || greys[n] >= 0 || seen[n] < FALL_OFF * greys[k]) continue;
      greys[n] = seen[n];
      queue.push(n);
    }
  }
}

/** Sweeps over a level of the pyramid that settle a bridge. */
const SWEEPS = 24;

/**
 * The tiles with unknown ones bridged by the smoothest surface, on which each is the mean of its neighbours (Laplace's equation: a bridge over an even slope is that
 * slope), from coarse to fine (first pulled from a halved picture: S. J. Gortler et al., The Lumigraph, SIGGRAPH 1996, §3.4, "pull–push").
 */
function bridged({ columns, rows, greys }: PaperTiles): Float64Array {
  const filled = Float64Array.from(greys);
  if (!filled.includes(-1) || (columns === 1 && rows === 1)) return filled;
  const halfColumns = Math.ceil(columns / 2);
  const halfRows = Math.ceil(rows / 2);
  const sums = new Float64Array(halfColumns * halfRows);
  const counts = new Float64Array(sums.length);
  for (let k = 0; k < greys.length; k++) {
    if (greys[k] < 0) continue;
    const c = k % columns;
    const h = (((k - c) / columns) >> 1) * halfColumns + (c >> 1);
    sums[h] += greys[k];
    counts[h]++;
  }
  const half = sums.map((sum, k) => (counts[k] === 0 ? -1 : sum / counts[k]));
  const coarse = bridged({ tilePx: 0, columns: halfColumns, rows: halfRows, greys: half });
  const unknown: number[] = [];
  for (let k = 0; k < greys.length; k++) {
    if (greys[k] >= 0) continue;
    unknown.push(k);
    const c = k % columns;
    filled[k] = coarse[(((k - c) / columns) >> 1) * halfColumns + (c >> 1)];
  }
  for (let sweep = 0; sweep < SWEEPS; sweep++) {
    for (const k of unknown) {
      const c = k % columns;
      const left = filled[c > 0 ? k - 1 : k];
      const right = filled[c < columns - 1 ? k + 1 : k];
      const up = filled[k >= columns ? k - columns : k];
      const down = filled[k + columns < filled.length ? k + columns : k];
      filled[k] = (left + right + up + down) / 4;
    }
  }
  return filled;
}
