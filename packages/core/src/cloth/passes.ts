import type { Lattice, LatticeStep } from '../repeat/types.js';
import { colourSteps } from './colouring.js';
import type { LaidPlacement } from './placements.js';
import type { PassChoice, PlanPass, Stepping } from './plan-types.js';
import { walkLength, walkOrder } from './walk.js';

export interface PassOptions {
  readonly stepping: Stepping;
  readonly wipeEvery: number;
  /** From `wetConflicts`. */
  readonly conflicts: readonly LatticeStep[];
}

/** Passes for placements: `pass` and `order` stand for each placement in order, both from 1. */
export interface Passes {
  readonly pass: Int32Array;
  readonly order: Int32Array;
  readonly passes: readonly PlanPass[];
  readonly choice: PassChoice;
}

/**
 * Shares placements out over passes so that no two of a pass conflict, with the fewest passes that were found, and orders each pass. Stepped
 * straight `on`, placements of one column (one row of a brick) do not count as conflicting: each lands on the one before. The passes that begin
 * with the first column come first.
 */
export function makePasses(placements: readonly LaidPlacement[], lattice: Lattice, options: PassOptions): Passes {
  const { stepping, wipeEvery } = options;
  const brick = lattice.repeat.kind === 'brick';
  const conflicts =
    stepping === 'on' ? options.conflicts.filter(({ i, j }) => (brick ? j : i) !== 0) : options.conflicts;
  const { colours, count, least, greedy } = colourSteps(
    placements.map((p) => p.step),
    conflicts,
  );
  const byPass: number[][] = Array.from({ length: count }, () => []);
  colours.forEach((colour, k) => {
    byPass[colour].push(k);
  });
  const pass = Int32Array.from(colours, (colour) => colour + 1);
  const order = new Int32Array(placements.length);
  const passes = byPass.map((numbers, k): PlanPass => {
    const walk = walkOrder(placements, numbers, { lattice, stepping });
    walk.forEach((number, place) => {
      order[number] = place + 1;
    });
    return { pass: k + 1, placements: walk.length, walkMm: walkLength(placements, walk) };
  });
  const choice = {
    stepping,
    conflicts,
    count,
    least,
    greedy,
    wipeEvery: stepping === 'on' ? wipeEvery : null,
  };
  return { pass, order, passes, choice };
}
