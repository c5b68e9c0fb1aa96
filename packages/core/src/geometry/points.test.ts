import fc from 'fast-check';
import { expect, it } from 'vitest';
import { between, cross, distance, dot, middle, minus, plus, turn } from './points.js';

const number = fc.integer({ min: -100000, max: 100000 }).map((v) => v / 1000);
const point = fc.record({ x: number, y: number });

it('turns clockwise as seen above zero', () => {
  expect(cross({ x: 1, y: 0 }, { x: 0, y: 1 })).toBe(1);
  expect(turn({ x: 0, y: 0 }, { x: 2, y: 0 }, { x: 2, y: 3 })).toBe(6);
});

it('goes by the laws of the plane', () => {
  fc.assert(
    fc.property(point, point, point, (a, b, c) => {
      const [u, v] = [minus(b, a), minus(c, a)];
      expect(turn(a, b, c)).toBeCloseTo(cross(u, v), 8);
      // Lagrange's identity.
      expect(dot(u, v) ** 2 + cross(u, v) ** 2).toBeCloseTo(dot(u, u) * dot(v, v), -1);
      expect(distance(a, b) ** 2).toBeCloseTo(dot(u, u), 6);
      const half = middle(a, b);
      expect(distance(half, between(a, b, 0.5))).toBeCloseTo(0, 10);
      expect(distance(plus(a, u), b)).toBeCloseTo(0, 10);
    }),
  );
});
