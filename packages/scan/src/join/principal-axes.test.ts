import { expect, it } from 'vitest';
import { symmetricAxes } from './principal-axes.js';

it('finds the eigenvalues of the second difference, 2 − 2 cos(kπ / (n + 1)) (Strang, Computational Science and Engineering, 1.5)', () => {
  const n = 12;
  const matrix = Float64Array.from({ length: n * n }, (_, k) => {
    const apart = Math.abs((k % n) - Math.floor(k / n));
    return apart === 0 ? 2 : apart === 1 ? -1 : 0;
  });
  const { values, vectors } = symmetricAxes(matrix, n);
  for (let k = 0; k < n; k++) {
    expect(values[k]).toBeCloseTo(2 - 2 * Math.cos(((n - k) * Math.PI) / (n + 1)), 12);
    for (let i = 0; i < n; i++) {
      const image = vectors[k].reduce((sum, value, j) => sum + value * matrix[i * n + j], 0);
      expect(image).toBeCloseTo(values[k] * vectors[k][i], 12);
    }
  }
});
