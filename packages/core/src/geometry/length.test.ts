import { expect, it } from 'vitest';
import { boxContour, circleContour } from './contour.js';
import { contourLength, flattened } from './length.js';

it.each([
  // Closed forms: a Tschirnhausen cubic (length 4), Neile's parabola (W. Neile 1657).
  [[0, 0, 0, 1, 1, 2, 3, 2], 4],
  [[0, 0, 0, 0, 1 / 3, 0, 1, 1], (13 * Math.sqrt(13) - 8) / 27],
])('measures cubics of known length', (coords, length) => {
  const scaled = Float64Array.from(coords, (v) => 20 * v);
  expect(contourLength({ closed: false, coords: scaled })).toBeCloseTo(20 * length, 4);
});

it('measures boxes and circles', () => {
  expect(contourLength(boxContour({ x0: 1, y0: 2, x1: 4, y1: 8 }))).toBeCloseTo(18, 9);
  // Eight cubics to the circle: 4e-6 of the radius off at most.
  expect(contourLength(circleContour({ x: 3, y: 5 }, 100)) / (200 * Math.PI)).toBeCloseTo(1, 5);
  expect(contourLength({ closed: false, coords: new Float64Array(0) })).toBe(0);
});

it('flattens to the corners, the start once', () => {
  expect(flattened(boxContour({ x0: 0, y0: 0, x1: 2, y1: 1 }))).toHaveLength(4);
  for (const p of flattened(circleContour({ x: 0, y: 0 }, 10))) expect(Math.hypot(p.x, p.y)).toBeCloseTo(10, 2);
});
