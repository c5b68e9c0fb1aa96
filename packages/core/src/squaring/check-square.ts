import { formatMm } from '../units/format.js';
import { InputError } from '../units/input-error.js';
import { checkExtra } from './extra.js';
import { checkFlat } from './flat.js';
import { checkOrder, take } from './order.js';
import { measuredCorners, measuredPairs, openTriangle } from './partial.js';
import { averageReadings, READING_ERROR_MM } from './readings.js';
import { LEAN_PUNCH_MM_PER_M, planRepunch, SIDES_FIX_MM } from './repunch.js';
import { holesOfReadings, shapeOfReadings } from './shape.js';
import { forSpans, SPANS } from './spans.js';
import type {
  CheckSquareOptions,
  FlatCheck,
  Measured,
  OrderCheck,
  PrintEffect,
  Readings,
  Shape,
  SixDistances,
  Span,
  SquareCheck,
  SquareTargets,
} from './types.js';

/** Sides of a job's sheet, mm. */
const TARGET_MAX_MM = 20_000;

/** A corner off by less than its error, deg, is square; this much is rounding. */
const ROUNDING_DEG = 1e-9;

const UNPROVED_ORDER: OrderCheck = { inOrder: true, exchanged: null, from: forSpans((span) => span), turned: false };

/**
 * What four sides and two diagonals, measured from hole to hole, tell about a sheet: whether they can be right (one equation ties
 * them), whether the holes were named in order, its shape within measuring error, what that does to the print, and the fewest
 * holes to punch again. Any distance may be missing: five give the shape without proof, fewer prove less. Throws an `InputError` for
 * readings that are no distances, three of which can't close a triangle, or job's measures that are no sizes.
 */
export function checkSquare(measured: Measured, options: CheckSquareOptions = {}): SquareCheck {
  const { targets = null, readingErrorMm = READING_ERROR_MM, extra = [], names = null } = options;
  checkTargets(targets);
  const readings = averageReadings(measured, readingErrorMm);
  refuseOpenTriangle(readings);
  const missing = SPANS.filter((span) => readings[span] === null);
  const six = missing.length === 0 ? means(readings) : null;
  const order = six === null ? UNPROVED_ORDER : checkOrder(six.meansMm, six.errorsMm, targets);
  const named = take(readings, order.from);
  const flat = six === null ? null : judgeFlat(named, { readingErrorMm, targets });
  const holes = holesOfReadings(named);
  const shape = shapeOfReadings(named);
  const trusted = flat?.verdict === 'possible' && order.inOrder && shape?.convex === true;
  const effect = shape === null ? null : effectOf(shape);
  const wanted = targets ?? { widthMm: shape?.widthMm ?? 1, heightMm: shape?.heightMm ?? 1 };
  const plan =
    trusted && holes !== null && shape !== null && needsPunching(shape)
      ? planRepunch(holes, wanted, { sizeToleranceMm: SIDES_FIX_MM + readingErrorMm })
      : null;
  const dots =
    holes !== null && (flat === null || trusted)
      ? checkExtra(extra, { holes, trueHoles: plan?.holes ?? holes, targets: wanted }, readingErrorMm)
      : { checks: [], repunch: [] };
  return {
    readings,
    missing,
    order,
    flat,
    holes,
    shape,
    square: isSquare(named, flat, shape),
    effect,
    repunch: [...(plan?.repunch ?? []), ...(trusted ? dots.repunch : [])],
    extra: dots.checks,
    targets,
    readingErrorMm,
    names,
  };
}

/** Whether holes must be punched again for a sheet of this shape to print well. */
function needsPunching(shape: Shape): boolean {
  const leans = Math.abs(shape.leanMm) > shape.leanErrorMm && Math.abs(shape.leanMmPerM) >= LEAN_PUNCH_MM_PER_M;
  return effectOf(shape) === 'misjoins' || leans;
}

function effectOf(shape: Shape): PrintEffect {
  if (Math.max(Math.abs(shape.topMinusBottomMm), Math.abs(shape.rightMinusLeftMm)) > SIDES_FIX_MM) return 'misjoins';
  return Math.abs(shape.leanMm) > shape.leanErrorMm ? 'leans' : 'steps';
}

function isSquare(readings: Readings, flat: FlatCheck | null, shape: Shape | null): boolean | null {
  if (flat !== null) {
    if (flat.verdict !== 'possible' || shape === null || !shape.convex) return null;
    if (shape.kind !== 'rectangle') return false;
    // Sides that differ more than a join may, but less than the readings can tell: neither proved.
    return effectOf(shape) === 'misjoins' ? null : true;
  }
  // Without all six a sheet can be proved wrong, never right.
  const wrong =
    measuredPairs(readings).some(({ differenceMm, errorMm }) => Math.abs(differenceMm) > errorMm) ||
    measuredCorners(readings).some(({ deg, errorDeg }) => Math.abs(deg - 90) > errorDeg + ROUNDING_DEG);
  return wrong ? false : null;
}

function judgeFlat(
  readings: Readings,
  options: { readonly readingErrorMm: number; readonly targets: SquareTargets | null },
): FlatCheck {
  const { meansMm, errorsMm } = means(readings);
  return checkFlat(meansMm, errorsMm, options);
}

function means(readings: Readings): { meansMm: SixDistances; errorsMm: SixDistances } {
  return {
    meansMm: forSpans((span) => readings[span]?.meanMm ?? Number.NaN),
    errorsMm: forSpans((span) => readings[span]?.errorMm ?? Number.NaN),
  };
}

function refuseOpenTriangle(readings: Readings): void {
  const open = openTriangle(readings);
  if (open === null) return;
  const mm = (span: Span): string => formatMm(readings[span]?.meanMm ?? Number.NaN, 1);
  const [one, other] = open.others;
  throw new InputError(
    `The distances ${open.longest} (${mm(open.longest)}), ${one} (${mm(one)}) and ${other} (${mm(other)}) can't belong to three holes, since the first is as long as the two others together or longer: measure these three again.`,
  );
}

function checkTargets(targets: SquareTargets | null): void {
  if (targets === null) return;
  for (const [name, mm] of [
    ['width', targets.widthMm],
    ['height', targets.heightMm],
  ] as const) {
    if (mm > 0 && mm <= TARGET_MAX_MM) continue;
    throw new InputError(
      `The sheet's ${name} is ${Number.isFinite(mm) ? formatMm(mm) : 'no number'}: it must be above zero and at most ${TARGET_MAX_MM / 1000} m.`,
    );
  }
}
