import fc from 'fast-check';
import { expect, it } from 'vitest';
import { paperCurve } from '../geometry/paper.js';
import { tighterThan, turnAlong } from './tight-arcs.js';

const cubic = fc
  .array(fc.integer({ min: -1000, max: 1000 }), { minLength: 8, maxLength: 8 })
  .map((v) => Float64Array.from(v, (c) => c / 100));

it("agrees with paper's curvature at every place", () => {
  fc.assert(
    fc.property(cubic, fc.double({ min: 0.05, max: 8, noNaN: true }), (coords, radius) => {
      const found = tighterThan(coords, 0, radius);
      const curve = paperCurve(coords, 0);
      for (let k = 0; k <= 200; k++) {
        const t = k / 200;
        const bend = Math.abs(curve.getCurvatureAtTime(t)) * radius;
        // Right at the ends of a stretch rounding decides.
        if (!Number.isFinite(bend) || Math.abs(bend - 1) < 0.02) continue;
        if (found.some(([a, b]) => Math.min(Math.abs(t - a), Math.abs(t - b)) < 4e-4)) continue;
        expect(found.some(([a, b]) => t >= a && t <= b)).toBe(bend > 1);
      }
    }),
    { numRuns: 200 },
  );
});

it('finds the tip of a parabola where the closed form has it', () => {
  // y = x² / (2 r): its radius of curvature is r (1 + (x/r)²)^1.5, so it is below R for |x| < r √((R/r)^(2/3) − 1).
  const [r, half, R] = [0.5, 4, 1.5];
  const y = half ** 2 / (2 * r);
  // A parabola as a quadratic from (-half, y) over (0, -y), raised to a cubic.
  const q = [-half, y, 0, -y, half, y];
  const coords = Float64Array.of(
    q[0],
    q[1],
    q[0] / 3,
    (q[1] + 2 * q[3]) / 3,
    q[4] / 3,
    (q[5] + 2 * q[3]) / 3,
    q[4],
    q[5],
  );
  const reach = r * Math.sqrt((R / r) ** (2 / 3) - 1);
  const found = tighterThan(coords, 0, R);
  expect(found).toHaveLength(1);
  expect(found[0][0]).toBeCloseTo(0.5 - reach / (2 * half), 4);
  expect(found[0][1]).toBeCloseTo(0.5 + reach / (2 * half), 4);
  expect(Math.abs(turnAlong(coords, 0, [0, 1]))).toBeCloseTo(2 * Math.atan(half / r), 6);
});

it('finds nothing on straight cubics', () => {
  expect(tighterThan(Float64Array.of(0, 0, 1, 1, 2, 2, 3, 3), 0, 5)).toEqual([]);
  expect(tighterThan(Float64Array.of(1, 1, 1, 1, 1, 1, 1, 1), 0, 5)).toEqual([]);
});
