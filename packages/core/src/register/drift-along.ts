import { distance } from '../geometry/points.js';
import { latticePoint, makeLattice } from '../repeat/lattice.js';
import type { LatticeStep } from '../repeat/types.js';
import { InputError } from '../units/input-error.js';
import { linePlace } from './drift-model.js';
import { composeMotions, layingMotion, type RigidMotion, repeatMotion, STAYS } from './drift-motion.js';
import type { Drift, DriftDot, DriftedPlacement, DriftModel } from './drift-types.js';
import { columnRow } from './drift-walk.js';

/** A placement and the one it is stepped from, by their lattice steps; `from: null`: it is laid by measure at its job's place. */
export interface SteppedFrom {
  readonly step: LatticeStep;
  readonly from: LatticeStep | null;
}

/** Two places of the job's sheet nearer than this are one, mm: rounding, far below the point of any punch. */
const SAME_PLACE_MM = 1e-6;

/**
 * How placements lie that are laid in an order of one's own, such as a plan's marking walk: each dot on dot from the one it names, or by measure, true
 * to the frame. Neighbours of the drift's own steps are laid by their dots; any other neighbour (the other way in a drop) by the two pairs of dots that lie farthest
 * apart. Stepping back is the same motion undone. Throws an `InputError` for a placement that comes before the one it is stepped from, or that two pairs of
 * dots do not join to it.
 */
export function placementsAlongWalk({ model }: Drift, walk: readonly SteppedFrom[]): DriftedPlacement[] {
  const { repeat, widthMm, heightMm } = model.sheet;
  const lattice = makeLattice(repeat, widthMm, heightMm);
  const laid = new Map<string, RigidMotion>();
  const motions = new Map<string, RigidMotion>();
  return walk.map(({ step, from }) => {
    let motion: RigidMotion = { ...STAYS, ...latticePoint(lattice, step) };
    if (from !== null) {
      const under = laid.get(nameOf(from));
      if (under === undefined) {
        throw new InputError(
          `The placement at column ${step.i}, row ${step.j} of the lattice is stepped from one that is not laid yet: put that one before it.`,
        );
      }
      const by = { i: step.i - from.i, j: step.j - from.j };
      const known = motions.get(nameOf(by)) ?? motionBy(model, by);
      motions.set(nameOf(by), known);
      motion = composeMotions(under, known);
    }
    laid.set(nameOf(step), motion);
    return { step, ...columnRow(model, step), motion };
  });
}

function motionBy(model: DriftModel, by: LatticeStep): RigidMotion {
  for (const step of [model.within, model.between]) {
    if (step !== null && same(step.by, by)) return step.motion;
  }
  const { line, pos } = linePlace(model.lines, by);
  const back = line < 0 || (line === 0 && pos < 0);
  if (back) return repeatMotion(motionBy(model, { i: -by.i, j: -by.j }), -1);
  const pairs = farthestPairs(model, by);
  if (pairs === null) {
    throw new InputError(
      `No two pairs of dots join placements that lie ${by.i} across and ${by.j} down on the lattice: step from a neighbour.`,
    );
  }
  const [first, second] = pairs.map(([dot, mark]) => ({ dot: dot.at, mark: mark.at }));
  return layingMotion({ first, second });
}

type Pair = readonly [dot: DriftDot, mark: DriftDot];

/** Two pairs without a dot in common, the dots of which the step carries onto their marks on the job's sheet. */
function farthestPairs({ sheet, dots }: DriftModel, by: LatticeStep): readonly [Pair, Pair] | null {
  const v = latticePoint(makeLattice(sheet.repeat, sheet.widthMm, sheet.heightMm), by);
  const pairs = dots.flatMap((dot) =>
    dots
      .filter(({ jobAt }) => Math.hypot(jobAt.x - dot.jobAt.x - v.x, jobAt.y - dot.jobAt.y - v.y) <= SAME_PLACE_MM)
      .map((mark): Pair => [dot, mark]),
  );
  let best: readonly [Pair, Pair] | null = null;
  let farthest = SAME_PLACE_MM;
  for (const [k, one] of pairs.entries()) {
    for (const other of pairs.slice(k + 1)) {
      if (one[1] === other[0] || other[1] === one[0]) continue;
      const apart = distance(one[0].jobAt, other[0].jobAt);
      if (apart <= farthest) continue;
      farthest = apart;
      best = [one, other];
    }
  }
  return best;
}

function same(a: LatticeStep, b: LatticeStep): boolean {
  return a.i === b.i && a.j === b.j;
}

function nameOf({ i, j }: LatticeStep): string {
  return `${i},${j}`;
}
