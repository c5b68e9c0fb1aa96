import { closure, flatValue, lift } from './hinge.js';
import { forSpans, isDiagonal, SPANS } from './spans.js';
import { findSuspect } from './suspect.js';
import type { CorrectedReading, FlatCheck, SixDistances, SquareTargets } from './types.js';

/** Halvings to the least error: enough for every digit of a number. */
const HALVINGS = 80;

/** Doublings to an error that is enough; readings that need more are no sheet at all. */
const DOUBLINGS = 40;

/** A change of a reading that is small beside any sheet, as a share of it, to see how the others follow. */
const SMALL_SHARE = 1e-6;

/**
 * Whether a flat sheet can have six distances, each off by no more than its error.
 *
 * Eight coordinates less three of a rigid motion leave five unknowns, so six distances obey one equation. It is judged in mm: the
 * least `e` for which changing every reading by at most e times its error satisfies the equation; `e <= 1` is possible. The
 * equation is `closure = 0`: fold the sheet along the falling diagonal, and the other diagonal, as long as the fold lets it be, is
 * longest when the sheet lies flat. Hence
 * - a diagonal longer than that belongs to no four points, flat or not: a misreading for certain;
 * - a shorter one is what a fold gives, so the sheet may have buckled, or a reading is wrong.
 * The equation is the same whichever distance is solved for, so the one sign holds for all six: "diagonals too long" and "sides too
 * short" are one thing. Closure grows with each diagonal and falls with each side (a pull in the diagonals of a flat frame is
 * held by a push in its sides), so the best use of a given error lengthens all of one kind and shortens all of the other, and one
 * search along that line finds e. Example: sides 24, 18, 24, 18 with diagonals 29, 29 agree in pairs, but a flat sheet has 30: four
 * equal triangles that close to a tetrahedron (a disphenoid), which a buckled sheet can be; with 31, 31 nothing in space can.
 * One equation can't tell which reading is wrong: all six are listed with what each would have to be.
 */
export function checkFlat(
  distances: SixDistances,
  errorsMm: SixDistances,
  { readingErrorMm, targets }: { readonly readingErrorMm: number; readonly targets: SquareTargets | null },
): FlatCheck {
  const least = leastErrors(distances, errorsMm);
  const possible = least <= 1;
  const tooLong = closure(distances) > 0;
  const wouldBe = SPANS.map((span): CorrectedReading => {
    const mm = flatValue(distances, span);
    return {
      span,
      readMm: distances[span],
      mm,
      changeMm: mm - distances[span],
      errorMm: followingError(distances, errorsMm, span),
    };
  });
  return {
    verdict: possible ? 'possible' : tooLong ? 'misreading' : 'not-flat-or-misreading',
    eachOffMm: least * readingErrorMm,
    diagonals: possible ? 'fit' : tooLong ? 'too-long' : 'too-short',
    liftMm: possible || tooLong ? null : lift(distances),
    wouldBe,
    suspect: possible ? null : findSuspect(distances, wouldBe, { readingErrorMm, targets }),
  };
}

/** The least number of errors that every reading must be off for the sheet to be flat; Infinity where no error will do. */
export function leastErrors(distances: SixDistances, errorsMm: SixDistances): number {
  const start = closure(distances);
  if (start === 0) return 0;
  const sign = Math.sign(start);
  const after = (e: number): number =>
    sign *
    closure(forSpans((span) => Math.max(0, distances[span] + (isDiagonal(span) ? -sign : sign) * e * errorsMm[span])));
  let high = 1;
  for (let k = 0; after(high) > 0; k++) {
    if (k === DOUBLINGS) return Number.POSITIVE_INFINITY;
    high *= 2;
  }
  let low = 0;
  for (let k = 0; k < HALVINGS; k++) {
    const middle = (low + high) / 2;
    if (after(middle) > 0) low = middle;
    else high = middle;
  }
  return high;
}

/** How far a distance that follows from the other five may be off by theirs (square root of the sum of squares). */
function followingError(distances: SixDistances, errorsMm: SixDistances, span: (typeof SPANS)[number]): number {
  const squares = SPANS.filter((other) => other !== span).map((other) => {
    const step = distances[other] * SMALL_SHARE;
    const more = flatValue({ ...distances, [other]: distances[other] + step }, span);
    const less = flatValue({ ...distances, [other]: distances[other] - step }, span);
    return (((more - less) / (2 * step)) * errorsMm[other]) ** 2;
  });
  return Math.sqrt(squares.reduce((sum, square) => sum + square, 0));
}
