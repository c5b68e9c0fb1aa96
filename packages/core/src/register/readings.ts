import { formatMm } from '../units/format.js';
import { InputError } from '../units/input-error.js';
import { forSpans, SPANS } from './spans.js';
import type { MeanReading, Measured, Readings } from './types.js';

/** How far a reading of a steel ruler from hole to hole may be off, mm. */
export const READING_ERROR_MM = 0.5;

/** More than this is no measuring, mm. */
const READING_ERROR_MAX_MM = 50;

/** Longer than any sheet, mm: a slip of the pen. */
const DISTANCE_MAX_MM = 20_000;

/** Repeated readings of one distance that are still read by a person. */
const COUNT_MAX = 1000;

/**
 * The readings of each distance taken together: the mean, and the error of the mean, which is √n smaller than that of one reading.
 * Readings that lie farther from their mean than `readingErrorMm` enlarge the error to what they show. Throws an `InputError` for a
 * reading that is no distance, or where nothing was measured.
 */
export function averageReadings(measured: Measured, readingErrorMm = READING_ERROR_MM): Readings {
  checkReadingError(readingErrorMm);
  const readings = forSpans((span) => {
    const values = measured[span];
    return values === undefined || values.length === 0 ? null : average(values, readingErrorMm, nameOfReading(span));
  });
  if (SPANS.every((span) => readings[span] === null)) {
    throw new InputError(
      'Nothing was measured: give the four sides (top, right, bottom, left) and both diagonals (falling, rising).',
    );
  }
  return readings;
}

/** One distance's readings taken together; `what` names it in the sentence of an `InputError`. */
export function average(values: readonly number[], readingErrorMm: number, what: string): MeanReading {
  const wrong = values.find((mm) => !(mm > 0 && mm <= DISTANCE_MAX_MM));
  if (wrong !== undefined) {
    const got = Number.isFinite(wrong) ? formatMm(wrong) : 'no number';
    throw new InputError(
      `The reading of ${what} is ${got}: it must be above zero and at most ${DISTANCE_MAX_MM / 1000} m; measure from the middle of one hole to the middle of the other.`,
    );
  }
  if (values.length > COUNT_MAX) {
    throw new InputError(`There are ${values.length} readings of ${what}: give at most ${COUNT_MAX}.`);
  }
  const meanMm = values.reduce((sum, mm) => sum + mm, 0) / values.length;
  const spreadMm = Math.max(...values.map((mm) => Math.abs(mm - meanMm)));
  return {
    meanMm,
    count: values.length,
    errorMm: Math.max(readingErrorMm, spreadMm) / Math.sqrt(values.length),
    spreadMm,
    spreadTooBig: spreadMm > readingErrorMm,
  };
}

function checkReadingError(mm: number): void {
  if (mm > 0 && mm <= READING_ERROR_MAX_MM) return;
  throw new InputError(
    `The error of reading is ${Number.isFinite(mm) ? formatMm(mm) : 'no number'}: it must be above zero and at most ${READING_ERROR_MAX_MM} mm, such as 0.5 mm for a steel ruler.`,
  );
}

function nameOfReading(span: string): string {
  return span === 'falling' || span === 'rising' ? `the ${span} diagonal` : `the ${span} side`;
}
