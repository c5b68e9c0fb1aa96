import { MM_PER_INCH } from './constants.js';

/** A length for a person: `250 mm`, `190.5 mm`; at most `decimals` digits after the point, no zeros at the end. */
export function formatMm(mm: number, decimals = 2): string {
  // Adding zero turns -0 into 0.
  return `${Number(mm.toFixed(decimals)) + 0} mm`;
}

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
 * The nearest mark of an inch ruler that is divided into `denominator` parts (halfway: the longer one). Throws a `RangeError` for a
 * denominator that is not a whole number above zero, or a length that is not finite.
 */
export function nearestInches(mm: number, denominator: number): RulerInches {
  if (!Number.isInteger(denominator) || denominator < 1) {
    throw new RangeError(`got ${denominator} parts of an inch, expected a whole number above zero`);
  }
  if (!Number.isFinite(mm)) throw new RangeError(`got a length of ${mm} mm, expected a finite one`);
  const parts = Math.round((Math.abs(mm) * denominator) / MM_PER_INCH);
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
