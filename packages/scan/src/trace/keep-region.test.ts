import type { Point } from '@okuri/core';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { halfPlaneShare } from '../scale/drawn-pictures.test-help.js';
import { polygonCoverage } from './keep-region.js';

describe('coverage by a polygon', () => {
  it('is the area of each pixel on the inner side of a line', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 2 * Math.PI, noNaN: true }),
        fc.double({ min: -9, max: 9, noNaN: true }),
        (angle, shift) => {
          const [a, b] = [Math.cos(angle), Math.sin(angle)];
          const c = 8 * (a + b) + shift;
          const far = (along: number, across: number): Point => ({
            x: a * c - 100 * (across * a + along * b),
            y: b * c - 100 * (across * b - along * a),
          });
          const polygon = [far(-1, 0), far(1, 0), far(1, 1), far(-1, 1)];
          const coverage = polygonCoverage(polygon, 16, 16);
          coverage.forEach((share, k) => {
            const [x, y] = [k % 16, k >> 4];
            expect(Math.abs(share / 255 - halfPlaneShare(x, y, { a, b, c }))).toBeLessThan(0.003);
          });
        },
      ),
      { numRuns: 60 },
    );
  });

  it('is full in a box of whole pixels, whichever way it turns, and nothing outside', () => {
    const box = [
      { x: 2, y: 1 },
      { x: 5, y: 1 },
      { x: 5, y: 4 },
      { x: 2, y: 4 },
    ];
    for (const polygon of [box, [...box].reverse()]) {
      const coverage = polygonCoverage(polygon, 8, 6);
      coverage.forEach((share, k) => {
        const [x, y] = [k % 8, Math.floor(k / 8)];
        expect(share).toBe(x >= 2 && x < 5 && y >= 1 && y < 4 ? 255 : 0);
      });
    }
  });
});
