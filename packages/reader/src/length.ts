import { MM_PER_INCH, PIXELS_PER_INCH } from '@okuri/core/inside';

/** CSS pixels in one of each absolute unit (CSS Values 3, "Absolute lengths"). */
const PIXELS: Readonly<Record<string, number>> = {
  px: 1,
  mm: PIXELS_PER_INCH / MM_PER_INCH,
  cm: 96 / 2.54,
  in: 96,
  pt: 96 / 72,
  pc: 16,
  q: 96 / 101.6,
};

export const MM_PER_PX = MM_PER_INCH / PIXELS_PER_INCH;

const NUMBER = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?/;

/** What relative lengths are measured by, in user units. */
export interface LengthBase {
  /** What 100 % is; null where a percentage has no meaning. */
  readonly percent: number | null;
  readonly fontSize: number;
  readonly rootFontSize?: number;
}

/** A length as written: the number and its unit (`''` for a plain number, `%`, lower case). Null for anything else. */
export function splitLength(text: string): { value: number; unit: string } | null {
  const trimmed = text.trim();
  const number = NUMBER.exec(trimmed)?.[0];
  if (number === undefined) return null;
  const unit = trimmed.slice(number.length).toLowerCase();
  const value = Number(number);
  return /^(?:[a-z]*|%)$/.test(unit) && Number.isFinite(value) ? { value, unit } : null;
}

/** True for a unit that states a physical size. Pixels do not: they hang on the resolution that was meant. */
export function isPhysical(unit: string): boolean {
  return unit !== 'px' && Object.hasOwn(PIXELS, unit);
}

/**
 * A length in user units (CSS pixels where nothing is scaled). `ex` and `ch` count as half an `em`, as CSS allows where the
 * font is not known. Null where the text is no length or the unit has no meaning here.
 */
export function parseLength(text: string, base: LengthBase): number | null {
  const parts = splitLength(text);
  if (parts === null) return null;
  const { value, unit } = parts;
  if (unit === '') return value;
  if (unit === '%') return base.percent === null ? null : (value / 100) * base.percent;
  if (unit === 'em') return value * base.fontSize;
  if (unit === 'rem') return value * (base.rootFontSize ?? 16);
  if (unit === 'ex' || unit === 'ch') return (value * base.fontSize) / 2;
  return Object.hasOwn(PIXELS, unit) ? value * PIXELS[unit] : null;
}

const NEXT_NUMBER = /[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?/y;
const SEPARATOR = /\s*,?\s*/y;

/**
 * Plain numbers parted by blanks and commas; null where anything else is among them. Reading ends once there are more than
 * `max`.
 */
export function parseNumbers(text: string, options: { max?: number } = {}): number[] | null {
  const { max = Number.POSITIVE_INFINITY } = options;
  const out: number[] = [];
  const clean = text.trim();
  let at = 0;
  while (at < clean.length && out.length <= max) {
    NEXT_NUMBER.lastIndex = at;
    if (!NEXT_NUMBER.test(clean)) return null;
    const value = Number(clean.slice(at, NEXT_NUMBER.lastIndex));
    if (!Number.isFinite(value)) return null;
    out.push(value);
    SEPARATOR.lastIndex = NEXT_NUMBER.lastIndex;
    SEPARATOR.test(clean);
    at = SEPARATOR.lastIndex;
  }
  return out;
}
