import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { shapeOfHoles } from './shape.js';
import { holesAt } from './sheets.test-help.js';

describe('the kind of a shape', () => {
  const kind = (...points: readonly (readonly [number, number])[]) => {
    const { kind: found, parallel } = shapeOfHoles(holesAt(...points));
    return parallel === null ? found : `${found}, ${parallel}`;
  };

  it('is that of the quadrilateral, from textbook ones', () => {
    expect(kind([0, 0], [30, 0], [30, 40], [0, 40])).toBe('rectangle');
    expect(kind([0, 0], [30, 0], [33, 40], [3, 40])).toBe('parallelogram');
    expect(kind([0, 0], [30, 0], [26, 40], [3, 40])).toBe('trapezoid, top-bottom');
    expect(kind([0, 0], [30, 2], [30, 37], [0, 40])).toBe('trapezoid, left-right');
    expect(kind([0, 0], [30, 1], [35, 43], [2, 40])).toBe('general');
  });

  it('is a kite only where both pairs of sides that meet at its axis are equal, on either axis', () => {
    // The axis from the upper left to the lower right hole, and its mirror image.
    expect(kind([0, 0], [40, 0], [44, 44], [0, 40])).toBe('kite');
    expect(kind([4, 0], [44, 0], [44, 40], [0, 44])).toBe('kite');
    // One pair equal, the other not: top = left = 40, right ≠ bottom.
    expect(kind([0, 0], [40, 0], [47, 44], [0, 40])).toBe('general');
    // And so on the other axis: top = right = 40, bottom ≠ left.
    expect(kind([-3, 0], [37, 0], [37, 40], [-7, 47])).toBe('general');
  });

  it('measures the lean, the middles and the corners of a parallelogram by hand', () => {
    const shape = shapeOfHoles(holesAt([0, 0], [30, 0], [33, 40], [3, 40]));
    expect(shape.leanMm).toBeCloseTo(3, 9);
    expect(shape.leanMmPerM).toBeCloseTo(75, 9);
    expect([shape.widthMm, shape.heightMm]).toEqual([30, Math.hypot(3, 40)]);
    expect(shape.anglesDeg.upperLeft).toBeCloseTo((Math.atan2(40, 3) * 180) / Math.PI, 9);
    expect(shape.anglesDeg.upperRight).toBeCloseTo(180 - (Math.atan2(40, 3) * 180) / Math.PI, 9);
    expect(shape.outOfSquareMm).toBeCloseTo(3, 9);
    expect(shape.equalDiagonals).toBe(false);
    expect(shape.convex).toBe(true);
  });

  it('goes clockwise or is not one', () => {
    expect(shapeOfHoles(holesAt([0, 0], [0, 40], [30, 40], [30, 0])).convex).toBe(false);
    expect(shapeOfHoles(holesAt([0, 0], [30, 0], [5, 5], [0, 40])).convex).toBe(false);
  });

  it('is a trapezoid by the pair that is parallel, whichever it is and however far the others are from it', () => {
    const slid = fc.integer({ min: -60, max: 60 });
    fc.assert(
      fc.property(slid, slid, slid, (a, b, c) => {
        fc.pre(Math.abs(a - b) > 4 && Math.abs(c) < 40);
        // Top and bottom level, of lengths that differ; then left and right upright, of heights that differ.
        expect(kind([0, 0], [300, 0], [300 + a, 200 + c], [b, 200 + c])).toBe('trapezoid, top-bottom');
        expect(kind([0, 0], [300 + c, b], [300 + c, 200 + a], [0, 200])).toBe('trapezoid, left-right');
        // By a hair off it is none.
        expect(kind([0, 0], [300, 0], [300 + a, 200.01 + c], [b, 200 + c])).not.toContain('trapezoid');
      }),
      { numRuns: 30 },
    );
  });
});
