import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boxContour, circleContour, contourArea, reverseContour, transformContour } from '../geometry/contour.js';
import type { Box, Contour } from '../geometry/types.js';
import { InputError } from '../units/input-error.js';
import { cutAway } from './cut-away.js';

const field: Box = { x0: 10, y0: 20, x1: 310, y1: 220 };
const box = (x0: number, y0: number, x1: number, y1: number): Contour => boxContour({ x0, y0, x1, y1 });

describe('the share that is cut away', () => {
  it('is 0 without openings and 1 where all is cut', () => {
    expect(cutAway([], field)).toMatchObject({ share: 0, bandShare: 0 });
    expect(cutAway([box(0, 0, 400, 400)], field).share).toBeCloseTo(1, 12);
    expect(cutAway([box(0, 0, 400, 400)], field).bandShare).toBeCloseTo(1, 12);
  });

  it('is that of the curves, not of chords', () => {
    const circles = [60, 120, 180].map((x, k) => circleContour({ x, y: 100 }, 10 + 5 * k));
    const area = circles.reduce((sum, c) => sum + contourArea(c), 0);
    expect(cutAway(circles, field).share).toBeCloseTo(area / 60000, 11);
  });

  it('takes off the rims of paper within', () => {
    const ring = [circleContour({ x: 100, y: 100 }, 30), reverseContour(circleContour({ x: 100, y: 100 }, 20))];
    expect(cutAway(ring, field).share * 60000).toBeCloseTo(Math.PI * 500, 1);
  });

  it('counts only what lies in the field, on every side of it', () => {
    // Half circles over the sides, a quarter over a corner (circles of cubics: area to 1e-5).
    for (const [x, y, part] of [
      [10, 100, 2],
      [310, 100, 2],
      [100, 20, 2],
      [100, 220, 2],
      [310, 220, 4],
    ]) {
      expect(cutAway([circleContour({ x, y }, 30)], field).share * 60000).toBeCloseTo((Math.PI * 900) / part, 1);
    }
    expect(cutAway([circleContour({ x: -40, y: 100 }, 30), circleContour({ x: 350, y: 300 }, 30)], field).share).toBe(
      0,
    );
  });
});

describe('the weakest band', () => {
  it('lies over the openings, upright or level', () => {
    const upright = cutAway([box(100, 20, 130, 220)], field);
    expect(upright.bandShare).toBeCloseTo(30 / 50, 9);
    expect(upright.weakestBand).toMatchObject({ y0: 20, y1: 220 });
    expect(upright.weakestBand.x0).toBeLessThanOrEqual(100);
    expect(upright.weakestBand.x1).toBeGreaterThanOrEqual(130);
    const level = cutAway([box(10, 150, 310, 190)], field);
    expect(level.bandShare).toBeCloseTo(40 / 50, 9);
    expect(level.weakestBand.y1 - level.weakestBand.y0).toBeCloseTo(50, 9);
  });

  it('reaches right up to the sides of the field', () => {
    const far = cutAway([box(263.3, 20, 320, 220)], field);
    expect(far.bandShare).toBeCloseTo(46.7 / 50, 9);
    expect(far.weakestBand.x1).toBe(310);
    expect(cutAway([box(0, 20, 57, 220)], field).bandShare).toBeCloseTo(47 / 50, 9);
  });

  it('is the whole of a field that is narrower', () => {
    const small: Box = { x0: 0, y0: 0, x1: 30, y1: 40 };
    expect(cutAway([box(5, 5, 15, 35)], small)).toEqual({
      share: expect.closeTo(0.25, 12),
      weakestBand: small,
      bandShare: expect.closeTo(0.25, 12),
    });
  });

  it('is no less cut away than any other, and as much as by counting points of a raster', () => {
    const circles = [
      [50, 60, 22],
      [95, 90, 15],
      [200, 180, 35],
      [240, 60, 38],
      [150, 130, 20],
    ] as const;
    const found = cutAway(
      circles.map(([x, y, r]) => circleContour({ x, y }, r)),
      field,
    );
    const cut = (x: number, y: number): boolean => circles.some(([cx, cy, r]) => Math.hypot(x - cx, y - cy) < r);
    const shareOf = (b: Box): number => {
      let inside = 0;
      for (let i = 0; i < 200; i++) {
        for (let j = 0; j < 200; j++) {
          if (cut(b.x0 + ((i + 0.5) / 200) * (b.x1 - b.x0), b.y0 + ((j + 0.5) / 200) * (b.y1 - b.y0))) inside++;
        }
      }
      return inside / 40000;
    };
    expect(shareOf(found.weakestBand)).toBeCloseTo(found.bandShare, 2);
    for (let at = 0; at <= 250; at += 10) {
      expect(shareOf({ ...field, x0: 10 + at, x1: 60 + at })).toBeLessThan(found.bandShare + 0.005);
    }
    for (let at = 0; at <= 150; at += 10) {
      expect(shareOf({ ...field, y0: 20 + at, y1: 70 + at })).toBeLessThan(found.bandShare + 0.005);
    }
  });

  it('does not change when all is moved or turned by right angles', () => {
    const place = fc.tuple(fc.double({ min: 0, max: 300, noNaN: true }), fc.double({ min: 0, max: 200, noNaN: true }));
    fc.assert(
      fc.property(place, fc.double({ min: -500, max: 500, noNaN: true }), ([x, y], by) => {
        const shapes = [circleContour({ x: 10 + x, y: 20 + y }, 25), box(60, 60, 80, 190)];
        const a = cutAway(shapes, field);
        const turned = shapes.map((c) => transformContour(c, [0, 1, -1, 0, by, 0]));
        const b = cutAway(turned, { x0: by - 220, y0: 10, x1: by - 20, y1: 310 });
        expect(b.share).toBeCloseTo(a.share, 9);
        expect(b.bandShare).toBeCloseTo(a.bandShare, 2);
      }),
      { numRuns: 50 },
    );
  });
});

it('has nothing to say about a field without an area, and refuses a band without a width', () => {
  expect(cutAway([box(0, 0, 1, 1)], { x0: 0, y0: 0, x1: 0, y1: 10 })).toMatchObject({ share: 0, bandShare: 0 });
  for (const bandMm of [0, -5, Number.NaN]) expect(() => cutAway([], field, { bandMm })).toThrow(InputError);
});
