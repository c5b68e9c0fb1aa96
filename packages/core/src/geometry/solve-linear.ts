/** A pivot smaller than this share of the largest number of its matrix is rounding, not a value (doubles carry 16 digits). */
const PIVOT_SHARE_MIN = 1e-13;

/**
 * Solves a small linear system by elimination with the largest pivot first; null where it has no single solution. `matrix` holds n rows of n
 * numbers that are alike in size (scale rows and unknowns first), `right` n numbers.
 */
export function solveLinear(matrix: readonly (readonly number[])[], right: readonly number[]): number[] | null {
  const rows = matrix.map((row, k) => [...row, right[k]]);
  const n = rows.length;
  const floor = PIVOT_SHARE_MIN * Math.max(...matrix.map((row) => Math.max(...row.map(Math.abs))));
  for (let k = 0; k < n; k++) {
    const pivot = rows.reduce((best, row, i) => (i > k && Math.abs(row[k]) > Math.abs(rows[best][k]) ? i : best), k);
    [rows[k], rows[pivot]] = [rows[pivot], rows[k]];
    if (!(Math.abs(rows[k][k]) > floor)) return null;
    for (let i = k + 1; i < n; i++) {
      const factor = rows[i][k] / rows[k][k];
      for (let j = k; j <= n; j++) rows[i][j] -= factor * rows[k][j];
    }
  }
  const found = new Array<number>(n).fill(0);
  for (let k = n - 1; k >= 0; k--) {
    let rest = rows[k][n];
    for (let j = k + 1; j < n; j++) rest -= rows[k][j] * found[j];
    found[k] = rest / rows[k][k];
  }
  return found.every(Number.isFinite) ? found : null;
}

/** Sums for least squares: `normal` · unknowns = `right`. */
export interface NormalEquations {
  readonly normal: number[][];
  readonly right: number[];
}

export function normalEquations(unknowns: number): NormalEquations {
  return {
    normal: Array.from({ length: unknowns }, () => new Array<number>(unknowns).fill(0)),
    right: new Array<number>(unknowns).fill(0),
  };
}

/** Adds the equation `row` · unknowns = `value` to the sums, which it changes. */
export function addEquation({ normal, right }: NormalEquations, row: readonly number[], value: number): void {
  for (let i = 0; i < row.length; i++) {
    if (row[i] === 0) continue;
    right[i] += row[i] * value;
    for (let j = 0; j < row.length; j++) normal[i][j] += row[i] * row[j];
  }
}
