import type { GreyImage } from '@okuri/core';
import type { InkLevel } from './ink-level.js';

/** Lighter strips in ink, as narrow as this or narrower, are cracks where a fold broke the ink, unless they are as light as paper: no knife cuts between edges so near. mm. */
const CRACK_MM = 0.25;

/** Share of the way from ink to paper from which on a pixel is as light as paper. */
const AS_PAPER = 0.8;

/** Share up to which a pixel is ink for certain: pencil is lighter. */
const AS_INK = 0.3;

/** So near to paper a strip belongs to it: the edge of ink, and the tip of a wedge of paper. px. */
const BESIDE_PX = 1.5;

/** Fewest pixels across that a strip of paper has: narrower ones are no strips but edges. */
const LEAST_SIDE_PX = 2;

/** Ways in which a crack may be crossed. */
const ACROSS = [
  [1, 0],
  [0, 1],
  [1, 1],
  [1, -1],
] as const;

/**
 * The picture with narrow cracks in ink filled: pixels lighter than ink that lie in no light square of `CRACK_MM` (an opening: J. Serra, Image Analysis and
 * Mathematical Morphology, 1982), have none as light as paper beside them, and lie between ink become ink. So a fold cuts no line in two; gaps that a person drew stay open, even
 * where pencil runs across. Comes back as it is where it has no cracks.
 */
export function fillCracks(image: GreyImage, greys: InkLevel, pixelsPerMm: number): GreyImage {
  const { width, height, values, white } = image;
  const level = greys.level * white;
  const light = (greys.ink + AS_PAPER * (greys.paper - greys.ink)) * white;
  const side = Math.max(LEAST_SIDE_PX, Math.round(CRACK_MM * pixelsPerMm));
  const reach = Math.floor(BESIDE_PX);
  const dark = (greys.ink + AS_INK * (greys.paper - greys.ink)) * white;
  const cracks: number[] = [];

  function besidePaper(x: number, y: number): boolean {
    for (let j = Math.max(0, y - reach); j <= Math.min(height - 1, y + reach); j++) {
      for (let i = Math.max(0, x - reach); i <= Math.min(width - 1, x + reach); i++) {
        if (values[j * width + i] >= light) return true;
      }
    }
    return false;
  }

  /** Whether a square with its upper left pixel there is light all over; what lies outside of the picture is light. */
  function openAt(left: number, top: number): boolean {
    const [x1, y1] = [Math.min(width, left + side), Math.min(height, top + side)];
    for (let y = Math.max(0, top); y < y1; y++) {
      for (let x = Math.max(0, left), k = y * width + x; x < x1; x++, k++) if (values[k] < level) return false;
    }
    return true;
  }

  function inOpen(x: number, y: number): boolean {
    for (let top = y - side + 1; top <= y; top++) {
      for (let left = x - side + 1; left <= x; left++) if (openAt(left, top)) return true;
    }
    return false;
  }

  function inkTowards(x: number, y: number, dx: number, dy: number): boolean {
    for (let step = 1; step <= side + 1; step++) {
      const [i, j] = [x + step * dx, y + step * dy];
      if (i < 0 || j < 0 || i >= width || j >= height) return false;
      if (values[j * width + i] <= dark) return true;
    }
    return false;
  }

  function betweenInk(x: number, y: number): boolean {
    return ACROSS.some(([dx, dy]) => inkTowards(x, y, dx, dy) && inkTowards(x, y, -dx, -dy));
  }

  for (let y = 0, k = 0; y < height; y++) {
    for (let x = 0; x < width; x++, k++) {
      const grey = values[k];
      if (grey < level || grey >= light) continue;
      if (!besidePaper(x, y) && betweenInk(x, y) && !inOpen(x, y)) cracks.push(k);
    }
  }
  if (cracks.length === 0) return image;
  const out = values.slice();
  const ink = Math.round(greys.ink * white);
  for (const k of cracks) out[k] = ink;
  return { width, height, values: out, white };
}
