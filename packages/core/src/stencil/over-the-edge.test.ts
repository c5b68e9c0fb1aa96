import { describe, expect, it } from 'vitest';
import { boxContour, circleContour } from '../geometry/contour.js';
import type { Contour } from '../geometry/types.js';
import { makeLattice } from '../repeat/lattice.js';
import { carried, STRAIGHT, shapeOf } from '../repeat/random-cell.test-help.js';
import { cutSheet, type SheetOptions } from './cut-sheet.test-help.js';
import { likeliestKept } from './numbers.js';
import { crossesRings } from './stop-chords.js';

const [W, H] = [90, 60];
const OPTIONS: Partial<SheetOptions> = {
  ...{ across: 1, down: 1, borderMm: 31, trailingMm: 17, dotMm: 1, lapMm: 0.4 },
  hold: { mode: 'band', widthMm: 10 },
};
function cut(contours: readonly Contour[], options: Partial<SheetOptions> = {}) {
  const cell = carried(
    contours.map((contour) => shapeOf([contour])),
    makeLattice(STRAIGHT, W, H),
  );
  return cutSheet(cell, { ...OPTIONS, ...options }).sheet;
}
const lost = (sheet: ReturnType<typeof cut>) => sheet.dropped.reduce((sum, { lostMm2 }) => sum + lostMm2, 0);

describe('what is too slight on one side of a seam', () => {
  const area = Math.PI * 0.2 ** 2;

  it('is cut on the other, whole, and nothing of it is lost', () => {
    for (const [x, y] of [
      [0, 20],
      [33, 0],
    ]) {
      // A hair more lies on the leading side, then on the trailing one.
      for (const aside of [0.03, -0.03]) {
        const disc = circleContour({ x: x === 0 ? aside : x, y: y === 0 ? aside : y }, 0.2);
        const sheet = cut([disc]);
        expect(sheet.openings).toHaveLength(1);
        expect(sheet.openings[0].areaMm2).toBeCloseTo(area, 3);
        expect(sheet.dropped.length).toBeGreaterThan(0);
        expect(lost(sheet)).toBeCloseTo(0, 4);
      }
    }
  });

  it('is lost along the right where no print stands beside it; on the left the lap has the rest of it', () => {
    const sheet = cut([circleContour({ x: 0, y: 20 }, 0.2)], { sideJoinMeetsNothing: true });
    expect(sheet.openings).toHaveLength(1);
    expect(sheet.openings[0].box.x0).toBeCloseTo(30.8, 3);
    expect(lost(sheet)).toBeCloseTo(area / 2, 3);
  });

  it('leaves a sound opening and its other half as they are', () => {
    const sheet = cut([circleContour({ x: 0, y: 20 }, 5)]);
    expect(sheet.openings).toHaveLength(2);
    expect(sheet.dropped.filter(({ why }) => why !== 'beyond-edge')).toEqual([]);
    expect(lost(sheet)).toBe(0);
  });
});

it('a bar over the upright hold line stops there, unless nothing is held along the right', () => {
  const bar = boxContour({ x0: 20, y0: 20, x1: 86, y1: 25 });
  const [stop, ...others] = cut([bar]).stops;
  expect(others).toEqual([]);
  expect([stop.from.x, stop.to.x]).toEqual([111, 111]);
  expect([stop.from.y, stop.to.y].toSorted((a, b) => a - b).map((y) => Math.round(y * 1000))).toEqual([51000, 56000]);
  expect(cut([bar], { sideJoinMeetsNothing: true }).stops).toEqual([]);
});

it('one reading of kept numbers is taken as it is, of several that by which most are found again', () => {
  const openings = [
    { at: { x: 10, y: 10 }, areaMm2: 50 },
    { at: { x: 40, y: 10 }, areaMm2: 50 },
  ];
  const reading = (by: number) =>
    openings.map(({ at, areaMm2 }, k) => ({ number: k + 1, x: at.x + by, y: at.y, areaMm2 }));
  const [far, true1, true2] = [reading(15), reading(0.1), reading(0)];
  expect(likeliestKept(openings, [far])).toBe(far);
  expect(likeliestKept(openings, [])).toEqual([]);
  expect(likeliestKept(openings, [far, true1, true2])).toBe(true1);
});

it('a chord that ends a rounding off a corner ends on it', () => {
  const square = [
    { x: 0, y: 0, z: 0 },
    { x: 1000, y: 0, z: 0 },
    { x: 1000, y: 600, z: 0 },
    { x: 0, y: 600, z: 0 },
  ];
  const far = { x: 1000, y: 600, z: 0 };
  expect(crossesRings({ x: -1, y: -1, z: 0 }, far, [square])).toBe(false);
  expect(crossesRings(far, { x: -1, y: -1, z: 0 }, [square])).toBe(false);
  expect(crossesRings({ x: -5, y: -1, z: 0 }, far, [square])).toBe(true);
  expect(crossesRings({ x: -1, y: -5, z: 0 }, far, [square])).toBe(true);
});
