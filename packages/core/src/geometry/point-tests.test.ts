import { expect, it } from 'vitest';
import { circleContour, reverseContour } from './contour.js';
import { contourDistance, insideContours } from './point-tests.js';

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
