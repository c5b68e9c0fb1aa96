import { distance } from '../geometry/points.js';
import type { Point } from '../geometry/types.js';
import { formatMm, INCH_PARTS, nearestInches, type RulerInches } from '../units/format.js';
import { InputError } from '../units/input-error.js';
import { bestPair } from './extra.js';
import { tipOver } from './hinge.js';
import { movedDistance } from './movement.js';
import { rectangleHoles, SIDES_FIX_MM } from './repunch.js';
import { holeName } from './say.js';
import { shapeOfHoles } from './shape.js';
import type { Corner, Holes, SheetMovement } from './types.js';

/** Parts of an inch that rulers are divided into. */
export type RulerParts = 16 | 32 | 64;

/** A metric ruler is read to this, mm. */
export const METRIC_STEP_MM = 0.5;

/** To what lengths are set, mm: as a ruler is read, or as finely between its marks as a sheet needs that is long for its width. */
const METRIC_STEPS_MM = [METRIC_STEP_MM, 0.2, 0.1] as const;

/** Sides of a sheet, mm. */
const SIDE_MM = { min: 10, max: 20_000 } as const;

export interface PunchOrderInput {
  /** Of the sheet as it prints (wet, if it is soaked), hole to hole. */
  readonly widthMm: number;
  readonly heightMm: number;
  /** Dots between the corners, mm from the upper left hole. */
  readonly extra?: readonly { readonly name: string; readonly at: Point }[];
  /** Holes punched dry are set for the paper to move by this; null or absent: as it prints. */
  readonly movement?: SheetMovement | null;
  /** Of the ruler at hand; absent: that of every figure in inches, so that a distance reads alike wherever it stands. */
  readonly rulerParts?: RulerParts;
  /** To what lengths are set, mm. Absent: the coarsest of 0.5, 0.2 and 0.1 that does. */
  readonly metricStepMm?: number;
  /** What the corner holes are called in sentences. */
  readonly names?: Readonly<Record<Corner, string>> | null;
}

/** What an error of measuring does. */
export interface ErrorEffect {
  /** How far a corner is then from 90°. */
  readonly outOfSquareDeg: number;
  /** How far the far end of the side that runs down from it strays sideways, or an extra dot from its place, mm. */
  readonly farSideMm: number;
  /** By how much opposite sides then differ, mm: diagonals both too short taper the sheet. */
  readonly sidesMm: number;
}

/** A distance to set with a ruler. */
export interface PunchDistance {
  readonly from: string;
  readonly mm: number;
  /** The same once the paper is wet; equal to `mm` where no movement is allowed for. */
  readonly asPrintedMm: number;
  /** To the nearest step of the order's `metricStepMm`, and what that alone does. */
  readonly metric: { readonly mm: number; readonly errorMm: number; readonly effect: ErrorEffect };
  /** To the nearest part of an inch, and what that alone does. */
  readonly inches: RulerInches & { readonly effect: ErrorEffect };
}

export interface PunchStep {
  readonly hole: string;
  /** `start`: where the design says. `along`: on the line of the lead side. `crossing`: where two arcs cross. */
  readonly how: 'start' | 'along' | 'crossing';
  readonly distances: readonly PunchDistance[];
  /** A distance that proves the hole once it is punched; null where there is none. */
  readonly check: PunchDistance | null;
  readonly sentence: string;
}

export interface PunchOrder {
  readonly rulerParts: RulerParts;
  /** Metric lengths are set to this, mm. */
  readonly metricStepMm: number;
  /** All roundings together leave opposite sides and the far side within what a join stands; false on a sheet so narrow that no ruler sets it by arcs. */
  readonly metricDoes: boolean;
  readonly inchesDo: boolean;
  readonly steps: readonly PunchStep[];
  /** What all roundings together do to the corners. */
  readonly metricEffect: ErrorEffect;
  readonly inchEffect: ErrorEffect;
  readonly sentences: readonly string[];
}

/** The five distances that place the corners. */
interface Laid {
  readonly top: number;
  readonly left: number;
  readonly rising: number;
  readonly right: number;
  readonly falling: number;
}

/**
 * How to punch a true rectangle with a ruler alone: the first hole, the second along the lead side, the third and the last where two arcs cross (a side
 * and a diagonal), then dots between the corners; each distance in mm and inches with what rounding it does. Throws an
 * `InputError` for a sheet or movement that is none.
 *
 * Kept whole: each step is laid out by the ones before it.
 */
export function punchOrder(input: PunchOrderInput): PunchOrder {
  const { extra = [], movement = null, names = null } = input;
  checkSide('width', input.widthMm);
  checkSide('height', input.heightMm);
  const dry = (mm: number, percent: number | undefined): number => movedDistance(mm, percent ?? 0, { to: 'dry' });
  const width = dry(input.widthMm, movement?.widthPercent);
  const height = dry(input.heightMm, movement?.heightPercent);
  const holes = rectangleHoles(width, height);
  const printed = rectangleHoles(input.widthMm, input.heightMm);
  const diagonal = Math.hypot(width, height);
  const laid: Laid = { top: width, left: height, rising: diagonal, right: height, falling: diagonal };
  const rulerParts = input.rulerParts ?? INCH_PARTS;
  const metricStepMm =
    input.metricStepMm ?? METRIC_STEPS_MM.find((mm) => isEnough(laid, metricOf(mm))) ?? METRIC_STEPS_MM[2];
  const [metric, inchMm] = [metricOf(metricStepMm), inchesOf(rulerParts)];

  const corner = (key: keyof Laid, from: Corner, to: Corner): PunchDistance => {
    const [metricMm, inches] = [metric(laid[key]), nearestInches(laid[key], rulerParts)];
    return {
      from,
      mm: laid[key],
      asPrintedMm: distance(printed[from], printed[to]),
      metric: { mm: metricMm, errorMm: metricMm - laid[key], effect: effectOf({ ...laid, [key]: metricMm }) },
      inches: { ...inches, effect: effectOf({ ...laid, [key]: inches.mm }) },
    };
  };
  const steps: PunchStep[] = [
    step('upperLeft', 'start', [], null, names),
    step('upperRight', 'along', [corner('top', 'upperLeft', 'upperRight')], null, names),
    step(
      'lowerLeft',
      'crossing',
      [corner('left', 'upperLeft', 'lowerLeft'), corner('rising', 'upperRight', 'lowerLeft')],
      null,
      names,
    ),
    step(
      'lowerRight',
      'crossing',
      [corner('right', 'upperRight', 'lowerRight'), corner('falling', 'upperLeft', 'lowerRight')],
      looseDistance('lowerLeft', {
        at: holes.lowerRight,
        printedAt: printed.lowerRight,
        holes,
        printed,
        rulerParts,
        metric,
      }),
      names,
    ),
  ];
  for (const { name, at: printedAt } of extra) {
    const at = { x: dry(printedAt.x, movement?.widthPercent), y: dry(printedAt.y, movement?.heightPercent) };
    const places = { at, printedAt, holes, printed, rulerParts, metric };
    const [one, other] = bestPair(at, holes);
    const third = (['upperLeft', 'upperRight', 'lowerRight', 'lowerLeft'] as const)
      .filter((hole) => hole !== one && hole !== other)
      .toSorted((a, b) => distance(holes[a], at) - distance(holes[b], at))[0];
    steps.push(
      step(
        name,
        'crossing',
        [looseDistance(one, places), looseDistance(other, places)],
        looseDistance(third, places),
        names,
      ),
    );
  }
  const metricEffect = effectOf(forLaid(laid, metric));
  const inchEffect = effectOf(forLaid(laid, inchMm));
  return {
    rulerParts,
    metricStepMm,
    metricDoes: isEnough(laid, metric),
    inchesDo: isEnough(laid, inchMm),
    steps,
    metricEffect,
    inchEffect,
    sentences: [
      ...steps.map((one, k) => `${k + 1}. ${one.sentence}`),
      `Set to ${metricStepMm} mm, rounding puts the sheet ${effectText(metricEffect)}.`,
      `Set to 1/${rulerParts} in, rounding puts the sheet ${effectText(inchEffect)}.`,
    ],
  };
}

/** Whether lengths rounded so put the sheet no more out of square than a join shows. */
function isEnough(laid: Laid, round: (mm: number) => number): boolean {
  const rounded = forLaid(laid, round);
  const { farSideMm, sidesMm } = effectOf(rounded);
  const sizeMm = Math.max(Math.abs(rounded.top - laid.top), Math.abs(rounded.left - laid.left));
  return Math.max(farSideMm, sidesMm, sizeMm) <= SIDES_FIX_MM;
}

/** The holes as the ruler sets them. */
function construct({ top, left, rising, right, falling }: Laid): Holes {
  const [dx, dy] = tipOver(top, left, rising);
  const [cx, cy] = tipOver(top, falling, right);
  return {
    upperLeft: { x: 0, y: 0 },
    upperRight: { x: top, y: 0 },
    lowerRight: { x: cx, y: cy },
    lowerLeft: { x: dx, y: dy },
  };
}

function effectOf(laid: Laid): ErrorEffect {
  const shape = shapeOfHoles(construct(laid));
  const sidesMm = Math.max(Math.abs(shape.topMinusBottomMm), Math.abs(shape.rightMinusLeftMm));
  return { outOfSquareDeg: shape.outOfSquareDeg, farSideMm: shape.outOfSquareMm, sidesMm };
}

/** A distance that places no corner: an error of it moves only its own hole, by as much along its arc's reach. */
function looseDistance(
  from: Corner,
  {
    at,
    printedAt,
    holes,
    printed,
    rulerParts,
    metric,
  }: {
    at: Point;
    printedAt: Point;
    holes: Holes;
    printed: Holes;
    rulerParts: RulerParts;
    metric: (mm: number) => number;
  },
): PunchDistance {
  const mm = distance(holes[from], at);
  const [metricMm, inches] = [metric(mm), nearestInches(mm, rulerParts)];
  const effect = (errorMm: number): ErrorEffect => ({ outOfSquareDeg: 0, farSideMm: Math.abs(errorMm), sidesMm: 0 });
  return {
    from,
    mm,
    asPrintedMm: distance(printed[from], printedAt),
    metric: { mm: metricMm, errorMm: metricMm - mm, effect: effect(metricMm - mm) },
    inches: { ...inches, effect: effect(inches.errorMm) },
  };
}

function step(
  hole: string,
  how: PunchStep['how'],
  distances: readonly PunchDistance[],
  check: PunchDistance | null,
  names: (PunchOrderInput['names'] & {}) | null,
): PunchStep {
  const say = ({ from, metric, inches }: PunchDistance): string =>
    `${formatMm(metric.mm)} (${inches.text} in) from ${holeName(from, names)}`;
  const name = holeName(hole, names);
  const proof = check === null ? '' : `; then it must be ${say(check)}`;
  const sentence =
    how === 'start'
      ? `Punch ${name} where the lead sides meet.`
      : how === 'along'
        ? `Punch ${name} along the lead side, ${say(distances[0])}.`
        : `Punch ${name} where two arcs cross, ${distances.map(say).join(' and ')}${proof}.`;
  return { hole, how, distances, check, sentence };
}

function effectText({ outOfSquareDeg, farSideMm, sidesMm }: ErrorEffect): string {
  return `${Number(outOfSquareDeg.toFixed(3))}° out of square, ${formatMm(farSideMm)} over the far side, with opposite sides ${formatMm(sidesMm)} apart in length`;
}

function forLaid(laid: Laid, round: (mm: number) => number): Laid {
  return {
    top: round(laid.top),
    left: round(laid.left),
    rising: round(laid.rising),
    right: round(laid.right),
    falling: round(laid.falling),
  };
}

/** To the nearest of so many mm; decimals that the step has not are rounding. */
function metricOf(stepMm: number): (mm: number) => number {
  return (mm) => Number((Math.round(mm / stepMm) * stepMm).toFixed(6));
}

function inchesOf(parts: RulerParts): (mm: number) => number {
  return (mm) => nearestInches(mm, parts).mm;
}

function checkSide(name: string, mm: number): void {
  if (mm >= SIDE_MM.min && mm <= SIDE_MM.max) return;
  throw new InputError(
    `The sheet's ${name} is ${Number.isFinite(mm) ? formatMm(mm) : 'no number'}: it must be from ${SIDE_MM.min} mm to ${SIDE_MM.max / 1000} m.`,
  );
}
