import type { Point } from '@okuri/core';
import { describe, expect, it } from 'vitest';
import { type Blob, blobsBelow } from './blobs.js';
import { blurred, disc, lit, noisy, pictureOf, randomFrom, type Scene, scene } from './dot-pictures.test-help.js';
import { findDots, likelyDots } from './find-dots.js';

const SIDE = 84;
const next = randomFrom(11);
const far = (a: Point, b: Point): number => Math.hypot(a.x - b.x, a.y - b.y);

/** The largest error over dots at uneven places, px; fails where not just the one dot is found. */
function worst(diameter: number, change: (s: Scene, k: number) => Scene, white: 255 | 65535 = 255): number {
  let most = 0;
  for (let k = 0; k < 6; k++) {
    const at = { x: 40 + 4 * next(), y: 40 + 4 * next() };
    const picture = pictureOf(change(scene(SIDE, SIDE, disc(at, diameter)), k), white);
    const dots = findDots(picture, { minDiameterPx: Math.max(3, diameter / 2), maxDiameterPx: 2 * diameter });
    expect(dots).toHaveLength(1);
    most = Math.max(most, far(dots[0].at, at));
  }
  return most;
}

describe('the middle of a dot', () => {
  it.each([4, 6, 11, 37])('of %d px is found within 0.05 px clean, within 0.15 px with noise or blur', (diameter) => {
    expect(worst(diameter, (s) => s)).toBeLessThan(0.05);
    expect(worst(diameter, (s) => s, 65535)).toBeLessThan(0.05);
    expect(worst(diameter, (s) => lit(s, (x) => 0.55 + 0.005 * x))).toBeLessThan(0.05);
    expect(worst(diameter, (s, k) => noisy(s, 0.05, k))).toBeLessThan(0.15);
    expect(worst(diameter, (s) => blurred(s, 1.5))).toBeLessThan(0.05);
    expect(worst(diameter, (s, k) => noisy(blurred(s, 1), 0.03, k))).toBeLessThan(0.15);
  });

  it.each([6, 11, 37])('of %d px is found within 0.2 px under the sharp edge of a shadow', (diameter) => {
    const shadow = (s: Scene, k: number) =>
      lit(s, (x, y) => 1 - 0.4 / (1 + Math.exp(-(x - 42 + (k - 2) * 0.6 * (y - 42) + diameter * (k / 15 - 0.2)))));
    expect(worst(diameter, shadow)).toBeLessThan(0.2);
  });

  it('comes with its diameter and roundness', () => {
    const [dot] = findDots(pictureOf(scene(SIDE, SIDE, disc({ x: 41.3, y: 40.8 }, 21))), {
      minDiameterPx: 10,
      maxDiameterPx: 40,
    });
    expect(dot.diameter).toBeCloseTo(21, 1);
    expect(dot.roundness).toBeGreaterThan(0.995);
    // An ellipse of 1 : 0.82, a dot at a slant of 35°: by Ramanujan's perimeter 4π · area / perimeter² is 0.985.
    const slanting = scene(SIDE, SIDE, (x, y) => ((x - 42) / 12) ** 2 + ((y - 42) / 9.83) ** 2 < 1);
    const [seen] = findDots(pictureOf(slanting), { minDiameterPx: 10, maxDiameterPx: 40 });
    expect(seen.roundness).toBeCloseTo(0.985, 2);
  });
});

describe('no dots are', () => {
  const found = (inked: (x: number, y: number) => boolean) =>
    findDots(pictureOf(scene(SIDE, SIDE, inked, 4)), { minDiameterPx: 8, maxDiameterPx: 30 });
  const round = disc({ x: 42, y: 42 }, 18);

  it.each<[string, (x: number, y: number) => boolean]>([
    ['squares', (x, y) => Math.max(Math.abs(x - 42), Math.abs(y - 42)) < 9],
    ['rings', (x, y) => round(x, y) && !disc({ x: 42, y: 42 }, 11)(x, y)],
    ['berries on a stalk', (x, y) => round(x, y) || (Math.abs(x - 42) < 2 && y > 42)],
    ['berries that touch', (x, y) => round(x, y) || disc({ x: 60, y: 42 }, 18)(x, y)],
    ['long marks', (x, y) => ((x - 42) / 14) ** 2 + ((y - 42) / 7) ** 2 < 1],
    ['discs cut by the edge of the picture', disc({ x: 4, y: 42 }, 18)],
    ['discs beyond the sizes', disc({ x: 42, y: 42 }, 36)],
    ['light discs on ink', (x, y) => !round(x, y)],
    ['bare paper', () => false],
  ])('%s', (_, inked) => {
    expect(found(inked)).toEqual([]);
  });

  it('but discs beside other marks are', () => {
    const dots = found((x, y) => round(x, y) || (y > 60 && y < 64) || disc({ x: 12, y: 70 }, 6)(x, y) || x < 22);
    expect(dots.map(({ at }) => at)).toEqual([{ x: expect.closeTo(42, 1), y: expect.closeTo(42, 1) }]);
  });

  it('sizes that can not be', () => {
    const picture = pictureOf(scene(8, 8, () => false, 1));
    expect(() => findDots(picture, { minDiameterPx: 2, maxDiameterPx: 9 })).toThrow('got dots from 2 to 9 px');
    expect(() => findDots(picture, { minDiameterPx: 9, maxDiameterPx: 5 })).toThrow(RangeError);
    expect(findDots(picture, likelyDots(picture))).toEqual([]);
  });
});

describe('blobs', () => {
  it('are joined through bends and told apart at corners', () => {
    const rows = ['#.#.#', '#.###', '#....', '###.#', '...#.'];
    const values = rows.flatMap((row) => [...row].map((c) => (c === '#' ? 0 : 1)));
    const blobs = blobsBelow({ width: 5, height: 5, values }, 0.5, () => true);
    const sizes = blobs.map(({ area, x0, y0, x1, y1 }: Blob) => [area, x0, y0, x1, y1]);
    expect(sizes).toEqual([
      [6, 0, 0, 3, 4],
      [5, 2, 0, 5, 2],
      [1, 4, 3, 5, 4],
      [1, 3, 4, 4, 5],
    ]);
    expect(blobs[1].x).toBeCloseTo((2.5 + 4.5 + 2.5 + 3.5 + 4.5) / 5, 12);
  });
});
