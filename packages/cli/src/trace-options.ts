import { type Box, InputError, type Point, parseLength } from '@okuri/core';
import { findPaper } from '@okuri/core/inside';
import type { Glass } from '@okuri/reader/scan';
import type { ScaleRequest } from '@okuri/scan';

/** What a person says about how a scan is traced, as texts of the command line. */
export interface TraceTexts {
  readonly resolution?: string;
  readonly dots?: string;
  readonly points?: string;
  readonly apart?: string;
  readonly ruler?: string;
  readonly length?: string;
  readonly inkLevel?: string;
  readonly smooth?: string;
  readonly speck?: string;
  readonly pinhole?: string;
  readonly keep?: string;
  readonly glass?: string;
}

/** Resolutions that a scanner may have, dots an inch. */
const DPI = { min: 50, max: 5_000 } as const;
/** The threshold moves by shares of the step from ink to paper. */
const INK_LEVEL = { min: -0.4, max: 0.4 } as const;
const SMOOTH = { min: 0, max: 10 } as const;
/** Larger areas are no specks, mm². */
const SPECK_MM2 = { min: 0, max: 100 } as const;

const GLASSES: readonly Glass[] = ['red', 'green', 'blue'];

/** Where the scale is to be taken from; null for the file. Throws an `InputError` for options that contradict each other or lack their other half. */
export function readScale(texts: TraceTexts): ScaleRequest | null {
  const ways = (['resolution', 'dots', 'points', 'ruler'] as const).filter((way) => texts[way] !== undefined);
  if (ways.length > 1) {
    throw new InputError(
      `${ways.map((way) => `--${way}`).join(' and ')} stand together: the scale is taken from one thing, so leave the others out.`,
    );
  }
  needs(texts, 'points', 'apart', 'how far apart the four places are on the paper, such as --apart 250x180mm');
  needs(texts, 'ruler', 'length', 'how long it is between the two places, such as --length 200mm');
  const { resolution, dots, points, apart, ruler, length } = texts;
  if (resolution !== undefined) {
    const dpi = readNumber(resolution.replace(/\s*dpi\s*$/i, ''), '--resolution', DPI, 'dots an inch');
    return { from: 'resolution', resolution: { across: dpi, down: dpi, unit: 'inch' } };
  }
  if (dots !== undefined) return { from: 'dots', ...readSize(dots, '--dots') };
  if (points !== undefined) {
    return { from: 'points', points: readPlaces(points, '--points', 4), ...readSize(apart as string, '--apart') };
  }
  if (ruler !== undefined) {
    const lengthMm = naming('--length', () => parseLength(length as string));
    return { from: 'ruler', points: readPlaces(ruler, '--ruler', 2), lengthMm };
  }
  return null;
}

/** Two options of which neither says anything alone. */
function needs(texts: TraceTexts, one: 'points' | 'ruler', other: 'apart' | 'length', what: string): void {
  if (texts[one] !== undefined && texts[other] === undefined)
    throw new InputError(`--${one} needs --${other}: say ${what}.`);
  if (texts[one] === undefined && texts[other] !== undefined) {
    throw new InputError(`--${other} goes with --${one}: give the places in pixels that it is about, or leave it out.`);
  }
}

/** The part of the drawing to keep, `WIDTHxHEIGHT+x+y`, mm from the upper left. */
export function readKeep(text: string | undefined): Box | null {
  if (text === undefined) return null;
  const [, size, x, y] = /^\s*([^+]+)\+([^+]+)\+([^+]+)$/.exec(text) ?? [];
  if (size === undefined) {
    throw new InputError(
      `--keep is ${JSON.stringify(text)}: give width, height and the place of the upper left, such as 200x150mm+10+20.`,
    );
  }
  const { widthMm, heightMm } = readSize(size, '--keep');
  const [x0, y0] = [x, y].map((one) => naming('--keep', () => parseLength(one, { defaultUnit: 'mm' })));
  return { x0, y0, x1: x0 + widthMm, y1: y0 + heightMm };
}

/** What bears on the tracing itself. */
export function readTracing(texts: TraceTexts) {
  const { inkLevel, smooth, speck, pinhole } = texts;
  return {
    ...(inkLevel === undefined ? {} : { offset: readNumber(inkLevel, '--ink-level', INK_LEVEL) }),
    ...(smooth === undefined ? {} : { smooth: readNumber(smooth, '--smooth', SMOOTH) }),
    ...(speck === undefined ? {} : { speckMm2: readArea(speck, '--speck') }),
    ...(pinhole === undefined ? {} : { pinholeMm2: readArea(pinhole, '--pinhole') }),
  };
}

export function readGlass(text: string | undefined): Glass | null {
  if (text === undefined) return null;
  const glass = GLASSES.find((one) => one === text.trim().toLowerCase());
  if (glass !== undefined) return glass;
  throw new InputError(`--glass is ${JSON.stringify(text)}: say red, green or blue.`);
}

function readArea(text: string, option: string): number {
  return readNumber(text.replace(/\s*mm(?:²|2)\s*$/i, ''), option, SPECK_MM2, 'mm²');
}

function readNumber(text: string, option: string, { min, max }: { min: number; max: number }, unit = ''): number {
  const value = text.trim() === '' ? Number.NaN : Number(text);
  if (value >= min && value <= max) return value;
  const words = unit === '' ? '' : ` ${unit}`;
  throw new InputError(`${option} is ${JSON.stringify(text)}: it must be a number from ${min} to ${max}${words}.`);
}

/** `300x200mm`, `12 x 8 1/2in`, or the name of a paper, which stands upright. The last unit counts for both where the first has none. */
function readSize(text: string, option: string): { readonly widthMm: number; readonly heightMm: number } {
  if (/^\s*[a-z]/i.test(text)) {
    const { widthMm, heightMm } = naming(option, () => findPaper(text));
    return { widthMm, heightMm };
  }
  const [, across, down] = /^\s*(.+?)\s*[x×*]\s*(.+?)\s*$/i.exec(text) ?? [];
  if (across === undefined) {
    throw new InputError(`${option} is ${JSON.stringify(text)}: give width and height with a unit, such as 300x200mm.`);
  }
  const [, unit = ''] = /([^\d\s./]*)$/.exec(down) ?? [];
  const full = /\d$/.test(across) ? `${across}${unit}` : across;
  const [widthMm, heightMm] = [full, down].map((one) => naming(option, () => parseLength(one)));
  if (widthMm > 0 && heightMm > 0) return { widthMm, heightMm };
  throw new InputError(`${option} is ${JSON.stringify(text)}: both lengths must be above 0.`);
}

/** Places in px, `x,y x,y …`. */
export function readPlaces(text: string, option: string, count: number): Point[] {
  const places = text
    .trim()
    .split(/[\s;]+/)
    .map((place) => /^(\d+(?:\.\d+)?),(\d+(?:\.\d+)?)$/.exec(place));
  if (places.length === count && places.every((place) => place !== null)) {
    return places.map(([, x, y]) => ({ x: Number(x), y: Number(y) }));
  }
  const such = Array.from({ length: count }, () => 'x,y').join(' ');
  throw new InputError(
    `${option} is ${JSON.stringify(text)}: give ${count === 4 ? 'four' : 'two'} places of the picture in pixels from its upper left, "${such}".`,
  );
}

function naming<T>(option: string, read: () => T): T {
  try {
    return read();
  } catch (error) {
    if (error instanceof InputError) {
      throw new InputError(`${option}: ${error.message[0].toLowerCase()}${error.message.slice(1)}`);
    }
    throw error;
  }
}
