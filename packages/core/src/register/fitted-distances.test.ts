import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { adjustHoles } from './adjust.js';
import { average, averageReadings } from './readings.js';
import { errorsToRectangle, fitsParallelogram, fitsRectangle, only } from './rectangle-fit.js';
import { holesAt } from './sheets.test-help.js';
import { distancesOf, forSpans, SPANS } from './spans.js';
import type { Holes, MeanReading, Readings, SixDistances, Span } from './types.js';

type Given = Partial<Record<Span, readonly [mm: number, errorMm: number]>>;

function readingsOf(given: Given): Readings {
  return forSpans((span): MeanReading | null => {
    const one = given[span];
    return one === undefined ? null : { meanMm: one[0], errorMm: one[1], count: 1, spreadMm: 0, spreadTooBig: false };
  });
}

const tenths = (most: number) => fc.integer({ min: -10 * most, max: 10 * most }).map((n) => n / 10);

describe('holes that fit six distances best', () => {
  const misfit = (holes: Holes, distances: SixDistances, errors: SixDistances) => {
    const own = distancesOf(holes);
    return SPANS.reduce((sum, span) => sum + ((distances[span] - own[span]) / errors[span]) ** 2, 0);
  };

  it('have the least sum of squares by their errors: no hole can be moved to lessen it', () => {
    fc.assert(
      fc.property(
        fc.array(tenths(6), { minLength: 6, maxLength: 6 }),
        fc.array(fc.integer({ min: 1, max: 8 }), { minLength: 6, maxLength: 6 }),
        (off, weights) => {
          const exact = distancesOf(holesAt([0, 0], [610, 0], [640, 320], [-25, 290]));
          const distances = forSpans((span) => exact[span] + off[SPANS.indexOf(span)]);
          const errors = forSpans((span) => weights[SPANS.indexOf(span)] / 4);
          const holes = adjustHoles(distances, errors);
          expect(holes.upperLeft).toEqual({ x: 0, y: 0 });
          expect(holes.upperRight.y).toBe(0);
          expect(holes.upperRight.x).toBeGreaterThan(500);
          expect(holes.lowerRight.y).toBeGreaterThan(200);
          expect(holes.lowerLeft.y).toBeGreaterThan(200);
          const least = misfit(holes, distances, errors);
          for (const [corner, axis] of [
            ['upperRight', 'x'],
            ['lowerRight', 'x'],
            ['lowerRight', 'y'],
            ['lowerLeft', 'x'],
            ['lowerLeft', 'y'],
          ] as const) {
            const at = (by: number) =>
              misfit({ ...holes, [corner]: { ...holes[corner], [axis]: holes[corner][axis] + by } }, distances, errors);
            const [more, less] = [at(1e-3), at(-1e-3)];
            expect(more).toBeGreaterThan(least);
            expect(less).toBeGreaterThan(least);
            // The middle of a parabola: its slope is nothing beside its bend.
            expect(Math.abs(more - less) / (more + less - 2 * least)).toBeLessThan(1e-3);
          }
        },
      ),
      { numRuns: 60 },
    );
  });

  it('follow the exact distances where the others are said to be loose', () => {
    // Told to a thousandth, five distances are kept; the sixth, told to ten mm, gives way.
    const exact = distancesOf(holesAt([0, 0], [600, 0], [607, 455], [-3, 450]));
    for (const loose of SPANS) {
      const holes = adjustHoles(
        { ...exact, [loose]: exact[loose] + 4 },
        forSpans((span) => (span === loose ? 10 : 0.001)),
      );
      expect(distancesOf(holes)[loose]).toBeCloseTo(exact[loose], 4);
    }
  });
});

describe('a rectangle by its readings', () => {
  it('has both level sides within their errors, both upright ones and both diagonals', () => {
    for (const pair of [
      ['top', 'bottom'],
      ['left', 'right'],
      ['falling', 'rising'],
    ] as const) {
      const both = (mm: number) => readingsOf({ [pair[0]]: [600, 0.25], [pair[1]]: [600 + mm, 0.5] });
      expect(fitsRectangle(both(0.75))).toBe(true);
      expect(fitsRectangle(both(0.76))).toBe(false);
      expect(fitsRectangle(both(-0.75))).toBe(true);
      expect(fitsRectangle(both(-0.76))).toBe(false);
      expect(fitsRectangle(both(1.5), 2)).toBe(true);
      expect(fitsRectangle(both(1.51), 2)).toBe(false);
    }
  });

  it('has a diagonal between those of its smallest and its largest sides', () => {
    const sides = { top: [300, 1], right: [400, 2] } as const;
    const [least, most] = [Math.hypot(299, 398), Math.hypot(301, 402)];
    const fits = (mm: number) => fitsRectangle(readingsOf({ ...sides, falling: [mm, 0.5] }));
    expect(fits(most + 0.49)).toBe(true);
    expect(fits(most + 0.51)).toBe(false);
    expect(fits(least - 0.49)).toBe(true);
    expect(fits(least - 0.51)).toBe(false);
    // By rounding alone nothing is refused.
    expect(fitsRectangle(readingsOf({ top: [0.3, 1e-18], right: [0.4, 1e-18], rising: [0.5, 1e-18] }))).toBe(true);
  });

  it('may be of any width where none was measured, and of no less than none', () => {
    // A diagonal is never shorter than the side beside it: 9.9 to 10.1 high, and a diagonal of up to 9.92.
    const fits = (falling: number) => fitsRectangle(readingsOf({ left: [10, 0.1], falling: [falling, 0.1] }));
    expect([9.79, 9.82, 500].map(fits)).toEqual([false, true, true]);
  });

  it('takes as many errors as the readings are apart, by their closed forms', () => {
    expect(errorsToRectangle(readingsOf({ top: [600, 0.25], bottom: [604, 0.75] }))).toBeCloseTo(4, 7);
    expect(errorsToRectangle(readingsOf({ left: [600, 0.25], right: [604.5, 1.25] }))).toBeCloseTo(3, 7);
    // (300 + e)² + (400 + e)² = (503 − e)²: e² + 2406 e − 3009 = 0.
    const e = (-2406 + Math.sqrt(2406 ** 2 + 4 * 3009)) / 2;
    expect(errorsToRectangle(readingsOf({ top: [300, 1], right: [400, 1], rising: [503, 1] }))).toBeCloseTo(e, 7);
    expect(errorsToRectangle(readingsOf({ top: [300, 1], right: [400, 1], rising: [500, 1] }))).toBeLessThan(1e-9);
    expect(errorsToRectangle(readingsOf({ top: [300, 1], right: [400, 1], rising: [500.5, 1] }))).toBeLessThan(1);
  });

  it('is asked of the named distances alone', () => {
    const all = readingsOf({ top: [1, 1], left: [2, 1], rising: [3, 1] });
    expect(only(all, ['left', 'bottom'])).toEqual(readingsOf({ left: [2, 1] }));
  });
});

describe('a parallelogram by its readings', () => {
  // p² + q² = 2 (a² + b²) (Euclid II.12-13): with sides 300 and 400 and one diagonal of 450 the other is the root of 297 500.
  const q = Math.sqrt(2 * (300 ** 2 + 400 ** 2) - 450 ** 2);
  const sheet = (more: Given) =>
    readingsOf({
      top: [300, 0.1],
      bottom: [300, 0.1],
      left: [400, 0.1],
      right: [400, 0.1],
      falling: [450, 0.1],
      rising: [q, 0.1],
      ...more,
    });

  it('has opposite sides alike and diagonals of any length that the law allows', () => {
    expect(fitsParallelogram(sheet({}))).toBe(true);
    expect(fitsRectangle(sheet({}))).toBe(false);
    for (const one of ['top', 'bottom', 'left', 'right'] as const) {
      const mm = one === 'top' || one === 'bottom' ? 300 : 400;
      expect(fitsParallelogram(sheet({ [one]: [mm + 0.3, 0.1] }))).toBe(false);
      expect(fitsParallelogram(sheet({ [one]: [mm - 0.3, 0.1] }))).toBe(false);
    }
  });

  it('ends where all errors together make the law true', () => {
    const least = Math.sqrt(2 * (299.9 ** 2 + 399.9 ** 2) - 450.1 ** 2);
    const most = Math.sqrt(2 * (300.1 ** 2 + 400.1 ** 2) - 449.9 ** 2);
    expect(fitsParallelogram(sheet({ rising: [most + 0.09, 0.1] }))).toBe(true);
    expect(fitsParallelogram(sheet({ rising: [most + 0.11, 0.1] }))).toBe(false);
    expect(fitsParallelogram(sheet({ rising: [least - 0.09, 0.1] }))).toBe(true);
    expect(fitsParallelogram(sheet({ rising: [least - 0.11, 0.1] }))).toBe(false);
    // A missing diagonal may be anything.
    expect(fitsParallelogram({ ...sheet({}), rising: null })).toBe(true);
    expect(fitsParallelogram({ ...sheet({}), falling: null })).toBe(true);
  });
});

describe('readings of one distance', () => {
  it('are taken together by their mean, as far as the farthest lies from it', () => {
    const { meanMm, count, spreadMm, errorMm, spreadTooBig } = average([600, 601, 604, 603], 1, 'top');
    expect({ meanMm, count, spreadMm, errorMm, spreadTooBig }).toEqual({
      meanMm: 602,
      count: 4,
      spreadMm: 2,
      errorMm: 1,
      spreadTooBig: true,
    });
    // As far as the error of reading is not too far.
    expect(average([599, 601], 1, 'top')).toMatchObject({ spreadMm: 1, spreadTooBig: false });
    expect(average([599, 601], 4, 'top').errorMm).toBeCloseTo(4 / Math.SQRT2, 12);
  });

  it('are refused beyond 20 m, beyond a thousand, and with an error above 50 mm', () => {
    expect(average([20_000], 0.5, 'x').meanMm).toBe(20_000);
    expect(() => average([600, 20_000.1], 0.5, 'the strip')).toThrow(/^The reading of the strip is .*at most 20 m;/);
    expect(() => average([600, -1], 0.5, 'x')).toThrow(/is -1 mm/);
    expect(average(new Array(1000).fill(7), 0.5, 'x').count).toBe(1000);
    expect(() => average(new Array(1001).fill(7), 0.5, 'x')).toThrow(/1001 readings of x: give at most 1000/);
    expect(averageReadings({ top: [600] }, 50).top?.errorMm).toBe(50);
    expect(() => averageReadings({ top: [600] }, 50.1)).toThrow(/error of reading is 50.1 mm.*at most 50 mm/);
    expect(() => averageReadings({ top: [600] }, Number.NaN)).toThrow(/error of reading is no number/);
  });

  it('are known where there are any, and named by side or diagonal', () => {
    const found = averageReadings({ top: [600], left: [], rising: [750] });
    expect(SPANS.filter((span) => found[span] !== null)).toEqual(['top', 'rising']);
    expect(() => averageReadings({ falling: [0] })).toThrow(/reading of the falling diagonal is 0 mm/);
    expect(() => averageReadings({ left: [0] })).toThrow(/reading of the left side is 0 mm/);
  });
});
