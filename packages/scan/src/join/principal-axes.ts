/** Sweeps of turns; a matrix of some fifty rows settles in six to ten. */
const SWEEPS_MAX = 30;

/** What is left beside the diagonal, as a share of it, that is rounding. */
const SETTLED = 1e-20;

/**
 * Eigenvalues, falling, and eigenvectors of a symmetric matrix (row by row, n × n), by turning rows and columns in pairs until nothing is left beside
 * the diagonal (Jacobi 1846; Golub & Van Loan, Matrix Computations, 8.5). The k-th vector is the k-th row of `vectors`.
 */
export function symmetricAxes(matrix: Float64Array, n: number): { values: Float64Array; vectors: Float64Array[] } {
  const a = Float64Array.from(matrix);
  const v = new Float64Array(n * n);
  for (let k = 0; k < n; k++) v[k * n + k] = 1;
  for (let sweep = 0; sweep < SWEEPS_MAX; sweep++) {
    let beside = 0;
    let on = 0;
    for (let i = 0; i < n; i++) {
      on += a[i * n + i] ** 2;
      for (let j = i + 1; j < n; j++) beside += a[i * n + j] ** 2;
    }
    if (beside <= SETTLED * on) break;
    for (let p = 0; p < n; p++) for (let q = p + 1; q < n; q++) turnPair(a, v, n, p, q);
  }
  const order = Array.from({ length: n }, (_, k) => k).sort((p, q) => a[q * n + q] - a[p * n + p]);
  return {
    values: Float64Array.from(order, (k) => a[k * n + k]),
    vectors: order.map((k) => Float64Array.from({ length: n }, (_, i) => v[i * n + k])),
  };
}

function turnPair(a: Float64Array, v: Float64Array, n: number, p: number, q: number): void {
  const off = a[p * n + q];
  if (off === 0) return;
  const theta = (a[q * n + q] - a[p * n + p]) / (2 * off);
  const t = (theta < 0 ? -1 : 1) / (Math.abs(theta) + Math.sqrt(theta * theta + 1));
  const c = 1 / Math.sqrt(t * t + 1);
  const s = t * c;
  for (let k = 0; k < n; k++) {
    const kp = a[k * n + p];
    const kq = a[k * n + q];
    a[k * n + p] = c * kp - s * kq;
    a[k * n + q] = s * kp + c * kq;
  }
  for (let k = 0; k < n; k++) {
    const pk = a[p * n + k];
    const qk = a[q * n + k];
    a[p * n + k] = c * pk - s * qk;
    a[q * n + k] = s * pk + c * qk;
    const kp = v[k * n + p];
    const kq = v[k * n + q];
    v[k * n + p] = c * kp - s * kq;
    v[k * n + q] = s * kp + c * kq;
  }
}
