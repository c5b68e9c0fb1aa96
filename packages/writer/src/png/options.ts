import { InputError, type Page } from '@okuri/core';

export interface PixelOptions {
  /** Wanted pixels for a millimetre. Cloth may come out up to `PITCH_TOLERANCE` finer or coarser, apart across and along. */
  readonly pixelsPerMm: number;
}

/** Pixels for a millimetre across and along. */
export interface Resolution {
  readonly x: number;
  readonly y: number;
}

/** Rows of 8-bit samples without padding, from the upper left. */
export interface Pixels {
  readonly data: Uint8Array;
  readonly width: number;
  readonly height: number;
  /** 1: shares of the second of two `colours`, 0 to 255. 3: red, green, blue. */
  readonly channels: 1 | 3;
  /** The colours that 0 and 255 stand for; only with one channel. */
  readonly colours?: readonly [string, string];
  /** What came of the wanted pixels for a millimetre. */
  readonly resolution: Resolution;
}

/**
 * Largest picture, in pixels. Three channels of it take 600 MB, and writing the file about as much again; a process that is to
 * stay under 2 GB has room for no more.
 */
export const MAX_PIXELS = 200_000_000;

/** Largest share by which a picture of cloth may be finer or coarser than asked for, so that copies land on whole pixels. */
export const PITCH_TOLERANCE = 1e-3;

/** The paper of a picture: what shows where nothing is drawn. */
export const PAPER = '#ffffff';

/**
 * Width and height of a page in whole pixels, at least one each. Throws an `InputError` for a resolution that is not above zero and
 * for a picture of more than `MAX_PIXELS`.
 */
export function pixelSize(page: Page, resolution: Resolution): { readonly width: number; readonly height: number } {
  for (const value of [resolution.x, resolution.y]) {
    if (!(value > 0 && value < Infinity))
      throw new InputError(`A picture needs pixels per mm above zero, got ${value}.`);
  }
  const width = Math.max(1, Math.round(page.widthMm * resolution.x));
  const height = Math.max(1, Math.round(page.heightMm * resolution.y));
  if (width * height > MAX_PIXELS) {
    const most = Math.floor(Math.sqrt(MAX_PIXELS / (page.widthMm * page.heightMm)) * 100) / 100;
    throw new InputError(
      `The picture of "${page.name}" would be ${width} × ${height} pixels, more than ${MAX_PIXELS / 1e6} million; take ${most} pixels per mm or fewer.`,
    );
  }
  return { width, height };
}
