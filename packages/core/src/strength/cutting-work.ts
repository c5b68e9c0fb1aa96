import { contourLength } from '../geometry/length.js';
import type { Contour, Point } from '../geometry/types.js';
import { InputError } from '../units/input-error.js';
import { knifePlaces } from './knife-places.js';
import type { CuttingWork, OpeningWork, Pace } from './types.js';
import { type Uncut, uncutOn } from './uncut.js';

/** A blade turns this tight, mm (common practice, no published source). */
const TURN_MM = 1.5;
/** A tight place takes this share of the time of a corner: the knife is led round slowly, but not lifted (an estimate, no published source). */
const TIGHT_SHARE = 0.5;
/** Lengths that differ by less are alike, mm: no knife and no eye tells them apart. */
const ALIKE_MM = 1e-3;

/** What is taken for the pace of a cutter who has not been timed (common practice, no published source). */
export const USUAL_PACE: Pace = { mmPerMinute: 150, secondsPerCorner: 3, bladeMm: 1500 };

/** Whether a pace is the usual one, which nobody measured. */
export function isUsualPace(pace: Pace = USUAL_PACE): boolean {
  return (['mmPerMinute', 'secondsPerCorner', 'bladeMm'] as const).every((key) => pace[key] === USUAL_PACE[key]);
}

/** How the work of cutting is reckoned. */
export interface CuttingWorkOptions {
  readonly pace: Pace;
  /** A blade turns this tight, mm. Default 1.5. */
  readonly turnMm?: number;
  /** Straight stretches of the outlines that are not cut: the opening goes on there with its other cut. */
  readonly uncut?: readonly Uncut[];
}

/** What it takes to cut one opening with these outlines, mm; see `openingWork`. */
export function cuttingWork(contours: readonly Contour[], options: CuttingWorkOptions): CuttingWork {
  const { opening: _, jerkAt: _jerkAt, tightAt: _tightAt, ...work } = openingWork(0, contours, options);
  return work;
}

/**
 * What it takes to cut one opening with these outlines, mm: length of cut, corners, tight and jerky places as `knifePlaces` defines them, and
 * estimates: minutes = length / pace + (corners + tight places / 2) × time for a corner; blades = length / length that a blade lasts. Stretches
 * that are not cut have no length, and no corner at their ends: the knife stops there on the line. No outlines are no work. Throws an `InputError`
 * for a pace that gets nowhere, a blade that cuts nothing, or a radius that is none.
 */
export function openingWork(
  opening: number,
  contours: readonly Contour[],
  { pace, turnMm = TURN_MM, uncut = [] }: CuttingWorkOptions,
): OpeningWork {
  checkPace(pace);
  if (!(turnMm > 0) || !Number.isFinite(turnMm)) {
    throw new InputError(
      `A blade that turns at a radius of ${turnMm} mm can't be: give one above 0 mm, such as ${TURN_MM} mm.`,
    );
  }
  let [lengthMm, corners, tightMm, tightPlaces, jerks, longest] = [0, 0, 0, 0, 0, 0];
  let jerkAt: Point | null = null;
  let tightAt: Point | null = null;
  const stretches = uncutOn(uncut);
  for (const contour of contours) {
    lengthMm += Math.max(0, contourLength(contour) - stretches.lengthOn(contour));
    const places = knifePlaces(contour, { turnMm, ...(uncut.length > 0 ? { isUncut: stretches.has } : {}) });
    corners += places.corners.length;
    jerks += places.jerks.length;
    jerkAt ??= places.jerks[0] ?? null;
    tightPlaces += places.tight.length;
    for (const place of places.tight) {
      tightMm += place.lengthMm;
      // Of places that are alike the first is named, whatever the last digit says.
      if (place.lengthMm > longest + ALIKE_MM) [longest, tightAt] = [place.lengthMm, place.at];
    }
  }
  const minutes = lengthMm / pace.mmPerMinute + ((corners + TIGHT_SHARE * tightPlaces) * pace.secondsPerCorner) / 60;
  const blades = lengthMm / pace.bladeMm;
  return { opening, lengthMm, corners, tightMm, tightPlaces, jerks, minutes, blades, jerkAt, tightAt };
}

/** The work on several openings together; none is no work. */
export function totalWork(list: readonly CuttingWork[]): CuttingWork {
  const total = { lengthMm: 0, corners: 0, tightMm: 0, tightPlaces: 0, jerks: 0, minutes: 0, blades: 0 };
  for (const work of list) for (const key of Object.keys(total) as (keyof CuttingWork)[]) total[key] += work[key];
  return total;
}

function checkPace({ mmPerMinute, secondsPerCorner, bladeMm }: Pace): void {
  const above = (value: number): boolean => value > 0 && Number.isFinite(value);
  if (!above(mmPerMinute)) throw new InputError(`A pace of ${mmPerMinute} mm a minute gets nowhere: give one above 0.`);
  if (!above(bladeMm)) throw new InputError(`A blade that lasts ${bladeMm} mm cuts nothing: give a length above 0 mm.`);
  if (!(secondsPerCorner >= 0 && Number.isFinite(secondsPerCorner))) {
    throw new InputError(`A corner can't take ${secondsPerCorner} seconds: give 0 or more.`);
  }
}
