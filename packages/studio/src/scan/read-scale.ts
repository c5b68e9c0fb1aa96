import { InputError, type Point, parseLength } from '@okuri/core';
import { lengthValue, type Units } from '../words/lengths';
import { SCAN_BOUNDS, type ScanScale } from './settings';

/** How a scale can be told. */
export type ScaleWay = ScanScale['from'];

/** What stands in the lines of the question, as it was typed. */
export interface ScaleTexts {
  readonly dpi: string;
  readonly width: string;
  readonly across: string;
  readonly down: string;
  readonly length: string;
}

/** How many places of the picture a way needs. */
export const PLACES: Readonly<Record<ScaleWay, 0 | 2 | 4>> = { resolution: 0, width: 0, dots: 0, points: 4, ruler: 2 };

/** The scale as it was told; a bare number is in the units of the window. Throws an `InputError` for what is left out or can't be read. */
export function readScaleAnswer(
  way: ScaleWay,
  texts: ScaleTexts,
  { places, units }: { readonly places: readonly Point[]; readonly units: Units },
): ScanScale {
  const length = (name: string, text: string): number => readLength(name, text, units);
  if (places.length < PLACES[way]) {
    throw new InputError(
      way === 'ruler'
        ? 'Point out both places of the ruler on the picture.'
        : 'Point out all four places on the picture, clockwise from the paper’s upper left.',
    );
  }
  switch (way) {
    case 'resolution':
      return { from: way, dpi: readDpi(texts.dpi) };
    case 'width':
      return { from: way, widthMm: length('The width', texts.width) };
    case 'dots':
      return { from: way, ...apart(texts, length) };
    case 'points':
      return { from: way, points: places.slice(0, 4), ...apart(texts, length) };
    case 'ruler':
      return { from: way, points: places.slice(0, 2), lengthMm: length('The length', texts.length) };
  }
}

/** Dots an inch as typed, such as `300` or `300 dpi`. */
export function readDpi(text: string): number {
  const number = text.replace(/\s*dpi\s*$/i, '').trim();
  const dpi = number === '' ? Number.NaN : Number(number);
  const { least, most } = SCAN_BOUNDS.dpi;
  if (dpi >= least && dpi <= most) return dpi;
  throw new InputError(`The resolution is ${JSON.stringify(text)}: give dots an inch, from ${least} to ${most}.`);
}

function apart(
  { across, down }: ScaleTexts,
  length: (name: string, text: string) => number,
): { readonly widthMm: number; readonly heightMm: number } {
  return { widthMm: length('The distance across', across), heightMm: length('The distance down', down) };
}

function readLength(name: string, text: string, units: Units): number {
  if (text.trim() === '') throw new InputError(`${name} is missing: give a length, such as 250 mm.`);
  const mm = parseLength(lengthValue(text, units));
  if (mm > 0) return mm;
  throw new InputError(`${name} is ${JSON.stringify(text)}: it must be above 0.`);
}
