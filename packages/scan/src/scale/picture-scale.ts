import { InputError, type Point } from '@okuri/core';
import { distance, MM_PER_INCH } from '@okuri/core/inside';
import type { PictureScale } from '../types.js';
import { homographyOf } from './homography.js';

/** Pixels in a length, across and down: scanners may differ between the two. */
export interface Resolution {
  readonly across: number;
  readonly down: number;
  readonly unit: 'inch' | 'cm' | 'mm';
}

const MM_IN = { inch: MM_PER_INCH, cm: 10, mm: 1 } as const;
const SAID_AS = { inch: 'dpi', cm: 'px/cm', mm: 'px/mm' } as const;

/** px/mm. Below 2 (50 dpi) a pen line of 0.5 mm is one pixel wide. Common practice, no published source. */
export const PIXELS_PER_MM_MIN = 2;

/** px/mm. 5080 dpi: finer than scanners of paper are; a unit was taken for another. Common practice, no published source. */
export const PIXELS_PER_MM_MAX = 200;

/** A scanner's two resolutions differ by parts in a hundred at the most; one is wrong beyond this factor. */
const ACROSS_DOWN_MAX = 2;

/** Two places of a ruler closer than this can't be pointed out well enough: ±1 px is 2 %. */
const RULER_MIN_PX = 50;

/** Resolutions (dpi) that programs and cameras write without having measured one: 72 in JFIF and EXIF by default (EXIF 2.3, §4.6.4, XResolution). */
const UNMEASURED_DPI = [72, 96];

/** The scale by the resolution that a file states (`file`) or a person gives (`resolution`). The origin is the picture's upper left. */
export function scaleFromResolution(resolution: Resolution, from: 'file' | 'resolution'): PictureScale {
  const { across, down, unit } = resolution;
  const said = sayResolution(resolution);
  const source = from === 'file' ? 'the file says' : 'was given';
  if (!(Number.isFinite(across) && Number.isFinite(down) && across > 0 && down > 0)) {
    throw new InputError(
      `A resolution of ${said} ${source}, which is none: give the picture's resolution in dpi, or four dots of known distance.`,
    );
  }
  if (Math.max(across / down, down / across) > ACROSS_DOWN_MAX) {
    throw new InputError(
      `${said} across and down ${source}, which can't both be right: give the picture's resolution in dpi, or four dots of known distance.`,
    );
  }
  const [mmAcross, mmDown] = [MM_IN[unit] / across, MM_IN[unit] / down];
  const pixelsPerMm = 1 / Math.sqrt(mmAcross * mmDown);
  checkPixelsPerMm(pixelsPerMm, `${said}, as ${from === 'file' ? 'the file says' : 'given'},`);
  return {
    toMm: homographyOf([mmAcross, 0, 0, mmDown, 0, 0]),
    from,
    pixelsPerMm,
    perspective: false,
    words: `${said}, as ${from === 'file' ? 'the file says' : 'given'}${from === 'file' && looksUnmeasured(resolution) ? ' (many programs write this without having measured it)' : ''}`,
  };
}

/** Whether a resolution is one that files carry when nobody measured: 72 or 96 dpi. Then another way to the scale is safer. */
export function looksUnmeasured({ across, down, unit }: Resolution): boolean {
  const dpi = Math.round((across * MM_PER_INCH) / MM_IN[unit]);
  return dpi === Math.round((down * MM_PER_INCH) / MM_IN[unit]) && UNMEASURED_DPI.includes(dpi);
}

/** The scale by two places of a picture (px) and the length between them, such as of a ruler that lies in it. The origin is the picture's upper left. */
export function scaleFromRuler(points: readonly Point[], lengthMm: number): PictureScale {
  if (points.length !== 2) throw new RangeError(`got ${points.length} places of a ruler, expected 2`);
  const [a, b] = points;
  const px = distance(b, a);
  if (!(Number.isFinite(lengthMm) && lengthMm > 0)) {
    throw new InputError(`The length between the two places is ${lengthMm} mm: give one above 0 mm.`);
  }
  if (!(px >= RULER_MIN_PX && Number.isFinite(px))) {
    throw new InputError(
      `The two places of the ruler are ${px.toFixed(0)} px apart, too close to tell a scale: choose places at least ${RULER_MIN_PX} px apart, best across the whole drawing.`,
    );
  }
  const mm = lengthMm / px;
  const length = sayMm(lengthMm);
  checkPixelsPerMm(1 / mm, `A length of ${length} mm over ${px.toFixed(0)} px`);
  return {
    toMm: homographyOf([mm, 0, 0, mm, 0, 0]),
    from: 'ruler',
    pixelsPerMm: 1 / mm,
    perspective: false,
    words: `a length of ${length} mm between two places`,
  };
}

/** Throws an `InputError` for scales at which a drawing can't be traced or a unit must be wrong. `what` begins the sentence. */
export function checkPixelsPerMm(pixelsPerMm: number, what: string): void {
  if (pixelsPerMm < PIXELS_PER_MM_MIN) {
    throw new InputError(
      `${what} makes ${pixelsPerMm.toFixed(2)} pixels a mm, too few to follow a pen line (${PIXELS_PER_MM_MIN} at the least): scan at 200 dpi or more, or check the unit.`,
    );
  }
  if (pixelsPerMm > PIXELS_PER_MM_MAX) {
    throw new InputError(
      `${what} makes ${pixelsPerMm.toFixed(0)} pixels a mm, more than any scanner of paper has (${PIXELS_PER_MM_MAX} at the most): check the unit.`,
    );
  }
}

/** A length for a sentence, mm without the unit: at most two digits after the point. */
export function sayMm(mm: number): string {
  return `${Number(mm.toFixed(2))}`;
}

function sayResolution({ across, down, unit }: Resolution): string {
  const [a, d] = [Number(across.toFixed(1)), Number(down.toFixed(1))];
  return `${a === d ? a : `${a} × ${d}`} ${SAID_AS[unit]}`;
}
