import type { GreyImage } from '@okuri/core';
import { paperTiles } from './paper-tiles.js';

/** Tiles along the shorter side of a picture of which no scale is known, and their least and largest size, px. */
const TILES = 64;
const LEAST_TILE_PX = 16;
const LARGEST_TILE_PX = 64;

/** Paper that varies by less than this over the picture is evenly lit, of white: the rounding of eight bits and a little more. */
const EVEN = 1.5 / 255;

export interface EvenLightOptions {
  /** Side of the tiles in which paper is looked for, px: best about 2 mm, wider than lines and narrower than shadows. */
  readonly tilePx?: number;
  /** Pixels to look at: 255 for those wholly in, one for each pixel. All, by default. */
  readonly within?: Uint8Array | null;
}

/**
 * The picture as it would be under even light: divided by the grey of its paper, which is found tile by tile, bridged where ink covers it, and taken for an even
 * surface between (the estimate of the background from what is surely background, as in B. Gatos, I. Pratikakis and S. J. Perantonis, Adaptive Degraded Document Image
 * Binarization, Pattern Recognition 39 (2006) 317, §3.3). Light falls off softly and ink begins at once: that tells a shadow from a black area of any size. Division is right for
 * greys as cameras and scanners code them, by a power of the light. Paper keeps its middle grey; an evenly lit picture comes back as it is.
 */
export function evenLight(image: GreyImage, options: EvenLightOptions = {}): GreyImage {
  const { width, height, values, white } = image;
  const least = Math.min(width, height);
  const tilePx = options.tilePx ?? Math.min(LARGEST_TILE_PX, Math.max(LEAST_TILE_PX, Math.round(least / TILES)));
  if (!(Number.isInteger(tilePx) && tilePx > 0)) throw new RangeError(`got tiles of ${tilePx} px, expected 1 or more`);
  const tiles = paperTiles(image, tilePx, options.within ?? null);
  if (tiles === null) return image;
  const { columns, rows, greys } = tiles;
  const sorted = Float64Array.from(greys).sort();
  const paper = sorted[sorted.length >> 1];
  const unevenness = Math.max(sorted[sorted.length - 1] - paper, paper - sorted[0]);
  if (unevenness <= EVEN * white || paper <= 0) return image;
  const gains = greys.map((grey) => paper / Math.max(grey, 1));
  const out = white === 255 ? new Uint8Array(values.length) : new Uint16Array(values.length);
  const gainRow = new Float64Array(columns);
  for (let y = 0; y < height; y++) {
    const v = Math.min(rows - 1, Math.max(0, (y + 0.5) / tilePx - 0.5));
    const r = Math.min(rows - 1, Math.floor(v));
    const next = Math.min(rows - 1, r + 1);
    for (let c = 0; c < columns; c++) {
      gainRow[c] = gains[r * columns + c] + (v - r) * (gains[next * columns + c] - gains[r * columns + c]);
    }
    evenRow(values, out, { from: y * width, width, white, tilePx, gains: gainRow });
  }
  return { width, height, values: out, white };
}

function evenRow(
  values: GreyImage['values'],
  out: Uint8Array | Uint16Array,
  row: { from: number; width: number; white: number; tilePx: number; gains: Float64Array },
): void {
  const { from, width, white, tilePx, gains } = row;
  const last = gains.length - 1;
  // From the middle of one tile to the middle of the next the gain runs straight.
  for (let c = -1, x = 0; x < width; c++) {
    const end = c === last ? width : Math.min(width, Math.ceil((c + 1.5) * tilePx - 0.5));
    const start = gains[Math.max(0, c)];
    const slope = (gains[Math.min(last, c + 1)] - start) / tilePx;
    for (; x < end; x++) {
      const even = values[from + x] * (start + slope * (x + 0.5 - (c + 0.5) * tilePx)) + 0.5;
      out[from + x] = Math.min(even, white);
    }
  }
}
