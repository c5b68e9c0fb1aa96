import { expect, it } from 'vitest';
import { applyHomography } from '../scale/homography.js';
import { type Quad, quadMap, squareTo, turnsClockwise } from './quad-map.js';

const quad = (...xy: number[]): Quad => [0, 2, 4, 6].map((k) => ({ x: xy[k], y: xy[k + 1] })) as unknown as Quad;

const SQUARE = quad(0, 0, 1, 0, 1, 1, 0, 1);

// The middle of the square goes to where the diagonals of the figure cross (Heckbert, IEEE CG&A 6 (11), 1986; worked by hand).
it.each([
  [quad(0, 0, 4, 0, 3, 2, 1, 2), 2, 4 / 3],
  [quad(0, 0, 2, 0, 3, 3, 0, 1), 2 / 3, 2 / 3],
  [quad(10, 10, 90, 20, 80, 70, 20, 60), 49, 43.428571],
])('maps the unit square to four places', (to, x, y) => {
  const h = squareTo(to) ?? expect.fail('no map');
  to.forEach((place, k) => {
    const at = applyHomography(h, SQUARE[k]);
    expect(at.x).toBeCloseTo(place.x, 9);
    expect(at.y).toBeCloseTo(place.y, 9);
  });
  const middle = applyHomography(h, { x: 0.5, y: 0.5 });
  expect(middle.x).toBeCloseTo(x, 5);
  expect(middle.y).toBeCloseTo(y, 5);
});

it('maps four places to four others, and refuses three on a line', () => {
  const [from, to] = [quad(3, 1, 9, 2, 8, 7, 2, 6), quad(10, 10, 90, 20, 80, 70, 20, 60)];
  const h = quadMap(from, to) ?? expect.fail('no map');
  from.forEach((place, k) => {
    const at = applyHomography(h, place);
    expect(Math.hypot(at.x - to[k].x, at.y - to[k].y)).toBeLessThan(1e-9);
  });
  expect(quadMap(quad(0, 0, 1, 0, 2, 0, 3, 0), to)).toBeNull();
});

it('tells a figure that turns clockwise as seen from its mirror image and from a crossed one', () => {
  expect(turnsClockwise(SQUARE)).toBe(true);
  expect(turnsClockwise(quad(1, 0, 0, 0, 0, 1, 1, 1))).toBe(false);
  expect(turnsClockwise(quad(0, 0, 1, 1, 1, 0, 0, 1))).toBe(false);
});
