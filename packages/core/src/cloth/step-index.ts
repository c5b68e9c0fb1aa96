import type { LatticeStep } from '../repeat/types.js';

/** Finds a placement by its lattice step. */
export interface StepIndex {
  /** Its number in the list, or −1. */
  readonly at: (i: number, j: number) => number;
}

/** An index over steps (whole numbers, each once): a table, since placements fill the cloth, with one row for each i. */
export function indexSteps(steps: readonly LatticeStep[]): StepIndex {
  let [i0, i1] = [Infinity, -Infinity];
  for (const { i } of steps) {
    i0 = Math.min(i0, i);
    i1 = Math.max(i1, i);
  }
  const lines = steps.length === 0 ? 0 : i1 - i0 + 1;
  const from = new Array<number>(lines).fill(Infinity);
  const to = new Array<number>(lines).fill(-Infinity);
  for (const { i, j } of steps) {
    from[i - i0] = Math.min(from[i - i0], j);
    to[i - i0] = Math.max(to[i - i0], j);
  }
  const rows = from.map((low, k) => new Int32Array(Math.max(0, to[k] - low + 1)).fill(-1));
  steps.forEach(({ i, j }, k) => {
    rows[i - i0][j - from[i - i0]] = k;
  });
  return {
    at: (i, j) => rows[i - i0]?.[j - from[i - i0]] ?? -1,
  };
}
