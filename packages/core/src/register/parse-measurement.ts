import { InputError } from '../units/input-error.js';
import { type LengthUnit, parseLength } from '../units/length.js';
import { quote } from '../units/quote.js';

export interface ParseMeasurementOptions {
  /** What a bare number means; without it bare numbers are refused. */
  readonly defaultUnit?: LengthUnit;
}

/** Readings of one distance in one text; more is a pasted table. */
const READINGS_MAX = 100;

/** A comma between two digits belongs to a number (and is refused there); any other divides readings. */
const DIVIDER = /;|,(?!\d)|(?<!\d),/;

/**
 * The readings of one distance in mm, as a person writes them: `600mm`, `36 1/16in, 36 3/32in`, `600, 600.5 mm` (a unit counts for the
 * bare numbers before it). Throws an `InputError` for a text without a reading, one that is no length, or a reading of zero.
 */
export function parseMeasurement(text: string, options: ParseMeasurementOptions = {}): number[] {
  const pieces = text.split(DIVIDER).map((piece) => piece.trim());
  if (text.trim() === '') {
    throw new InputError('The measurement is empty: write what was read, such as "600mm" or "36 1/16in, 36 3/32in".');
  }
  if (pieces.includes('')) {
    throw new InputError(
      `The measurement ${quote(text)} has a comma with no reading beside it: write readings such as "600mm, 600.5mm".`,
    );
  }
  if (pieces.length > READINGS_MAX) {
    throw new InputError(`The measurement has ${pieces.length} readings: give at most ${READINGS_MAX}.`);
  }
  return withUnits(pieces).map((piece) => {
    const mm = parseLength(piece, options);
    if (mm > 0) return mm;
    throw new InputError(
      `The reading ${quote(piece)} is zero: measure from the middle of one hole to the middle of the other.`,
    );
  });
}

/** Bare numbers take the unit that is written after them. */
function withUnits(pieces: readonly string[]): string[] {
  let unit = '';
  return pieces
    .toReversed()
    .map((piece) => {
      const own = /[^\d\s./⁄½⅓⅔¼¾⅛⅜⅝⅞]+\.?$/.exec(piece)?.[0];
      if (own !== undefined) {
        unit = own;
        return piece;
      }
      return `${piece}${unit}`;
    })
    .toReversed();
}
