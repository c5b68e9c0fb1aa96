import fc from 'fast-check';
import { expect, it } from 'vitest';
import { circleContour, polyline, reverseContour } from './contour.js';
import { contourDistance, insideContours, sideWinding } from './point-tests.js';
import { pointDistance } from './segments.js';

const ring = [circleContour({ x: 0, y: 0 }, 10), reverseContour(circleContour({ x: 0, y: 0 }, 4))];

it('tells inside from outside and from a hole', () => {
  expect(insideContours(ring, { x: 7, y: 0 })).toBe(true);
  expect(insideContours(ring, { x: 1, y: 1 })).toBe(false);
  expect(insideContours(ring, { x: 8, y: 8 })).toBe(false);
});

it('measures to the nearest place on the curves', () => {
  expect(contourDistance(ring, { x: 6, y: 0 })).toBeCloseTo(2, 4);
  expect(contourDistance(ring, { x: 20, y: 0 })).toBeCloseTo(10, 4);
  expect(contourDistance([], { x: 0, y: 0 })).toBe(Infinity);
});

it('winds round a place as often as the angles of its corners sum to', () => {
  const number = fc.integer({ min: -10000, max: 10000 }).map((v) => v / 1000);
  const point = fc.record({ x: number, y: number });
  fc.assert(
    fc.property(fc.array(point, { minLength: 3, maxLength: 9 }), point, (corners, at) => {
      const sides = corners.map((p, k) => [p, corners[(k + 1) % corners.length]] as const);
      const swept = sides.reduce((sum, [p, q]) => {
        const [ax, ay, bx, by] = [p.x - at.x, p.y - at.y, q.x - at.x, q.y - at.y];
        return sum + Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
      }, 0);
      // On the outline either answer may come.
      if (sides.some(([from, to]) => pointDistance({ from, to }, at) < 1e-6)) return;
      const winding = sides.reduce((sum, [p, q]) => sum + sideWinding(p.x, p.y, q.x, q.y, at), 0);
      expect(winding).toBe(Math.round(swept / (2 * Math.PI)) + 0);
      expect(insideContours([polyline(corners, { closed: true })], at)).toBe(winding !== 0);
    }),
  );
});

it('knows a curve to the tolerance asked for', () => {
  const at = { x: 9.9, y: 0 };
  expect(insideContours([circleContour({ x: 0, y: 0 }, 10)], at)).toBe(true);
  expect(insideContours([circleContour({ x: 0, y: 0 }, 10)], { x: 9.2 * Math.SQRT1_2, y: 9.2 * Math.SQRT1_2 }, 5)).toBe(
    true,
  );
});

it('is outside where there is no outline', () => {
  expect(insideContours([], { x: 0, y: 0 })).toBe(false);
});
