import { solveLinear } from '@okuri/core/inside';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type NormalBlock, solveBlocks } from './ring-solve.js';

/** Blocks of rows around a ring of unknowns, each on some that follow on one another. */
function blocksOf(count: number, width: number, numbers: () => number): NormalBlock[] {
  return Array.from({ length: count }, (_, k) => {
    const n = Math.min(width, count);
    const unknowns = Array.from({ length: n }, (_, i) => (k + i) % count);
    const matrix = new Float64Array(n * n);
    const right = new Float64Array(n);
    for (let row = 0; row < n + 1; row++) {
      const a = unknowns.map(() => numbers());
      const value = numbers();
      for (let i = 0; i < n; i++) {
        right[i] += a[i] * value;
        for (let j = 0; j < n; j++) matrix[i * n + j] += a[i] * a[j];
      }
    }
    return { unknowns, matrix, right };
  });
}

describe('normal equations around a ring', () => {
  it('are solved as by elimination in the full matrix', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 30 }),
        fc.integer({ min: 1, max: 7 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.infiniteStream(fc.double({ min: -1, max: 1, noNaN: true })),
        (count, width, damping, stream) => {
          const blocks = blocksOf(count, width, () => 0.1 + (stream.next().value as number));
          const full = Array.from({ length: count }, () => new Array<number>(count).fill(0));
          const right = new Array<number>(count).fill(0);
          for (const { unknowns, matrix, right: part } of blocks) {
            unknowns.forEach((u, i) => {
              right[u] += part[i];
              unknowns.forEach((v, j) => {
                full[u][v] += matrix[i * unknowns.length + j];
              });
            });
          }
          for (let u = 0; u < count; u++) full[u][u] *= 1 + damping + 1e-3;
          const expected = solveLinear(full, right);
          fc.pre(expected !== null);
          const found = solveBlocks(blocks, count, damping + 1e-3);
          for (let u = 0; u < count; u++) {
            expect(Math.abs(found[u] - expected![u])).toBeLessThan(1e-6 * Math.max(1, Math.abs(expected![u])));
          }
        },
      ),
      { numRuns: 60 },
    );
  });

  it('leave unknowns where they are that nothing holds', () => {
    const one: NormalBlock = { unknowns: [0, 2], matrix: Float64Array.of(2, 0, 0, 4), right: Float64Array.of(2, 2) };
    expect(Array.from(solveBlocks([one], 3, 0), (x) => Math.round(1e12 * x) / 1e12)).toEqual([1, 0, 0.5]);
    const same: NormalBlock = { unknowns: [0, 1], matrix: Float64Array.of(1, 1, 1, 1), right: Float64Array.of(3, 3) };
    const [a, b] = solveBlocks([same], 2, 0);
    expect(a + b).toBeCloseTo(3, 12);
  });
});
