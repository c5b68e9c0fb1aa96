import { formatMm } from '../units/format.js';
import { InputError } from '../units/input-error.js';
import { checkExtra } from './extra.js';
import { checkFlat, leastErrors } from './flat.js';
import { checkOrder, take } from './order.js';
import { openTriangle } from './partial.js';
import { averageReadings, READING_ERROR_MM } from './readings.js';
import { fitsRectangle } from './rectangle-fit.js';
import { LEAN_PUNCH_MM_PER_M, planRepunch, SIDES_FIX_MM } from './repunch.js';
import { holesOfReadings, shapeOfReadings, worseSides } from './shape.js';
import { distancesOf, forSpans, SPANS } from './spans.js';
import type {
  CheckSquareOptions,
  Foretold,
  Holes,
  KnownSquareCheck,
  Measured,
  NotEnoughCheck,
  NotSquareCheck,
  OrderCheck,
  OutOfOrderCheck,
  PartlyNotSquareCheck,
  PrintEffect,
  Readings,
  Repunch,
  Shape,
  SixDistances,
  Span,
  SquareCheck,
  SquareSheetCheck,
  SquareTargets,
  UnsettledCheck,
} from './types.js';

/** Sides of a job's sheet, mm. */
const TARGET_MAX_MM = 20_000;

/** Names are not in doubt. */
const IN_ORDER = { inOrder: true, exchanged: null, from: forSpans((span) => span), turned: false } as const;

/** What is said of a sheet whose shape is not known. */
const UNKNOWN = { holes: null, shape: null, effect: null, repunch: [], extra: [] } as const;

type Common = Pick<SquareCheck, 'readings' | 'missing' | 'targets' | 'sizes' | 'readingErrorMm' | 'names'>;

/**
 * What four sides and two diagonals, measured from hole to hole, tell about a sheet: whether the holes were named in order, whether the distances can be right
 * (one equation ties them), the sheet's shape within measuring error, what that does to the print, and the fewest
 * holes to punch again, as one verdict (see the table at `SquareCheck`). Any distance may be missing: five foretell the shape without proof, fewer prove less. Throws an
 * `InputError` for readings that are no distances, three of which can't close a triangle, or job's measures that are no sizes.
 */
export function checkSquare(measured: Measured, options: CheckSquareOptions = {}): SquareCheck {
  const { targets = null, sizes = 'planned', readingErrorMm = READING_ERROR_MM, names = null } = options;
  checkTargets(targets);
  const readings = averageReadings(measured, readingErrorMm);
  refuseOpenTriangle(readings);
  const missing = SPANS.filter((span) => readings[span] === null);
  const common: Common = { readings, missing, targets, sizes, readingErrorMm, names };
  if (missing.length > 0) return partlyMeasured(common);
  const { meansMm, errorsMm } = means(readings);
  const order = checkOrder(meansMm, errorsMm, targets);
  if (!order.inOrder || order.turned) return outOfOrder(common, order);
  const flat = checkFlat(meansMm, errorsMm, { readingErrorMm, targets });
  if (flat.verdict === 'not-flat-or-misreading') {
    const verdict = { verdict: 'not-flat', square: null, flat: { ...flat, verdict: flat.verdict } } as const;
    return { ...common, ...UNKNOWN, ...verdict, order: IN_ORDER, foretold: null, mend: 'measure-again' };
  }
  const holes = holesOfReadings(readings);
  const shape = shapeOfReadings(readings);
  if (flat.verdict !== 'possible' || holes === null || shape === null || !shape.convex) {
    const verdict = { verdict: 'misreading', square: null, flat } as const;
    return { ...common, ...UNKNOWN, ...verdict, order: IN_ORDER, foretold: null, mend: 'measure-again' };
  }
  return flatSheet({ ...common, flat: { ...flat, verdict: 'possible' }, holes, shape }, options);
}

/** Fewer than six distances: a sheet can be proved wrong by them, never right. */
function partlyMeasured(common: Common): PartlyNotSquareCheck | NotEnoughCheck {
  const known = { ...common, ...UNKNOWN, order: IN_ORDER, flat: null, foretold: foretell(common) } as const;
  return fitsRectangle(common.readings)
    ? { ...known, verdict: 'not-enough', square: null, mend: 'measure-rest' }
    : { ...known, verdict: 'not-square', square: false, mend: 'measure-rest' };
}

function foretell({ readings, missing }: Common): Foretold | null {
  const [span, ...others] = missing;
  if (others.length > 0) return null;
  const [holes, shape] = [holesOfReadings(readings), shapeOfReadings(readings)];
  if (holes === null || !shape?.convex) return null;
  return { span, mm: distancesOf(holes)[span], holes, shape };
}

/** Nothing is said of the sheet before its holes have their names. */
function outOfOrder(common: Common, order: OrderCheck): OutOfOrderCheck {
  const renamed = take(common.readings, order.from);
  const { meansMm, errorsMm } = means(renamed);
  const fits = leastErrors(meansMm, errorsMm) <= 1;
  return {
    ...common,
    ...UNKNOWN,
    verdict: 'out-of-order',
    square: null,
    order,
    flat: null,
    foretold: null,
    mend: 'name-again',
    renamed: fits ? holesOfReadings(renamed) : null,
  };
}

interface FlatSheet extends Common {
  readonly flat: SquareSheetCheck['flat'];
  readonly holes: Holes;
  readonly shape: Shape;
}

/** The verdicts of distances that a flat sheet has. */
function flatSheet(sheet: FlatSheet, options: CheckSquareOptions): KnownSquareCheck | UnsettledCheck {
  const { holes, shape, targets, sizes, readingErrorMm } = sheet;
  const own = { widthMm: shape.widthMm, heightMm: shape.heightMm };
  const wanted = targets ?? own;
  const dots = (trueHoles: Holes) =>
    checkExtra(options.extra ?? [], { holes, trueHoles, targets: wanted }, readingErrorMm);
  const common = { ...sheet, order: IN_ORDER, foretold: null } as const;
  const { kind } = shape;
  if (kind === 'rectangle') {
    const sides = worseSides(shape);
    if (Math.abs(sides.differenceMm) > SIDES_FIX_MM) {
      return { ...common, ...UNKNOWN, verdict: 'unsettled', square: null, mend: 'measure-again', doubt: sides };
    }
    const { checks, repunch } = dots(holes);
    return {
      ...common,
      verdict: 'square',
      square: true,
      shape: { ...shape, kind, outOfSquareLeastMm: 0 },
      effect: 'steps',
      mend: mendOf(repunch),
      repunch,
      extra: checks,
    };
  }
  const sides = worseSides(shape);
  const doubt = kind === 'parallelogram' && Math.abs(sides.differenceMm) > SIDES_FIX_MM ? sides : null;
  const effect = effectOf({ ...shape, kind }, () => options.spoils?.(holes) ?? false);
  const leansMuch = effect === 'leans' && Math.abs(shape.leanMmPerM) >= LEAN_PUNCH_MM_PER_M;
  const plan =
    effect === 'misjoins' || leansMuch
      ? planRepunch(holes, sizes === 'free' ? own : wanted, { sizeToleranceMm: SIDES_FIX_MM + readingErrorMm })
      : null;
  const { checks, repunch } = dots(plan?.holes ?? holes);
  const all = [...(plan?.repunch ?? []), ...repunch];
  return {
    ...common,
    verdict: 'not-square',
    square: false,
    shape: { ...shape, kind },
    effect,
    mend: all.length === 0 && doubt !== null ? 'measure-again' : mendOf(all),
    repunch: all,
    extra: checks,
    doubt,
  };
}

function mendOf(repunch: readonly Repunch[]): 'nothing' | 'punch-again' {
  return repunch.length === 0 ? 'nothing' : 'punch-again';
}

/** What a sheet that is no rectangle does to the print. */
function effectOf(shape: NotSquareCheck['shape'], spoils: () => boolean): PrintEffect {
  if (shape.kind === 'parallelogram') return 'leans';
  if (Math.abs(worseSides(shape).differenceMm) > SIDES_FIX_MM || spoils()) return 'misjoins';
  return Math.abs(shape.leanMm) > shape.leanErrorMm ? 'leans' : 'steps';
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
