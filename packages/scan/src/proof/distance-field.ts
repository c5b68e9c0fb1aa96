import type { MaskFrame } from './mask.js';

/**
 * The distance from the middle of every cell to the middle of the nearest cell that is `to`, in cells; infinite where there is none. Exact: the
 * lower envelope of parabolas, first down the columns and then along the rows (Felzenszwalb and Huttenlocher, Distance Transforms of Sampled
 * Functions, Theory of Computing 8, 2012).
 */
export function distanceField({ columns, rows }: MaskFrame, is: (cell: number) => boolean): Float32Array {
  const squares = new Float32Array(columns * rows);
  const most = Math.max(columns, rows);
  const work = { f: new Float64Array(most), v: new Int32Array(most), z: new Float64Array(most + 1) };
  for (let i = 0; i < columns; i++) {
    // Down a column the values are 0 or infinite: two sweeps do.
    let last = -Infinity;
    for (let j = 0; j < rows; j++) {
      if (is(j * columns + i)) last = j;
      squares[j * columns + i] = j - last;
    }
    last = Infinity;
    for (let j = rows - 1; j >= 0; j--) {
      const cell = j * columns + i;
      if (squares[cell] === 0) last = j;
      const near = Math.min(squares[cell], last - j);
      squares[cell] = near * near;
    }
  }
  for (let j = 0; j < rows; j++) alongRow(squares.subarray(j * columns, (j + 1) * columns), work);
  return squares;
}

function alongRow(
  row: Float32Array,
  { f, v, z }: { readonly f: Float64Array; readonly v: Int32Array; readonly z: Float64Array },
): void {
  const n = row.length;
  let top = -1;
  for (let q = 0; q < n; q++) {
    f[q] = row[q];
    if (f[q] === Infinity) continue;
    let from = -Infinity;
    while (top >= 0) {
      from = (f[q] + q * q - (f[v[top]] + v[top] * v[top])) / (2 * (q - v[top]));
      if (from > z[top]) break;
      top--;
    }
    if (top < 0) from = -Infinity;
    top++;
    v[top] = q;
    z[top] = from;
    z[top + 1] = Infinity;
  }
  if (top < 0) return;
  let k = 0;
  for (let q = 0; q < n; q++) {
    while (z[k + 1] < q) k++;
    const away = q - v[k];
    row[q] = Math.sqrt(away * away + f[v[k]]);
  }
}
