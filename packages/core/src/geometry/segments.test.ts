import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { between, distance } from './points.js';
import {
  lineDistance,
  pointDistance,
  type Segment,
  segmentDistance,
  segmentLength,
  segmentMiddle,
  sharedLength,
} from './segments.js';

const number = fc.integer({ min: -20000, max: 20000 }).map((v) => v / 1000);
const point = fc.record({ x: number, y: number });
const segment: fc.Arbitrary<Segment> = fc.record({ from: point, to: point });
const STEPS = 200;

function placesOn({ from, to }: Segment) {
  return Array.from({ length: STEPS + 1 }, (_, k) => between(from, to, k / STEPS));
}

describe('distances of segments', () => {
  it('from a place are those to the nearest of many places on it', () => {
    fc.assert(
      fc.property(segment, point, (s, p) => {
        const naive = Math.min(...placesOn(s).map((q) => distance(p, q)));
        const found = pointDistance(s, p);
        expect(found).toBeLessThanOrEqual(naive + 1e-9);
        expect(found).toBeGreaterThanOrEqual(naive - segmentLength(s) / STEPS - 1e-9);
        expect(lineDistance(s, p)).toBeGreaterThanOrEqual(0);
        if (segmentLength(s) > 1e-3) expect(lineDistance(s, p)).toBeLessThanOrEqual(found + 1e-9);
      }),
    );
  });

  it('from each other are those of many places on both', () => {
    fc.assert(
      fc.property(segment, segment, (a, b) => {
        const naive = Math.min(...placesOn(a).map((p) => pointDistance(b, p)));
        const found = segmentDistance(a, b);
        expect(found).toBeLessThanOrEqual(naive + 1e-9);
        expect(found).toBeGreaterThanOrEqual(naive - segmentLength(a) / STEPS - 1e-9);
      }),
      { numRuns: 50 },
    );
  });

  it('hold for a segment without a length', () => {
    const dot = { from: { x: 1, y: 1 }, to: { x: 1, y: 1 } };
    expect(pointDistance(dot, { x: 4, y: 5 })).toBe(5);
    expect(lineDistance(dot, { x: 4, y: 5 })).toBe(Infinity);
    expect(segmentMiddle(dot)).toEqual({ x: 1, y: 1 });
  });
});

describe('sharedLength', () => {
  const line = { from: { x: 0, y: 0 }, to: { x: 10, y: 0 } };

  it.each([
    [2, 5, 0, 3],
    [5, 2, 0, 3],
    [-4, 3, 0, 3],
    [8, 30, 0, 2],
    [11, 14, 0, 0],
    [2, 5, 0.2, 0],
    [2, 5, 0.05, 3],
  ])('from %d to %d, beside by %d: %d', (from, to, beside, shared) => {
    expect(sharedLength(line, { from: { x: from, y: beside }, to: { x: to, y: beside } }, 0.1)).toBeCloseTo(shared, 12);
  });
});
