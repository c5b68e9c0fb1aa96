import { InputError } from '@okuri/core';

/** Coordinates of a drawing beyond this (mm or points) are a mistake, and would be written with an exponent by JavaScript. */
const LARGEST_NUMBER = 1e9;

/** Finer than this JavaScript writes small numbers with an exponent, which PDF does not read. */
const MOST_DIGITS = 6;

/** Writes a number as plain decimal text. */
export type NumberWriter = (value: number) => string;

/**
 * A writer of plain decimal numbers with at most `digits` decimals (0 to 6), no exponent, no trailing zeros and no `-0`.
 * The writer throws an `InputError` for NaN, infinities and numbers beyond 1e9, so that a bad place can't reach a file.
 */
export function numberWriter(digits: number): NumberWriter {
  if (!Number.isInteger(digits) || digits < 0 || digits > MOST_DIGITS) {
    throw new InputError(`The number of decimals has to be a whole number from 0 to ${MOST_DIGITS}, got ${digits}.`);
  }
  const scale = 10 ** digits;
  return (value) => {
    if (!(Math.abs(value) <= LARGEST_NUMBER)) {
      throw new InputError(
        `The drawing holds the number ${value}, which can't be written; check the sizes it comes from.`,
      );
    }
    // The quotient is the double nearest to the decimal, so its shortest text is that decimal.
    return String(Math.round(value * scale) / scale);
  };
}
