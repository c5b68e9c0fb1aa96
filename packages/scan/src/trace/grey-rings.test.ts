import type { GreyImage } from '@okuri/core';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { discShare, halfPlaneShare, pictureOf } from '../scale/drawn-pictures.test-help.js';
import type { GreyRing } from '../types.js';
import { greyRings, ringArea } from './grey-rings.js';

const CLEAN = { greys: { ink: 0, paper: 1, noise: 0 } };

/** No sum of whole greys lies on it. */
const LEVEL = 127.3 / 255;

function total(rings: readonly GreyRing[]): number {
  return rings.reduce((sum, { points }) => sum + ringArea(points), 0);
}

function complement({ width, height, values, white }: GreyImage): GreyImage {
  return { width, height, values: values.map((v) => white - v), white };
}

/** Any greys: saddles, single pixels, ink over all edges. */
const anyPicture = fc
  .record({ width: fc.integer({ min: 1, max: 40 }), height: fc.integer({ min: 1, max: 12 }) })
  .chain(({ width, height }) =>
    fc
      .array(fc.oneof(fc.integer({ min: 0, max: 255 }), fc.constantFrom(0, 255)), {
        minLength: width * height,
        maxLength: width * height,
      })
      .map((greys): GreyImage => ({ width, height, values: Uint8Array.from(greys), white: 255 })),
  );

describe('rings of equal grey', () => {
  it.each([{}, CLEAN])('of dark and of light parts share the picture between them (%j)', (options) => {
    fc.assert(
      fc.property(anyPicture, (image) => {
        const dark = greyRings(image, LEVEL, options);
        const light = greyRings(complement(image), 1 - LEVEL, options);
        expect(Math.abs(total(dark) + total(light) - image.width * image.height)).toBeLessThan(1e-6);
        const inside = (rings: readonly GreyRing[]) => rings.filter(({ points }) => !touchesEdge(points, image));
        expect(inside(light).map(ringKey).sort()).toEqual(inside(dark).map(ringKey).sort());
      }),
      { numRuns: 150 },
    );
  });

  it('move with the picture by whole pixels, number for number', () => {
    fc.assert(
      fc.property(anyPicture, fc.nat(40), fc.nat(9), (image, dx, dy) => {
        const at = (by: { x: number; y: number }) =>
          pictureOf(image.width + 42, image.height + 11, (x, y) => {
            const [i, j] = [x - by.x - 1, y - by.y - 1];
            return i >= 0 && j >= 0 && i < image.width && j < image.height
              ? image.values[j * image.width + i] / 255
              : 1;
          });
        const still = greyRings(at({ x: 0, y: 0 }), LEVEL, CLEAN);
        const moved = greyRings(at({ x: dx, y: dy }), LEVEL, CLEAN);
        expect(moved.map(({ hole, inside }) => [hole, inside])).toEqual(
          still.map(({ hole, inside }) => [hole, inside]),
        );
        moved.forEach(({ points }, r) => {
          points.forEach((v, k) => {
            expect(Math.abs(v - still[r].points[k] - (k % 2 === 0 ? dx : dy))).toBeLessThan(1e-12);
          });
        });
      }),
      { numRuns: 60 },
    );
  });

  it('lie on the edge of a half-plane at any angle, nearer than straight interpolation of greys can', () => {
    let worstStraight = 0;
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 2 * Math.PI, noNaN: true }),
        fc.double({ min: -0.5, max: 0.5, noNaN: true }),
        (angle, shift) => {
          const [a, b] = [Math.cos(angle), Math.sin(angle)];
          const line = { a, b, c: 20 * (a + b) + shift };
          const image = pictureOf(40, 40, (x, y) => 1 - halfPlaneShare(x, y, line));
          const worst = (rings: readonly GreyRing[]): number => {
            let most = 0;
            for (const { points } of rings) {
              for (let k = 0; k < points.length; k += 2) {
                const [x, y] = [points[k], points[k + 1]];
                if (x < 6 || y < 6 || x > 34 || y > 34) continue;
                most = Math.max(most, Math.abs(a * x + b * y - line.c));
              }
            }
            return most;
          };
          // Three greys rounded to 1/255 each, at most.
          expect(worst(greyRings(image, 0.5, CLEAN))).toBeLessThan(0.007);
          worstStraight = Math.max(worstStraight, worst(greyRings(image, 0.5)));
        },
      ),
      { numRuns: 120 },
    );
    expect(worstStraight).toBeGreaterThan(0.05);
    expect(worstStraight).toBeLessThan(0.1);
  });

  it('hold the area of a disc anywhere, with the dark to the right hand', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 19, max: 21, noNaN: true }),
        fc.double({ min: 19, max: 21, noNaN: true }),
        fc.double({ min: 4, max: 15, noNaN: true }),
        (x, y, r) => {
          const image = pictureOf(40, 40, (i, j) => 1 - discShare(i, j, { x, y, r }));
          const rings = greyRings(image, 0.5, CLEAN);
          expect(rings.length).toBe(1);
          // At 45° a mean over a column lies 1/12r inside of the circle and a chord of √2 px another 1/6r: nowhere more.
          const radius = Math.sqrt(ringArea(rings[0].points) / Math.PI);
          expect(radius - r).toBeLessThan(0.01);
          expect(radius - r).toBeGreaterThan(-0.01 - 0.25 / r);
          const reverse = greyRings(complement(image), 0.5, CLEAN)[1];
          expect(reverse.hole).toBe(true);
          expect(ringArea(reverse.points)).toBeCloseTo(-ringArea(rings[0].points), 6);
        },
      ),
      { numRuns: 60 },
    );
  });

  it('know what encloses them', () => {
    const rows = [
      '..............',
      '.############.',
      '.#..........#.',
      '.#.####..#..#.',
      '.#.#..#.....#.',
      '.#.#..#..##.#.',
      '.#.####..##.#.',
      '.#..........#.',
      '.############.',
      '..............',
      '#.............',
    ];
    const image = pictureOf(14, 11, (x, y) => (rows[y][x] === '#' ? 0 : 1));
    const rings = greyRings(image, 0.5);
    expect(rings.map(({ hole, inside }) => [hole, inside])).toEqual([
      [false, -1],
      [true, 0],
      [false, 1],
      [false, 1],
      [true, 2],
      [false, 1],
      [false, -1],
    ]);
    rings.forEach(({ points, hole }) => {
      expect(Math.sign(ringArea(points))).toBe(hole ? -1 : 1);
    });
  });

  it('join two pixels that meet at their corners where the four around are dark in the mean', () => {
    const cross = (grey: number) =>
      pictureOf(4, 4, (x, y) =>
        (x === 1 && y === 1) || (x === 2 && y === 2) ? 0 : x > 0 && y > 0 && x < 3 && y < 3 ? grey : 1,
      );
    expect(greyRings(cross(0.9), 0.5).length).toBe(1);
    expect(greyRings(cross(1), 0.4).length).toBe(2);
  });

  it('close ink along the edges of the picture it runs over', () => {
    const rings = greyRings(
      pictureOf(7, 5, () => 0),
      0.5,
    );
    expect(rings.length).toBe(1);
    expect(ringArea(rings[0].points)).toBe(35);
    const band = greyRings(
      pictureOf(7, 5, (x) => (x < 3 ? 0 : 1)),
      0.5,
      CLEAN,
    );
    expect(ringArea(band[0].points)).toBe(15);
  });

  it('take 16 bits', () => {
    const image = pictureOf(9, 9, (x, y) => 1 - discShare(x, y, { x: 4.6, y: 4.4, r: 3 }));
    const deep: GreyImage = { ...image, values: Uint16Array.from(image.values, (v) => 257 * v), white: 65535 };
    const [a, b] = [greyRings(image, 0.5, CLEAN), greyRings(deep, 0.5, CLEAN)];
    a[0].points.forEach((v, k) => {
      expect(b[0].points[k]).toBeCloseTo(v, 9);
    });
  });
});

function touchesEdge(points: Float64Array, { width, height }: GreyImage): boolean {
  for (let k = 0; k < points.length; k += 2) {
    if (points[k] < 0.5 || points[k + 1] < 0.5 || points[k] > width - 0.5 || points[k + 1] > height - 0.5) return true;
  }
  return false;
}

/** A ring by its points, whatever the first one and the direction. */
function ringKey({ points }: GreyRing): string {
  const places: string[] = [];
  for (let k = 0; k < points.length; k += 2) places.push(`${points[k].toFixed(6)},${points[k + 1].toFixed(6)}`);
  return places.sort().join(' ');
}
