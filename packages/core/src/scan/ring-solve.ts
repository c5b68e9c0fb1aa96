/** Part of a sum of squares that hangs on few unknowns: its matrix (symmetric, full) and right-hand side, by the numbers of the unknowns. */
export interface NormalBlock {
  readonly unknowns: readonly number[];
  readonly matrix: Float64Array;
  readonly right: Float64Array;
}

/** The residual has shrunk to this part of its beginning: beyond, steps differ by less than a thousandth of a pixel. */
const SHRUNK = 1e-4;

/**
 * Solves the normal equations of a sum of blocks, each diagonal entry raised by its part `damping` (D. Marquardt, J. SIAM 11, 1963), by conjugate gradients scaled by the
 * diagonal (M. Hestenes and E. Stiefel, J. Res. NBS 49, 1952): blocks that share few unknowns are never put together into one matrix.
 */
export function solveBlocks(blocks: readonly NormalBlock[], unknowns: number, damping: number): Float64Array {
  const diagonal = new Float64Array(unknowns);
  const right = new Float64Array(unknowns);
  for (const { unknowns: ids, matrix, right: r } of blocks) {
    for (let i = 0; i < ids.length; i++) {
      diagonal[ids[i]] += matrix[i * ids.length + i];
      right[ids[i]] += r[i];
    }
  }
  for (let i = 0; i < unknowns; i++) diagonal[i] = diagonal[i] > 0 ? diagonal[i] * (1 + damping) : 1;
  const x = new Float64Array(unknowns);
  const r = right.slice();
  const z = r.map((v, i) => v / diagonal[i]);
  const p = z.slice();
  const ap = new Float64Array(unknowns);
  let rz = dot(r, z);
  const goal = rz * SHRUNK * SHRUNK;
  const rounds = Math.min(400, 3 * unknowns);
  for (let round = 0; round < rounds && rz > goal && rz > 0; round++) {
    multiply(blocks, p, ap);
    for (let i = 0; i < unknowns; i++) ap[i] += p[i] * damped(diagonal[i], damping);
    const down = dot(p, ap);
    if (!(down > 0)) break;
    const step = rz / down;
    for (let i = 0; i < unknowns; i++) {
      x[i] += step * p[i];
      r[i] -= step * ap[i];
      z[i] = r[i] / diagonal[i];
    }
    const next = dot(r, z);
    const keep = next / rz;
    rz = next;
    for (let i = 0; i < unknowns; i++) p[i] = z[i] + keep * p[i];
  }
  return x;
}

/** What damping adds to an entry, from the entry with it. */
function damped(raised: number, damping: number): number {
  return (raised * damping) / (1 + damping);
}

function multiply(blocks: readonly NormalBlock[], p: Float64Array, out: Float64Array): void {
  out.fill(0);
  for (const { unknowns: ids, matrix } of blocks) {
    const n = ids.length;
    for (let i = 0; i < n; i++) {
      let sum = 0;
      for (let j = 0; j < n; j++) sum += matrix[i * n + j] * p[ids[j]];
      out[ids[i]] += sum;
    }
  }
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
}
