import type { LatticeStep } from '../repeat/types.js';
import { indexSteps, type StepIndex } from './step-index.js';
import { cosetOf, latticeColouring } from './sublattices.js';

/** Colours for steps, and how good they are. */
export interface StepColouring {
  /** A colour, from 0, for every step in order. */
  readonly colours: Int32Array;
  readonly count: number;
  /** No colouring has fewer. */
  readonly least: number;
  /** Colours that first-fit takes, going through the steps in order: never more than one above the most conflicts of any step. */
  readonly greedy: number;
}

/** Index up to which lattice colourings are tried: above it there would be that many passes. */
const MAX_INDEX = 256;
/** Steps in the search for a largest clique before the best one so far is taken: a lower bound stays a lower bound. */
const CLIQUE_BUDGET = 20_000;
/** What looking for a clique among the steps takes of it: that goes through all of them. */
const LOOK_COST = 500;

/**
 * Colours the steps so that no two that differ by one of `apart` (each with its opposite) have the same colour: of the colourings by cosets of a
 * sublattice the one with the fewest colours, or first-fit where that needs fewer. Takes O(steps · apart) time.
 */
export function colourSteps(steps: readonly LatticeStep[], apart: readonly LatticeStep[]): StepColouring {
  if (steps.length === 0) return { colours: new Int32Array(0), count: 0, least: 0, greedy: 0 };
  const index = indexSteps(steps);
  const occurring = apart.filter((d) => occurs(steps, index, [d]));
  const first = firstFit(steps, index, occurring);
  const least = cliqueSize(steps, index, occurring);
  const sub = latticeColouring(occurring, { least, most: Math.min(first.count, MAX_INDEX) });
  if (sub === null) return { ...first, least, greedy: first.count };
  const regular = renumbered(steps.map((step) => cosetOf(sub, step)));
  // A regular plan is easier to keep in mind than another with as few passes.
  return { ...(regular.count <= first.count ? regular : first), least, greedy: first.count };
}

/** Whether some step has all of its neighbours at these offsets among the steps. */
function occurs(steps: readonly LatticeStep[], index: StepIndex, offsets: readonly LatticeStep[]): boolean {
  return steps.some(({ i, j }) => offsets.every((d) => index.at(i + d.i, j + d.j) >= 0));
}

/** Each step in turn takes the first colour that none of its neighbours has. */
function firstFit(
  steps: readonly LatticeStep[],
  index: StepIndex,
  apart: readonly LatticeStep[],
): { colours: Int32Array; count: number } {
  const colours = new Int32Array(steps.length).fill(-1);
  const taken = new Int32Array(apart.length + 1).fill(-1);
  let count = 0;
  for (let k = 0; k < steps.length; k++) {
    const { i, j } = steps[k];
    for (const d of apart) {
      const other = index.at(i + d.i, j + d.j);
      if (other >= 0 && colours[other] >= 0) taken[colours[other]] = k;
    }
    let colour = 0;
    while (taken[colour] === k) colour++;
    colours[k] = colour;
    count = Math.max(count, colour + 1);
  }
  return { colours, count };
}

/**
 * How many of the steps stand apart from each other, each from every other: the largest such group found that is there on the cloth, within the
 * budget. Never more than the fewest colours.
 */
function cliqueSize(steps: readonly LatticeStep[], index: StepIndex, apart: readonly LatticeStep[]): number {
  const keys = new Set(apart.map(keyOf));
  let best = 1;
  let budget = CLIQUE_BUDGET;
  const grow = (clique: readonly LatticeStep[], candidates: readonly LatticeStep[]): void => {
    if (clique.length + 1 > best) {
      budget -= LOOK_COST;
      if (occurs(steps, index, clique)) best = clique.length + 1;
    }
    for (const [k, step] of candidates.entries()) {
      if (clique.length + 1 + candidates.length - k <= best || --budget < 0) return;
      grow(
        [...clique, step],
        candidates.slice(k + 1).filter((other) => keys.has(keyOf({ i: other.i - step.i, j: other.j - step.j }))),
      );
    }
  };
  grow([], apart);
  return best;
}

/** Colours numbered as they first come. */
function renumbered(raw: readonly number[]): { colours: Int32Array; count: number } {
  const names = new Map<number, number>();
  const colours = Int32Array.from(raw, (colour) => {
    const known = names.get(colour);
    if (known !== undefined) return known;
    names.set(colour, names.size);
    return names.size - 1;
  });
  return { colours, count: names.size };
}

function keyOf({ i, j }: LatticeStep): string {
  return `${i},${j}`;
}
