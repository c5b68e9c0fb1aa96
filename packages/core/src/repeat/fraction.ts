import { InputError } from '../units/input-error.js';
import { quote } from '../units/quote.js';
import type { Fraction } from './types.js';

/** Largest denominator of a step: the cloth repeats straight only after as many columns or rows. */
export const MAX_DENOMINATOR = 64;

/** A step as it was read. */
export interface FractionReading {
  readonly fraction: Fraction;
  /** What was written, where another value is taken for it (brought into range, or a rounded decimal); else null. */
  readonly changedFrom: string | null;
}

const WORDS: ReadonlyMap<string, readonly [number, number]> = new Map([
  ['none', [0, 1]],
  ['half', [1, 2]],
  ['third', [1, 3]],
  ['two thirds', [2, 3]],
  ['quarter', [1, 4]],
  ['three quarters', [3, 4]],
]);

/**
 * A step as a person writes it: `1/3`, `0.5`, `-1/3`, `5/3`, `half`, `two thirds`, `25%`. It is reduced and brought into
 * `0 <= p/q < 1`. A decimal with no denominator up to `MAX_DENOMINATOR` stands for the simplest fraction that rounds to
 * it (`0.333` is 1/3). Throws an `InputError` for anything else.
 */
export function parseFraction(text: string): FractionReading {
  const clean = text.trim().toLowerCase().replaceAll('\u2212', '-').replaceAll('⁄', '/');
  const words = WORDS.get(clean.replace(/^(a|one)[\s-]+/, '').replaceAll(/[\s-]+/g, ' '));
  if (words !== undefined) return inRange(words[0], words[1], null);
  const [, sign, over, under] = /^([+-]?)(\d{1,6})\s*\/\s*(\d{1,6})$/.exec(clean) ?? [];
  if (under !== undefined) {
    if (Number(under) === 0)
      throw new InputError(`The step ${quote(text)} divides by zero: write it as "1/2" or "1/3".`);
    const { p, q } = reduceFraction(sign === '-' ? -Number(over) : Number(over), Number(under));
    if (q > MAX_DENOMINATOR) throw tooFine(text);
    return inRange(p, q, text);
  }
  const [, minus, digits, percent] = /^([+-]?)((?:\d{1,6}(?:\.\d{0,9})?|\.\d{1,9}))\s*(%?)$/.exec(clean) ?? [];
  if (digits !== undefined) return readDecimal(text, minus === '-' ? -1 : 1, digits, percent === '%');
  if (/\d\s*,\s*\d/.test(clean)) {
    throw new InputError(`The step ${quote(text)} has a comma: write a point, "0.5", or a fraction, "1/2".`);
  }
  throw new InputError(`The step ${quote(text)} can't be read: write a fraction of the unit such as "1/2" or "1/3".`);
}

/** `p/q` in lowest terms with a denominator above zero, whatever its size. Throws a `RangeError` for a zero or broken denominator. */
export function reduceFraction(p: number, q: number): Fraction {
  if (!Number.isSafeInteger(p) || !Number.isSafeInteger(q) || q === 0) {
    throw new RangeError(`got the fraction ${p}/${q}, expected whole numbers and a denominator that is not zero`);
  }
  const common = gcd(Math.abs(p), Math.abs(q)) * Math.sign(q);
  return { p: p / common + 0, q: q / common };
}

/** The part of a fraction that whole units leave over: reduced, `0 <= p/q < 1`. */
export function fractionalPart({ p, q }: Fraction): Fraction {
  const reduced = reduceFraction(p, q);
  return { p: ((reduced.p % reduced.q) + reduced.q) % reduced.q, q: reduced.q };
}

/** A fraction for a person: `1/3`, `0`. */
export function fractionText({ p, q }: Fraction): string {
  return q === 1 ? `${p}` : `${p}/${q}`;
}

/** `text` is what to report where the value changes. */
function inRange(p: number, q: number, text: string | null): FractionReading {
  const fraction = fractionalPart({ p, q });
  const changed = fraction.p * q !== p * fraction.q;
  return { fraction, changedFrom: changed && text !== null ? text.trim() : null };
}

function readDecimal(text: string, sign: 1 | -1, digits: string, percent: boolean): FractionReading {
  const [whole, decimals = ''] = digits.split('.');
  const scale = 10 ** decimals.length * (percent ? 100 : 1);
  const p = sign * Number(`${whole}${decimals}`);
  const exact = reduceFraction(p, scale);
  if (exact.q <= MAX_DENOMINATOR) return inRange(exact.p, exact.q, text);
  const value = p / scale;
  for (let q = 1; q <= MAX_DENOMINATOR; q++) {
    const nearest = Math.round(value * q);
    // Half a unit of the last digit that was written.
    if (Math.abs(nearest / q - value) <= 0.5 / scale) {
      return { fraction: fractionalPart({ p: nearest, q }), changedFrom: text.trim() };
    }
  }
  throw tooFine(text);
}

function tooFine(text: string): InputError {
  return new InputError(
    `The step ${quote(text)} repeats too late: write a fraction with a denominator of at most ${MAX_DENOMINATOR}, such as "1/3".`,
  );
}

function gcd(a: number, b: number): number {
  return b === 0 ? a : gcd(b, a % b);
}
