import type { Point } from '@okuri/core';
import { type Homography, IDENTITY, solveLinear } from '@okuri/core/inside';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { homographyFrom } from './fit-homography.js';
import {
  applyHomography,
  composeHomography,
  departureOver,
  homographyOf,
  horizonCrosses,
  invertHomography,
  localAreaScale,
  tidyHomography,
} from './homography.js';
import { rigidFrom, similarityFrom } from './similarity.js';

const at = (x: number, y: number): Point => ({ x, y });
const UNIT = [at(0, 0), at(1, 0), at(1, 1), at(0, 1)];
const onto = (...to: Point[]) => UNIT.map((from, k) => ({ from, to: to[k] }));
const entry = fc.double({ min: -1, max: 1, noNaN: true });
/** Maps that keep the unit square in front of the camera. */
const maps: fc.Arbitrary<Homography> = fc
  .tuple(
    entry,
    entry,
    entry,
    entry,
    fc.double({ min: -0.4, max: 0.4, noNaN: true }),
    fc.double({ min: -0.4, max: 0.4, noNaN: true }),
  )
  .map(([b, c, d, f, g, h]) => [2 + b, b, c, d / 2, 2 - d, f, g, h, 1]);

describe('maps', () => {
  it('one after the other, and back', () => {
    fc.assert(
      fc.property(maps, maps, entry, entry, (one, other, x, y) => {
        const p = at((x + 1) / 2, (y + 1) / 2);
        const both = applyHomography(composeHomography(other, one), p);
        const stepwise = applyHomography(other, applyHomography(one, p));
        expect(both.x).toBeCloseTo(stepwise.x, 9);
        expect(both.y).toBeCloseTo(stepwise.y, 9);
        const back = applyHomography(invertHomography(one) as Homography, applyHomography(one, p));
        expect(back.x).toBeCloseTo(p.x, 10);
        expect(back.y).toBeCloseTo(p.y, 10);
      }),
    );
    expect(invertHomography([1, 2, 0, 2, 4, 0, 0, 0, 1])).toBeNull();
    expect(tidyHomography([2, 0, 4, 0, 2, 6, 0, 0, 2])).toEqual([1, 0, 2, 0, 1, 3, 0, 0, 1]);
  });

  it('grow areas by their Jacobian, below zero where they mirror', () => {
    const e = 1e-5;
    fc.assert(
      fc.property(maps, (h) => {
        const p = at(0.3, 0.6);
        const [o, u, v] = [p, at(p.x + e, p.y), at(p.x, p.y + e)].map((q) => applyHomography(h, q));
        const small = ((u.x - o.x) * (v.y - o.y) - (u.y - o.y) * (v.x - o.x)) / e ** 2;
        expect(localAreaScale(h, p)).toBeCloseTo(small, 2);
      }),
    );
    expect(localAreaScale(homographyOf([-2, 0, 0, 3, 0, 0]), at(5, 5))).toBe(-6);
  });

  it('have a horizon', () => {
    const h: Homography = [1, 0, 0, 0, 1, 0, -0.5, 0, 1];
    expect(horizonCrosses(h, { x0: 0, y0: 0, x1: 1.9, y1: 5 })).toBe(false);
    expect(horizonCrosses(h, { x0: 0, y0: 0, x1: 2, y1: 5 })).toBe(true);
    expect(horizonCrosses(h, { x0: 0, y0: 0, x1: 3, y1: 5 })).toBe(true);
  });

  it('are far from simpler ones by as much as their corners are', () => {
    const box = { x0: 0, y0: 0, x1: 10, y1: 20 };
    expect(departureOver(homographyOf([0.6, 0.8, -0.8, 0.6, 3, 4]), box).fromSimilarity).toBeCloseTo(0, 12);
    // Stretched by 10 % across: corners move by 0.25 from the mean of the two scales, which the longer side weighs.
    const stretched = departureOver(homographyOf([1.1, 0, 0, 1, 0, 0]), box);
    expect(stretched.fromAffine).toBeCloseTo(0, 12);
    const s = (1.1 * 25 + 100) / 125;
    expect(stretched.fromSimilarity).toBeCloseTo(Math.hypot(5 * (1.1 - s), 10 * (1 - s)), 12);
    // One corner pulled out by 4: an affine map leaves a quarter of it at each.
    const corners = [at(0, 0), at(10, 0), at(14, 20), at(0, 20)];
    const pulled = homographyFrom(
      [at(0, 0), at(10, 0), at(10, 20), at(0, 20)].map((from, k) => ({ from, to: corners[k] })),
    );
    expect(departureOver(pulled as Homography, box).fromAffine).toBeCloseTo(1, 12);
  });
});

describe('from pairs', () => {
  it('of four corners exactly, the published maps of the unit square', () => {
    // P. S. Heckbert, Fundamentals of Texture Mapping and Image Warping (1989), §2.2.3: square to quadrilateral in closed form.
    const heckbert = ([p0, p1, p2, p3]: Point[]): Homography => {
      const [dx1, dx2, sx] = [p1.x - p2.x, p3.x - p2.x, p0.x - p1.x + p2.x - p3.x];
      const [dy1, dy2, sy] = [p1.y - p2.y, p3.y - p2.y, p0.y - p1.y + p2.y - p3.y];
      const det = dx1 * dy2 - dx2 * dy1;
      const [g, h] = [(sx * dy2 - dx2 * sy) / det, (dx1 * sy - sx * dy1) / det];
      return [
        p1.x - p0.x + g * p1.x,
        p3.x - p0.x + h * p3.x,
        p0.x,
        p1.y - p0.y + g * p1.y,
        p3.y - p0.y + h * p3.y,
        p0.y,
        g,
        h,
        1,
      ];
    };
    for (const quad of [
      [at(10, 10), at(90, 20), at(80, 70), at(20, 60)],
      [at(0, 0), at(4, 0), at(3, 2), at(1, 2)],
      [at(1000, 2000), at(5000, 2100), at(4800, 7000), at(1200, 6600)],
    ]) {
      const found = homographyFrom(onto(...quad)) as Homography;
      for (const [k, value] of heckbert(quad).entries())
        expect(found[k] / (Math.abs(value) + 1)).toBeCloseTo(value / (Math.abs(value) + 1), 11);
    }
  });

  it('of many by least squares: nothing near it is better', () => {
    const wobble = [0.02, -0.03, 0.01, 0.04, -0.02, 0.03, -0.01, 0.02, -0.04];
    const h: Homography = [2, 0.3, 1, -0.2, 1.5, 2, 0.2, -0.1, 1];
    const pairs = wobble.map((d, k) => {
      const from = at(k % 3, Math.floor(k / 3));
      const to = applyHomography(h, from);
      return { from, to: at(to.x + d, to.y + wobble[(k + 4) % 9]) };
    });
    const cost = (m: Homography) =>
      pairs.reduce((sum, { from, to }) => {
        const p = applyHomography(m, from);
        return sum + (p.x - to.x) ** 2 + (p.y - to.y) ** 2;
      }, 0);
    const best = homographyFrom(pairs) as Homography;
    expect(cost(best)).toBeLessThan(cost(h));
    for (let k = 0; k < 8; k++) {
      for (const by of [1e-4, -1e-4]) {
        const near = best.map((v, n) => (n === k ? v + by : v)) as unknown as Homography;
        expect(cost(near)).toBeGreaterThan(cost(best));
      }
    }
  });

  it('that fix no map give none', () => {
    expect(homographyFrom(onto(at(0, 0), at(1, 0), at(2, 0), at(0, 1)))).toBeNull();
    expect(homographyFrom(onto(at(0, 0), at(1, 1), at(1, 0), at(0, 1)))).toBeNull();
    // One inside the triangle of the others: it would lie behind the camera.
    expect(homographyFrom(onto(at(0, 0), at(4, 0), at(1, 1), at(0, 4)))).toBeNull();
    expect(homographyFrom(onto(at(0, 0), at(0, 0), at(0, 0), at(0, 0)))).toBeNull();
    const line = [0, 1, 2, 3, 4, 5].map((k) => ({ from: at(k, 2 * k), to: at(k, k) }));
    expect(homographyFrom(line)).toBeNull();
    // Mirrored is a map.
    expect(homographyFrom(onto(at(1, 0), at(0, 0), at(0, 1), at(1, 1)))).not.toBeNull();
    expect(() => homographyFrom(onto(at(0, 0)).slice(0, 3))).toThrow('got 3 pairs');
    expect(() => homographyFrom(onto(at(0, 0), at(1, 0), at(1, Number.NaN), at(0, 1)))).toThrow(RangeError);
  });

  it('by a turn, a scale and a shift, or without the scale', () => {
    const turned = (p: Point) => at(3 + 2 * (0.6 * p.x - 0.8 * p.y), -1 + 2 * (0.8 * p.x + 0.6 * p.y));
    const pairs = [at(0, 0), at(4, 1), at(2, 7)].map((from) => ({ from, to: turned(from) }));
    const found = similarityFrom(pairs);
    expect(found?.scale).toBeCloseTo(2, 12);
    expect(found?.turnDeg).toBeCloseTo(53.130102354156, 9);
    expect(found?.worst).toBeCloseTo(0, 12);
    const rigid = rigidFrom(pairs);
    expect(rigid?.scale).toBe(1);
    expect(rigid?.turnDeg).toBeCloseTo(53.130102354156, 9);
    // The farthest corner from the middle keeps half of its distance.
    expect(rigid?.worst).toBeCloseTo(Math.hypot(2 - 2, 7 - 8 / 3), 9);
    expect(similarityFrom([pairs[0], pairs[0]])).toBeNull();
    expect(() => rigidFrom(pairs.slice(1, 2))).toThrow('got 1 pairs');
  });

  it('S. Umeyama, IEEE PAMI 13 (1991) 376, the example, figures from memory: a reflection is not taken', () => {
    // (0,0) (1,0) (0,2) to (0,0) (−1,0) (0,2): R = [[0.832, 0.555], [−0.555, 0.832]], t = (−0.800, 0.400), c = 0.721.
    const found = similarityFrom([
      { from: at(0, 0), to: at(0, 0) },
      { from: at(1, 0), to: at(-1, 0) },
      { from: at(0, 2), to: at(0, 2) },
    ]);
    const [a, b, c, d, e, f] = found?.matrix ?? IDENTITY;
    expect([a, c, b, d].map((v) => v / 0.7211102550928)).toEqual(
      [0.832, 0.555, -0.555, 0.832].map((v) => expect.closeTo(v, 3)),
    );
    expect([e, f, found?.scale]).toEqual([-0.8, 0.4, 0.721].map((v) => expect.closeTo(v, 3)));
    // Its equation 34 for the mean square: σy² − c² σx².
    expect((found?.rms ?? 0) ** 2).toBeCloseTo(10 / 9 - (0.52 * 10) / 9, 12);
  });

  it('small systems', () => {
    expect(
      solveLinear(
        [
          [0, 2],
          [3, 1],
        ],
        [4, 5],
      ),
    ).toEqual([1, 2]);
    expect(
      solveLinear(
        [
          [1, 2],
          [2, 4],
        ],
        [1, 2],
      ),
    ).toBeNull();
  });
});
