import { plus } from '../geometry/points.js';
import type { Point } from '../geometry/types.js';
import { latticePoint, makeLattice } from '../repeat/lattice.js';
import type { LatticeStep } from '../repeat/types.js';
import { linePlace, stepAt } from './drift-model.js';
import type { Laying } from './drift-motion.js';
import type { DriftModel, DriftStep } from './drift-types.js';
import { gridSteps, type Walk, type WalkedPlacement, walkPlacements } from './drift-walk.js';

/** One sheet laid on the one before. */
export interface LaidStep {
  /** The place that was laid; the same in every way that leads over it. */
  readonly name: string;
  readonly laying: Laying;
  /** The holes by name: those of the new sheet, and those whose prints they are laid on. */
  readonly names: { readonly [which in 'first' | 'second']: { readonly dot: string; readonly mark: string } };
  /** Where the first mark is on the cloth, by the job, mm. */
  readonly mark: Point;
}

/** How a placement was reached from the first one. */
export interface PlacePath {
  readonly step: LatticeStep;
  readonly laid: readonly LaidStep[];
}

/** The ways to the last placement of a cloth and to the one before it in its line (null where there is none). */
export function lastPath(
  model: DriftModel,
  { down, across }: { readonly down: number; readonly across: number },
): { readonly last: PlacePath; readonly before: PlacePath | null } {
  const steps = gridSteps(model, down, across);
  const walk = walkPlacements(model, steps);
  const length = model.lines === 'columns' ? down : across;
  return {
    last: pathTo(model, walk, steps[steps.length - 1]),
    before: length > 1 ? pathTo(model, walk, steps[steps.length - 2]) : null,
  };
}

function pathTo(model: DriftModel, walk: Walk, step: LatticeStep): PlacePath {
  const { line, pos } = linePlace(model.lines, step);
  const ways: LaidStep[][] = [];
  let placement = walk.get(line)?.get(pos) as WalkedPlacement;
  while (placement.from !== null) {
    const { from } = placement;
    const way: LaidStep[] = [];
    let at = stepAt(model.lines, from.line, from.pos);
    for (const { kind, count } of from.moves) {
      for (let k = 0; k < Math.abs(count); k++) {
        const laid = layOne(model, at, { kind, back: count < 0 });
        way.push(laid.step);
        at = laid.to;
      }
    }
    ways.push(way);
    placement = walk.get(from.line)?.get(from.pos) as WalkedPlacement;
  }
  return { step, laid: ways.reverse().flat() };
}

function layOne(
  model: DriftModel,
  from: LatticeStep,
  { kind, back }: { readonly kind: 'within' | 'between'; readonly back: boolean },
): { readonly step: LaidStep; readonly to: LatticeStep } {
  const { by, pairs, laying: ahead } = model[kind] as DriftStep;
  const { repeat, widthMm, heightMm } = model.sheet;
  const sign = back ? -1 : 1;
  const to = { i: from.i + sign * by.i, j: from.j + sign * by.j };
  const [one, other] = pairs;
  const first = { dot: one.from, mark: one.to };
  const second = { dot: other.from, mark: other.to };
  const laying = back ? { first: swapped(ahead.first), second: swapped(ahead.second) } : ahead;
  return {
    to,
    step: {
      name: `${to.i},${to.j}`,
      laying,
      names: back ? { first: swapped(first), second: swapped(second) } : { first, second },
      mark: plus(latticePoint(makeLattice(repeat, widthMm, heightMm), from), laying.first.mark),
    },
  };
}

function swapped<T>({ dot, mark }: { readonly dot: T; readonly mark: T }): { readonly dot: T; readonly mark: T } {
  return { dot: mark, mark: dot };
}
