import { MM_PER_INCH } from '../units/constants.js';
import { rectangleDistances, SPANS } from './spans.js';
import type { CorrectedReading, ReadingErrorKind, SixDistances, Span, SquareTargets, Suspect } from './types.js';

/** A sheet whose six distances are off by no more than this in the mean (root of the mean square) is the job's sheet, mm. */
const NEAR_JOB_MM = 2;

/** A suspect fits at least this much better than the next. */
const CLEARLY = 2;

/** Typical slips count for this much of a better fit. */
const SLIP_BONUS = 2;

/** Whole inches or tens of mm that are dropped or added at once. */
const UNITS_MAX = 3;

interface Candidate {
  readonly span: Span;
  readonly mm: number;
  readonly slip: ReadingErrorKind | null;
  readonly offMm: number;
  readonly score: number;
}

/**
 * The one reading that is likely wrong, or null. Each of the six can be set right alone; a suspect is named only if that brings the
 * sheet near the job's measures or the change is a typical slip, and only if the sheet then fits the job (without a job: some
 * rectangle) at least twice as well as with the next candidate set right.
 */
export function findSuspect(
  distances: SixDistances,
  wouldBe: readonly CorrectedReading[],
  { readingErrorMm, targets }: { readonly readingErrorMm: number; readonly targets: SquareTargets | null },
): Suspect | null {
  const ranked = wouldBe
    .map((one): Candidate => {
      const slip = slipOf(one);
      const offMm = offRectangle({ ...distances, [one.span]: one.mm }, targets);
      // Below the error of reading no fit is better than another.
      return { ...one, slip, offMm, score: Math.max(offMm, readingErrorMm) / (slip === null ? 1 : SLIP_BONUS) };
    })
    .sort((a, b) => a.score - b.score);
  const [best, next] = ranked;
  const nearJob = targets !== null && best.offMm <= Math.max(NEAR_JOB_MM, readingErrorMm);
  if (!nearJob && best.slip === null) return null;
  if (best.score * CLEARLY > next.score) return null;
  return { span: best.span, mm: best.mm, slip: best.slip, nearJob };
}

/** The slip that explains a change within its error, or null. */
export function slipOf({ readMm, changeMm, errorMm }: CorrectedReading): ReadingErrorKind | null {
  for (let n = 1; n <= UNITS_MAX; n++) {
    if (Math.abs(Math.abs(changeMm) - n * MM_PER_INCH) <= errorMm) return 'whole-inch';
  }
  for (let n = 1; n <= UNITS_MAX; n++) {
    if (Math.abs(Math.abs(changeMm) - n * 10) <= errorMm) return 'ten-mm';
  }
  return exchanges(readMm).some((mm) => Math.abs(mm - readMm - changeMm) <= errorMm) ? 'swapped-digits' : null;
}

/** What a reading in whole mm would be with two digits side by side exchanged. */
function exchanges(readMm: number): number[] {
  const whole = Math.floor(readMm + 1e-9);
  const digits = String(whole);
  const found: number[] = [];
  for (let k = 0; k + 1 < digits.length; k++) {
    if (digits[k] === digits[k + 1]) continue;
    const swapped = digits.slice(0, k) + digits[k + 1] + digits[k] + digits.slice(k + 2);
    found.push(Number(swapped) + readMm - whole);
  }
  return found;
}

/** Root of the mean square by which six distances miss those of the job's rectangle, or of their own mean one. */
function offRectangle(distances: SixDistances, targets: SquareTargets | null): number {
  const { top, right, bottom, left } = distances;
  const { widthMm, heightMm } = targets ?? { widthMm: (top + bottom) / 2, heightMm: (left + right) / 2 };
  const wanted = rectangleDistances(widthMm, heightMm);
  const sum = SPANS.reduce((total, span) => total + (distances[span] - wanted[span]) ** 2, 0);
  return Math.sqrt(sum / SPANS.length);
}
