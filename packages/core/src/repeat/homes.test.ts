import fc from 'fast-check';
import { expect, it } from 'vitest';
import { circleContour } from '../geometry/contour.js';
import { latticePoint, makeLattice, nearestStep } from './lattice.js';
import { findOpenings } from './openings.js';
import { carried, HALF_DROP, STRAIGHT, shapeOf, THIRD_BRICK } from './random-cell.test-help.js';

it('an opening’s box begins in the unit and is that of its outline, whatever seams it crosses', () => {
  const places = fc.record({ x: fc.integer({ min: 0, max: 89 }), y: fc.integer({ min: 0, max: 59 }) });
  fc.assert(
    fc.property(fc.constantFrom(STRAIGHT, HALF_DROP, THIRD_BRICK), places, (repeat, at) => {
      const lattice = makeLattice(repeat, 90, 60);
      const [opening, ...others] = findOpenings(carried([shapeOf([circleContour(at, 12)])], lattice));
      expect(others).toEqual([]);
      expect(opening.areaMm2).toBeCloseTo(Math.PI * 144, 0);
      const box = opening.boxMm as NonNullable<typeof opening.boxMm>;
      expect(box.x1 - box.x0).toBeCloseTo(24, 1);
      expect(box.y1 - box.y0).toBeCloseTo(24, 1);
      expect(box.x0).toBeGreaterThan(-0.02);
      expect(box.x0).toBeLessThan(90.02);
      expect(box.y0).toBeGreaterThan(-0.02);
      expect(box.y0).toBeLessThan(60.02);
      // Whole steps away from where it was drawn.
      const moved = { x: (box.x0 + box.x1) / 2 - at.x, y: (box.y0 + box.y1) / 2 - at.y };
      const { step, rest } = nearestStep(lattice, moved);
      expect(Math.hypot(rest.x, rest.y)).toBeLessThan(0.05);
      expect(latticePoint(lattice, step).x).toBeCloseTo(moved.x, 1);
    }),
    { numRuns: 25 },
  );
});
