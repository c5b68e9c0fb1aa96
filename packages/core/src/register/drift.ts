import { cross, dot, minus } from '../geometry/points.js';
import type { Point } from '../geometry/types.js';
import { latticePoint, makeLattice } from '../repeat/lattice.js';
import type { LatticeStep } from '../repeat/types.js';
import { formatMm } from '../units/format.js';
import { InputError } from '../units/input-error.js';
import { worstJoinMm, worstJoinOf } from './drift-joins.js';
import { driftModel, linePlace, slidBy, stepAt } from './drift-model.js';
import { moveBy, secondDotError } from './drift-motion.js';
import type {
  Drift,
  DriftedPlacement,
  DriftJoin,
  DriftModel,
  DriftOptions,
  DriftSheet,
  DriftStep,
  LineDrift,
  LineTotal,
} from './drift-types.js';
import { gridSteps, type Walk, type WalkedPlacement, walkedList, walkPlacements } from './drift-walk.js';
import type { Holes } from './types.js';

/** Placements of one cloth: more is a slip of the hand. */
export const DRIFT_PLACEMENTS_MAX = 500_000;

/**
 * A turn below this is rounding, rad: over 500 placements of a metre it moves the last by about a ten-thousandth of a mm.
 */
export const TURN_ROUNDING_RAD = 1e-12;

/** A join that is at its tolerance to within this, mm, does not exceed it: rounding over hundreds of metres of cloth. */
export const JOIN_ROUNDING_MM = 1e-6;

const DEG = 180 / Math.PI;

/**
 * What a sheet does on cloth when it is stepped dot on dot: the first dot exactly on its mark, the second on the line to its mark (the direction
 * is fixed, an error of length stays); down the first column, then each column from its neighbour (by rows in a brick); every step is a rigid motion, so
 * that the placement `n` steps on has made that motion n times. What is assumed: the cut pattern moved with the holes, so that the corners of the field are
 * where the corner holes are; and a dot between the corners that was not measured divides its side as on the job's sheet. A true
 * rectangle does not drift; a parallelogram has no turn and only leans. The frame is that of the holes, in which the first placement lies.
 * Throws an `InputError` for holes that are no sheet, counts that are not whole or a tolerance that is not above zero.
 */
export function driftOf(holes: Holes, sheet: DriftSheet, options: DriftOptions): Drift {
  const { down, across, toleranceMm } = options;
  const model = driftModelFor(holes, sheet, options);
  checkTolerance(toleranceMm);
  const walk = walkPlacements(model, gridSteps(model, down, across));
  const joins = findJoins(model, walk, toleranceMm);
  return { model, down, across, toleranceMm, ...lineDrifts(model, walk), ...joins };
}

/** The model of a cloth of so many placements; the steps that it does not need are left out. Throws as `driftOf` does. */
export function driftModelFor(
  holes: Holes,
  sheet: DriftSheet,
  { down, across, lines }: Pick<DriftOptions, 'down' | 'across' | 'lines'>,
): DriftModel {
  checkCounts(down, across);
  // In a drop the columns slide back by whole placements, in a brick the rows: that takes steps within the line too.
  const sides = {
    right: across > 1 || (sheet.repeat.kind === 'brick' && down > 1),
    bottom: down > 1 || (sheet.repeat.kind === 'drop' && across > 1),
  };
  return driftModel(holes, sheet, { sides, ...(lines === undefined ? {} : { lines }) });
}

/**
 * How every placement lies on the cloth, line by line: those of the drift's own cloth, or given lattice steps (in the basis of `makeLattice` with the
 * sheet's repeat, as a plan has them). Of given ones the first in the numbering lies at its job's place. Throws an `InputError` where the given need a step
 * that the drift's cloth did not.
 */
export function placementsUnderDrift(
  { model, down, across }: Drift,
  steps: readonly LatticeStep[] = gridSteps(model, down, across),
): DriftedPlacement[] {
  const places = steps.map((step) => linePlace(model.lines, step));
  const lines = new Set(places.map(({ line }) => line));
  const lacksWithin = model.within === null && new Set(places.map(({ pos }) => pos)).size > 1;
  if (lacksWithin || (model.between === null && lines.size > 1)) {
    throw new InputError(
      'The cloth has placements that the drift was not worked out for: give it as many placements down and across as the cloth has.',
    );
  }
  return walkedList(model, walkPlacements(model, steps));
}

function lineDrifts(model: DriftModel, walk: Walk): Pick<Drift, 'within' | 'between'> {
  const lines = [...walk.keys()];
  const first = placesOf(model, walk, lines[0]);
  const lastLine = placesOf(model, walk, lines[lines.length - 1]);
  return {
    within:
      model.within === null || first.length < 2
        ? null
        : { ...stepDrift(model.within), over: total(model, first[0], first[first.length - 1], first.length - 1) },
    between:
      model.between === null || lines.length < 2
        ? null
        : { ...stepDrift(model.between), over: total(model, first[0], lastLine[0], lines.length - 1) },
  };
}

function placesOf(model: DriftModel, walk: Walk, line: number): WalkedPlacement[] {
  const places = walk.get(line) as ReadonlyMap<number, WalkedPlacement>;
  const start = -slidBy(model.sheet, line);
  return Array.from({ length: places.size }, (_, k) => places.get(start + k) as WalkedPlacement);
}

function stepDrift(step: DriftStep): Omit<LineDrift, 'over'> {
  const { first } = step.laying;
  const made = minus(first.mark, first.dot);
  const turn = step.motion.angleRad;
  const lean = angleBetween(step.vector, made);
  const length = Math.hypot(made.x, made.y);
  return {
    step,
    leanDeg: lean * DEG,
    leanMmPerM: 1000 * Math.tan(lean),
    turnDeg: turn * DEG,
    radiusMm: Math.abs(turn) <= TURN_ROUNDING_RAD ? null : length / (2 * Math.sin(Math.abs(turn) / 2)),
    growthMm: length - Math.hypot(step.vector.x, step.vector.y),
    secondDotMm: secondDotError(step.laying),
  };
}

function total(model: DriftModel, from: WalkedPlacement, to: WalkedPlacement, steps: number): LineTotal {
  const { repeat, widthMm, heightMm } = model.sheet;
  const lattice = makeLattice(repeat, widthMm, heightMm);
  const job = (one: WalkedPlacement): Point => latticePoint(lattice, stepAt(model.lines, one.line, one.pos));
  const real = (one: WalkedPlacement): Point => moveBy(one.motion, model.holes.upperLeft);
  const [wanted, made] = [minus(job(to), job(from)), minus(real(to), real(from))];
  const length = Math.hypot(wanted.x, wanted.y);
  const lean = angleBetween(wanted, made);
  return {
    steps,
    growthMm: dot(minus(made, wanted), wanted) / length,
    sidewaysMm: cross(wanted, made) / length,
    leanDeg: lean * DEG,
    leanMmPerM: 1000 * Math.tan(lean),
    turnDeg: (to.motion.angleRad - from.motion.angleRad) * DEG,
  };
}

function findJoins(
  model: DriftModel,
  walk: Walk,
  toleranceMm: number,
): { firstOver: DriftJoin | null; last: DriftJoin | null; worst: DriftJoin | null } {
  let over: WalkedPlacement | null = null;
  let worst: WalkedPlacement | null = null;
  let last: WalkedPlacement | null = null;
  let worstMm = Number.NEGATIVE_INFINITY;
  for (const line of walk.keys()) {
    for (const placement of placesOf(model, walk, line)) {
      const mm = worstJoinMm(model, walk, placement);
      if (over === null && mm > toleranceMm + JOIN_ROUNDING_MM) over = placement;
      // Rounding must not choose between equals; the very first has no join.
      if (last !== null && mm > worstMm + JOIN_ROUNDING_MM) {
        worst = placement;
        worstMm = mm;
      }
      last = placement;
    }
  }
  const join = (placement: WalkedPlacement | null): DriftJoin | null =>
    placement === null ? null : worstJoinOf(model, walk, placement);
  return { firstOver: join(over), last: join(last), worst: join(worst) };
}

function angleBetween(from: Point, to: Point): number {
  return Math.atan2(cross(from, to), dot(from, to));
}

function checkCounts(down: number, across: number): void {
  for (const [way, count] of [
    ['down', down],
    ['across', across],
  ] as const) {
    if (Number.isInteger(count) && count >= 1) continue;
    throw new InputError(`The cloth has ${count} placements ${way}: give a whole number of at least 1.`);
  }
  if (down * across <= DRIFT_PLACEMENTS_MAX) return;
  throw new InputError(
    `The cloth has ${down} × ${across} placements: drift is worked out for at most ${DRIFT_PLACEMENTS_MAX} of them.`,
  );
}

/** Refuses a tolerance that no join can be judged by. */
export function checkTolerance(toleranceMm: number): void {
  if (toleranceMm > 0 && Number.isFinite(toleranceMm)) return;
  throw new InputError(
    `The tolerance of joins is ${Number.isFinite(toleranceMm) ? formatMm(toleranceMm) : 'no number'}: it must be above zero.`,
  );
}
