import { SPANS } from './spans.js';
import type { MeanReading, Readings, Span } from './types.js';

/** Lengths that agree to this share are equal: rounding. */
const ROUNDING_SHARE = 1e-12;

/** Doublings, then halvings, to the errors that would be enough: more than every digit of a number. */
const DOUBLINGS = 60;
const HALVINGS = 60;

type Interval = readonly [low: number, high: number];

/**
 * Whether some rectangle has all measured distances within their errors. Exact: a width within both level sides' bounds, a height within both upright
 * ones', and a diagonal between those of the smallest and the largest such rectangle that lies within both diagonals' bounds. `times` enlarges the errors.
 */
export function fitsRectangle(readings: Readings, times = 1): boolean {
  const [width, height, diagonal] = bounds(readings, times);
  if (width === null || height === null || diagonal === null) return false;
  const least = Math.hypot(width[0], height[0]);
  const most = Math.hypot(width[1], height[1]);
  return least <= diagonal[1] * (1 + ROUNDING_SHARE) && diagonal[0] <= most * (1 + ROUNDING_SHARE);
}

/** Whether some parallelogram has them: the sum of the squares of its diagonals is twice that of its sides (parallelogram law, Euclid II.12-13). */
export function fitsParallelogram(readings: Readings): boolean {
  const [width, height] = bounds(readings, 1);
  const [p, q] = [boundsOf([readings.falling], 1), boundsOf([readings.rising], 1)];
  if (width === null || height === null || p === null || q === null) return false;
  const sides = [0, 1].map((k) => 2 * (width[k] ** 2 + height[k] ** 2));
  const diagonals = [0, 1].map((k) => p[k] ** 2 + q[k] ** 2);
  return sides[0] <= diagonals[1] * (1 + ROUNDING_SHARE) && diagonals[0] <= sides[1] * (1 + ROUNDING_SHARE);
}

/** The least number of errors that every reading must be off for some rectangle to have them: at most 1 where one has them within their errors. */
export function errorsToRectangle(readings: Readings): number {
  let high = 1;
  for (let k = 0; k < DOUBLINGS && !fitsRectangle(readings, high); k++) high *= 2;
  let low = 0;
  for (let k = 0; k < HALVINGS; k++) {
    const middle = (low + high) / 2;
    if (fitsRectangle(readings, middle)) high = middle;
    else low = middle;
  }
  return high;
}

/** The readings of some distances alone. */
export function only(readings: Readings, spans: readonly Span[]): Readings {
  return Object.fromEntries(SPANS.map((span) => [span, spans.includes(span) ? readings[span] : null])) as Readings;
}

function bounds(
  { top, bottom, left, right, falling, rising }: Readings,
  times: number,
): readonly [Interval | null, Interval | null, Interval | null] {
  return [boundsOf([top, bottom], times), boundsOf([left, right], times), boundsOf([falling, rising], times)];
}

/** What all of these readings allow of one length; what was not measured allows all. Null where they allow none. */
function boundsOf(readings: readonly (MeanReading | null)[], times: number): Interval | null {
  let [low, high] = [0, Number.POSITIVE_INFINITY];
  for (const reading of readings) {
    if (reading === null) continue;
    low = Math.max(low, reading.meanMm - times * reading.errorMm);
    high = Math.min(high, reading.meanMm + times * reading.errorMm);
  }
  return low <= high * (1 + ROUNDING_SHARE) ? [low, high] : null;
}
