/** Part of a sum of squares that hangs on few unknowns: its matrix (symmetric, full) and right-hand side, by the numbers of the unknowns. */
export interface NormalBlock {
  readonly unknowns: readonly number[];
  readonly matrix: Float64Array;
  readonly right: Float64Array;
}

/** A pivot smaller than this part of its diagonal entry is none: nothing holds its unknown, which stays. */
const LEAST_PIVOT = 1e-13;

/**
 * Solves the normal equations of a sum of blocks, each diagonal entry raised by its part `damping` (D. Marquardt, J. SIAM 11, 1963), by Cholesky's method within the envelope
 * of the matrix (A. George and J. Liu, Computer Solution of Large Sparse Positive Definite Systems, 1981, ch. 4). Blocks tie unknowns that are numbered near to one another around
 * a ring; taken from both ends by turns, they lie near to one another in a row as well, and the time grows with their number alone.
 */
export function solveBlocks(blocks: readonly NormalBlock[], unknowns: number, damping: number): Float64Array {
  const { first, start, entries, right } = assembled(blocks, unknowns);
  for (let i = 0; i < unknowns; i++) {
    const row = start[i] - first[i];
    const whole = entries[row + i] * (1 + damping);
    for (let j = first[i]; j <= i; j++) {
      const other = start[j] - first[j];
      let sum = j === i ? whole : entries[row + j];
      for (let k = Math.max(first[i], first[j]); k < j; k++) sum -= entries[row + k] * entries[other + k];
      if (j < i) entries[row + j] = sum / entries[other + j];
      else entries[row + i] = sum > LEAST_PIVOT * whole ? Math.sqrt(sum) : Number.POSITIVE_INFINITY;
    }
  }
  for (let i = 0; i < unknowns; i++) {
    const row = start[i] - first[i];
    let sum = right[i];
    for (let k = first[i]; k < i; k++) sum -= entries[row + k] * right[k];
    right[i] = sum / entries[row + i];
  }
  for (let i = unknowns - 1; i >= 0; i--) {
    const row = start[i] - first[i];
    right[i] /= entries[row + i];
    for (let k = first[i]; k < i; k++) right[k] -= entries[row + k] * right[i];
  }
  const found = new Float64Array(unknowns);
  for (let u = 0; u < unknowns; u++) found[u] = right[placeOf(u, unknowns)];
  return found;
}

/** Where an unknown stands: 0, last, 1, last but one, … */
function placeOf(unknown: number, count: number): number {
  return 2 * unknown < count ? 2 * unknown : 2 * (count - 1 - unknown) + 1;
}

/** The lower half of the matrix, row by row from its first entry: row i holds columns `first[i]` … i from `start[i]` on. */
interface Envelope {
  readonly first: Int32Array;
  readonly start: Int32Array;
  readonly entries: Float64Array;
  readonly right: Float64Array;
}

function assembled(blocks: readonly NormalBlock[], unknowns: number): Envelope {
  const place = new Int32Array(unknowns);
  const first = new Int32Array(unknowns);
  for (let u = 0; u < unknowns; u++) {
    place[u] = placeOf(u, unknowns);
    first[u] = u;
  }
  for (const { unknowns: ids } of blocks) {
    let least = unknowns;
    for (const id of ids) if (place[id] < least) least = place[id];
    for (const id of ids) if (least < first[place[id]]) first[place[id]] = least;
  }
  const start = new Int32Array(unknowns + 1);
  for (let i = 0; i < unknowns; i++) start[i + 1] = start[i] + i - first[i] + 1;
  const entries = new Float64Array(start[unknowns]);
  const right = new Float64Array(unknowns);
  for (const { unknowns: ids, matrix, right: part } of blocks) {
    const n = ids.length;
    for (let i = 0; i < n; i++) {
      const own = place[ids[i]];
      right[own] += part[i];
      const row = start[own] - first[own];
      for (let j = 0; j < n; j++) {
        const other = place[ids[j]];
        if (other <= own) entries[row + other] += matrix[i * n + j];
      }
    }
  }
  return { first, start, entries, right };
}
