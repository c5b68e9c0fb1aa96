import { MM_PER_INCH } from './constants.js';
import { rounded } from './round.js';

/** A length for a person: `250 mm`, `190.5 mm`; at most `decimals` digits after the point, no zeros at the end. */
export function formatMm(mm: number, decimals = 2): string {
  return `${rounded(mm, decimals)} mm`;
}

/** Rounding of a sum of lengths, as a share of a part of an inch: far below anything that is measured. */
const HALFWAY_SHARE = 1e-9;

/** A length on an inch ruler. */
export interface RulerInches {
  /** Whole inches and a fraction in lowest terms: `14 3/16`, `3/8`, `0`; with `-` before it below zero. */
  readonly text: string;
  /** The same in mm. */
  readonly mm: number;
  /** `mm` minus the length that was given: what is lost by measuring in inches. */
  readonly errorMm: number;
}

/**
 * Parts of an inch in which lengths are given: the finest marks of a ruler. Half a part is 0.198 mm. Two marks that are each measured from one zero are
 * then never more than 0.397 mm nearer to or farther from each other than they should be, less than the 0.5 mm that spoil a join; 1/32 in would give 0.794 mm.
 */
export const INCH_PARTS = 64;

/** Less than this is no error, mm: it would be written as 0.00. */
const EXACT_MM = 0.005;

/**
 * A length in inches, the one figure for it wherever it stands: the nearest 1/64 in, in lowest terms, so that it reads `3/8` or `17/32` where these are
 * as near. What that loses is beside it.
 */
export function inchFigure(mm: number): RulerInches {
  return nearestInches(mm, INCH_PARTS);
}

/** A length in mm and inches: `600.3 mm (23 41/64 in)`. */
export function bothRulers(mm: number): string {
  return `${formatMm(mm, 1)} (${inchFigure(mm).text} in)`;
}

/** The same with what the inches lose, for a length that is set by them: `1890 mm (74 13/32 in −0.08)`; nothing where they are exact. */
export function bothRulersWithError(mm: number): string {
  const { text, errorMm: error } = inchFigure(mm);
  // Below zero what is farther from it is longer.
  const errorMm = mm < 0 ? -error : error;
  const off = Math.abs(errorMm) < EXACT_MM ? '' : ` ${errorMm > 0 ? '+' : '−'}${Math.abs(errorMm).toFixed(2)}`;
  return `${formatMm(mm, 1)} (${text} in${off})`;
}

/** A length in inches and what is left over, so that the sum is exact: `7 3/32 in less 0.19 mm`, `9 1/2 in`. */
export function exactInches(mm: number): string {
  const { text, errorMm } = inchFigure(mm);
  const rest =
    Math.abs(errorMm) < EXACT_MM ? '' : ` ${errorMm > 0 ? 'less' : 'plus'} ${Math.abs(errorMm).toFixed(2)} mm`;
  return `${text} in${rest}`;
}

/** The sentence that explains the figures of `bothRulersWithError`. */
export const INCH_ERROR_WORDS = 'Behind the inches: how much longer (+) or shorter (−) they are than the mm, in mm.';

/**
 * The nearest mark of an inch ruler that is divided into `denominator` parts (halfway: the longer one). Throws a `RangeError` for a
 * denominator that is not a whole number above zero, or a length that is not finite.
 */
export function nearestInches(mm: number, denominator: number): RulerInches {
  if (!Number.isInteger(denominator) || denominator < 1) {
    throw new RangeError(`got ${denominator} parts of an inch, expected a whole number above zero`);
  }
  if (!Number.isFinite(mm)) throw new RangeError(`got a length of ${mm} mm, expected a finite one`);
  // The hair keeps a length halfway between two marks on the same one, however it was worked out.
  const parts = Math.round((Math.abs(mm) * denominator) / MM_PER_INCH + HALFWAY_SHARE);
  const whole = Math.floor(parts / denominator);
  const rest = parts - whole * denominator;
  const common = gcd(rest, denominator);
  const fraction = rest === 0 ? '' : `${rest / common}/${denominator / common}`;
  const size = whole === 0 && fraction !== '' ? fraction : `${whole}${fraction === '' ? '' : ` ${fraction}`}`;
  const negative = mm < 0 && parts > 0;
  const rounded = ((negative ? -parts : parts) * MM_PER_INCH) / denominator;
  return { text: negative ? `-${size}` : size, mm: rounded, errorMm: rounded - mm };
}

function gcd(a: number, b: number): number {
  return b === 0 ? a : gcd(b, a % b);
}
