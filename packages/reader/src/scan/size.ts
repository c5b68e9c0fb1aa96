import { InputError } from '@okuri/core';

/** More pixels are refused before anything is decoded: A2 at 600 dpi has 139 million, A1 278 million. */
export const MAX_SCAN_PIXELS = 300e6;
/** More pixels are reduced by a whole factor: A4 at 600 dpi has 35 million, A3 70 million. */
export const FULL_SCAN_PIXELS = 80e6;
/** A picture with a shorter side holds no drawing. */
const MIN_SIDE_PX = 16;

/** Sides of a picture, px. */
export interface Sides {
  readonly width: number;
  readonly height: number;
}

/** Throws an `InputError` for a picture that is too large or too small to be read as a scan. */
export function checkSides({ width, height }: Sides, name: string): void {
  if (width * height > MAX_SCAN_PIXELS) {
    throw new InputError(
      `${name} has ${megapixels({ width, height })} million pixels (${width} by ${height}): at most ${MAX_SCAN_PIXELS / 1e6} million are read; ` +
        'scan it at a lower resolution, or in parts that overlap.',
    );
  }
  if (Math.min(width, height) < MIN_SIDE_PX) {
    throw new InputError(
      `${name} is ${width} by ${height} pixels: too small to hold a drawing; scan it at 200 dpi or more.`,
    );
  }
}

/** By how many the sides are divided so that no more than `maxPixels` are left; 1 for a picture that stays as it is. */
export function reducingFactor({ width, height }: Sides, maxPixels: number): number {
  return Math.max(1, Math.ceil(Math.sqrt((width * height) / maxPixels)));
}

/** What has to be said of a picture that was reduced; nothing where it was not. */
export function reducedRemarks(sides: Sides, factor: number): string[] {
  if (factor === 1) return [];
  return [
    `it has ${megapixels(sides)} million pixels and is reduced to one ${ordinal(factor)} of its width and height`,
  ];
}

function megapixels({ width, height }: Sides): number {
  return Math.round((width * height) / 1e6);
}

function ordinal(factor: number): string {
  return ['', '', 'half', 'third', 'quarter'][factor] ?? `${factor}th`;
}
