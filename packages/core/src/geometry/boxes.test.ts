import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  boxArea,
  boxAround,
  boxCorners,
  boxDistance,
  boxesOverlap,
  boxHolds,
  boxMiddle,
  boxOf,
  boxWithin,
  growBox,
  joinBoxes,
  moveBox,
  sharedBox,
  transformBox,
} from './boxes.js';
import type { Box, Point } from './types.js';

/** Whole places up to 8, so that boxes often touch. */
const place: fc.Arbitrary<Point> = fc.record({ x: fc.integer({ min: 0, max: 8 }), y: fc.integer({ min: 0, max: 8 }) });
const box: fc.Arbitrary<Box> = fc.tuple(place, place).map((ends) => boxOf(ends));

/** The unit squares of the plane that lie in a box, the naive way. */
function squaresOf({ x0, y0, x1, y1 }: Box): Set<string> {
  const found = new Set<string>();
  for (let x = x0; x < x1; x++) for (let y = y0; y < y1; y++) found.add(`${x},${y}`);
  return found;
}

describe('boxes', () => {
  it('are the least around their places', () => {
    fc.assert(
      fc.property(fc.array(place, { minLength: 1 }), (points) => {
        const { x0, y0, x1, y1 } = boxOf(points);
        expect([x0, x1]).toEqual([Math.min(...points.map((p) => p.x)), Math.max(...points.map((p) => p.x))]);
        expect([y0, y1]).toEqual([Math.min(...points.map((p) => p.y)), Math.max(...points.map((p) => p.y))]);
        expect(boxOf(points, 2)).toEqual(growBox(boxOf(points), 2));
      }),
    );
    expect(boxAround([])).toBeNull();
  });

  it('share, hold and cover what their unit squares do', () => {
    fc.assert(
      fc.property(box, box, (a, b) => {
        const [p, q] = [squaresOf(a), squaresOf(b)];
        const both = new Set([...p].filter((square) => q.has(square)));
        const shared = sharedBox(a, b);
        expect(shared === null ? new Set() : squaresOf(shared)).toEqual(both);
        expect(boxArea(a)).toBe(p.size);
        if (p.size > 0 && q.size > 0) {
          expect(boxesOverlap(a, b)).toBe(both.size > 0);
          expect(boxWithin(a, b)).toBe(both.size === p.size);
        }
        expect(boxWithin(a, joinBoxes(a, b)) && boxWithin(b, joinBoxes(a, b))).toBe(true);
      }),
    );
  });

  it('pass over a share no wider than the least', () => {
    const a = { x0: 0, y0: 0, x1: 2, y1: 2 };
    expect(sharedBox(a, { x0: 1.9, y0: 0, x1: 3, y1: 2 }, 0.2)).toBeNull();
    expect(sharedBox(a, { x0: 1.7, y0: 0, x1: 3, y1: 2 }, 0.2)).toEqual({ x0: 1.7, y0: 0, x1: 2, y1: 2 });
    expect(boxWithin({ ...a, x1: 2.1 }, a, 0.2)).toBe(true);
    expect(boxWithin({ ...a, x1: 2.3 }, a, 0.2)).toBe(false);
  });

  it('are as far from a place as the nearest of their places', () => {
    fc.assert(
      fc.property(box, place, (b, p) => {
        let least = Infinity;
        for (let x = b.x0; x <= b.x1; x++) {
          for (let y = b.y0; y <= b.y1; y++) least = Math.min(least, Math.hypot(x - p.x, y - p.y));
        }
        expect(boxDistance(b, p)).toBeCloseTo(least, 12);
        expect(boxHolds(b, p)).toBe(least === 0);
      }),
    );
  });

  it('move with their middle, and turn about a place as their corners do', () => {
    const b = { x0: 1, y0: 2, x1: 5, y1: 4 };
    expect(boxMiddle(moveBox(b, { x: 10, y: -1 }))).toEqual({ x: 13, y: 2 });
    expect(transformBox(b, [0, 1, -1, 0, 0, 0])).toEqual({ x0: -4, y0: 1, x1: -2, y1: 5 });
    expect(boxCorners(b)).toEqual([
      { x: 1, y: 2 },
      { x: 5, y: 2 },
      { x: 5, y: 4 },
      { x: 1, y: 4 },
    ]);
  });
});
