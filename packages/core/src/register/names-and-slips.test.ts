import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkFlat } from './flat.js';
import { lift, tipOver, volumeSquared } from './hinge.js';
import { checkOrder } from './order.js';
import { holesAt } from './sheets.test-help.js';
import { around, CORNERS, distancesOf, ENDS, forCorners, forSpans, rectangleDistances, SPANS } from './spans.js';
import { findSuspect } from './suspect.js';
import type { Corner, CorrectedReading, Holes, SixDistances, Span } from './types.js';

const half = forSpans(() => 0.5);
const stray = fc.integer({ min: -40, max: 40 }).map((n) => n / 2);
/** Sheets far from square, so that no pair of sides is taken for the diagonals. */
const sheets = fc
  .array(stray, { minLength: 8, maxLength: 8 })
  .map((s) => holesAt([s[0], s[1]], [600 + s[2], s[3]], [600 + s[4], 300 + s[5]], [s[6], 300 + s[7]]));

function named(holes: Holes, one: Corner, other: Corner): Holes {
  return forCorners((corner) => holes[corner === one ? other : corner === other ? one : corner]);
}

describe('the order of holes', () => {
  it('is found again after any two neighbours have changed names, as distances of the same holes', () => {
    fc.assert(
      fc.property(sheets, fc.integer({ min: 0, max: 3 }), (holes, k) => {
        const [one, other] = [CORNERS[k], CORNERS[(k + 1) % 4]];
        const given = distancesOf(named(holes, one, other));
        const order = checkOrder(given, half);
        expect(order.inOrder).toBe(false);
        // Exchanging these two or the other two mends it.
        const pairs = [[one, other], CORNERS.filter((corner) => corner !== one && corner !== other)];
        expect(pairs.map((pair) => pair.toSorted().join())).toContain([...(order.exchanged ?? [])].sort().join());
        const true_ = distancesOf(holes);
        const found = forSpans((span) => given[order.from[span]]);
        expect(found.falling + found.rising).toBeCloseTo(true_.falling + true_.rising, 9);
        expect(new Set([found.top, found.bottom])).toEqual(new Set([true_.top, true_.bottom]));
        expect(new Set([found.left, found.right])).toEqual(new Set([true_.left, true_.right]));
        // Every distance is of the two holes that it is said to be of.
        const swap = (corner: Corner) => {
          const [a, b] = order.exchanged ?? [];
          return corner === a ? b : corner === b ? a : corner;
        };
        for (const span of SPANS) {
          expect(ENDS[span].map(swap).toSorted()).toEqual([...ENDS[order.from[span]]].sort());
        }
      }),
      { numRuns: 40 },
    );
  });

  it('is right on any sheet named in order, and across names of it do no harm', () => {
    fc.assert(
      fc.property(sheets, (holes) => {
        expect(checkOrder(distancesOf(holes), half)).toMatchObject({ inOrder: true, exchanged: null, turned: false });
        const { exchanged, from } = checkOrder(distancesOf(named(holes, 'upperLeft', 'lowerRight')), half);
        expect(exchanged).toBeNull();
        expect(SPANS.every((span) => from[span] === span)).toBe(true);
      }),
      { numRuns: 40 },
    );
  });

  it('turned by a quarter is told only of a sheet within a twentieth of the job’s, and only by a job', () => {
    const targets = { widthMm: 600, heightMm: 400 };
    const turned = (width: number, height: number) =>
      checkOrder(rectangleDistances(width, height), half, targets).turned;
    expect(turned(400, 600)).toBe(true);
    expect(turned(600, 400)).toBe(false);
    expect(checkOrder(rectangleDistances(400, 600), half).turned).toBe(false);
    // 20 mm of 400, 30 mm of 600.
    expect(turned(419, 600)).toBe(true);
    expect(turned(381, 600)).toBe(true);
    expect(turned(421, 600)).toBe(false);
    expect(turned(379, 600)).toBe(false);
    expect(turned(400, 629)).toBe(true);
    expect(turned(400, 571)).toBe(true);
    expect(turned(400, 631)).toBe(false);
    expect(turned(400, 569)).toBe(false);
    // The sides are taken by their means: by one of two alone the sheet would be more than a twentieth off.
    const loose = forSpans(() => 60);
    for (const [one, other] of [
      ['top', 'bottom'],
      ['bottom', 'top'],
      ['left', 'right'],
      ['right', 'left'],
    ] as const) {
      const mm = one === 'top' || one === 'bottom' ? [425, 375] : [640, 560];
      const uneven = { ...rectangleDistances(400, 600), [one]: mm[0], [other]: mm[1] };
      expect(checkOrder(uneven, loose, targets).turned).toBe(true);
    }
  });

  it('turned by a quarter has to fit five times better so', () => {
    // A job of 500 by 490: a sheet of 492 by 500 is 2 mm off turned, 12.8 mm off as it was named; one of 493.5 by 496.5 is as far either way.
    const targets = { widthMm: 500, heightMm: 490 };
    const turned = (width: number, height: number) =>
      checkOrder(rectangleDistances(width, height), half, targets).turned;
    expect(turned(492, 500)).toBe(true);
    expect(turned(493.5, 496.5)).toBe(false);
    // 4 mm off in width alone: 10.8 mm as named, less than five times as much.
    expect(turned(494, 500)).toBe(false);
  });
});

describe('corners around a sheet', () => {
  it('follow each other clockwise, and the one across is two further on', () => {
    for (const [k, corner] of CORNERS.entries()) {
      const { before, after, opposite } = around(corner);
      expect([before, after, opposite]).toEqual([3, 1, 2].map((n) => CORNERS[(k + n) % 4]));
    }
  });
});

describe('four holes in space', () => {
  it('have the volume and the height of the tetrahedron over their places', () => {
    const at = fc.integer({ min: -30, max: 30 });
    fc.assert(
      fc.property(fc.array(at, { minLength: 6, maxLength: 6 }), fc.integer({ min: 5, max: 60 }), (s, up) => {
        const places: Record<Corner, readonly number[]> = {
          upperLeft: [s[0], s[1], 0],
          upperRight: [600 + s[2], s[3], 0],
          lowerRight: [600 + s[4], 350 + s[5], 0],
          lowerLeft: [0, 350, up],
        };
        const distances: SixDistances = forSpans((span) => {
          const [p, q] = ENDS[span].map((corner) => places[corner]);
          return Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
        });
        const [a, b, c] = [places.upperLeft, places.upperRight, places.lowerRight];
        // A third of base times height, and the base is half the cross product.
        const base = Math.abs((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])) / 2;
        expect(Math.sqrt(volumeSquared(distances)) / ((base * up) / 3)).toBeCloseTo(1, 5);
        // The lower left hole lies that far above the others; the upper right one as far above its three as the volume says.
        const cross = (u: readonly number[], v: readonly number[]) =>
          Math.hypot(u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]);
        const minus = (p: readonly number[], q: readonly number[]) => p.map((value, k) => value - q[k]);
        const other = cross(minus(c, a), minus(places.lowerLeft, a)) / 2;
        expect(lift(distances)).toBeCloseTo(Math.max(up, (base * up) / other), 4);
      }),
      { numRuns: 40 },
    );
  });

  it('lie in no space with a diagonal that is too long, and in none that is lifted', () => {
    const far = { ...rectangleDistances(300, 400), rising: 520 };
    expect(volumeSquared(far)).toBeLessThan(0);
    expect(lift(far)).toBe(0);
  });

  it('have a tip over each side of a triangle, by its foot and height', () => {
    expect(tipOver(14, 13, 15)).toEqual([5, 12]);
    expect(tipOver(14, 15, 13)).toEqual([9, 12]);
    // Sides that do not meet have no height.
    expect(tipOver(10, 3, 4)[1]).toBe(0);
  });
});

describe('the reading that is to blame', () => {
  const targets = { widthMm: 600, heightMm: 450 };
  const job = rectangleDistances(600, 450);
  /** What each would be if set right, all of them of no slip but as told. */
  const wouldBe = (offs: Partial<Record<Span, number>>): { distances: SixDistances; list: CorrectedReading[] } => {
    // Each candidate alone leaves the sheet off by as much as the top is then said to be off.
    const distances = job;
    return {
      distances,
      list: SPANS.map((span) => {
        const off = offs[span] ?? 20.5;
        return { span, readMm: 777.7, mm: job[span] + off, changeMm: 7.3, errorMm: 0.01 };
      }),
    };
  };
  const suspect = (
    offs: Partial<Record<Span, number>>,
    readingErrorMm = 0.5,
    job_: typeof targets | null = targets,
  ) => {
    const { distances, list } = wouldBe(offs);
    return findSuspect(distances, list, { readingErrorMm, targets: job_ });
  };

  it('is the one that fits the job at least twice as well as the next', () => {
    expect(suspect({ right: 4, bottom: 8.1 })).toEqual({ span: 'right', mm: 454, slip: null, nearJob: true });
    expect(suspect({ right: 4, bottom: 8 })?.span).toBe('right');
    expect(suspect({ right: 4, bottom: 7.9 })).toBeNull();
    expect(suspect({ right: 8.1, bottom: 4 })?.span).toBe('bottom');
  });

  it('brings the sheet within 2 mm of the job in the mean, or within the error of reading', () => {
    // One of six off by e leaves a mean of e / √6.
    expect(suspect({ left: 1.99 * Math.sqrt(6) })?.nearJob).toBe(true);
    expect(suspect({ left: 2.01 * Math.sqrt(6) })).toBeNull();
    expect(suspect({ left: 2.9 * Math.sqrt(6) }, 3)?.span).toBe('left');
    expect(suspect({ left: 1 }, 0.5, null)).toBeNull();
  });

  it('is no better for fitting below the error of reading', () => {
    const fits = (readingErrorMm: number) => suspect({ top: 0, left: 2.5 }, readingErrorMm);
    // 2.5 / √6 is 1.02 mm.
    expect(fits(0.5)?.span).toBe('top');
    expect(fits(0.6)).toBeNull();
  });

  it('may be farther off where it is a slip of the hand, which counts twice', () => {
    const { distances, list } = wouldBe({ right: 9, bottom: 9 });
    const slip = (changeMm: number) =>
      findSuspect(
        distances,
        list.map((one) => (one.span === 'right' ? { ...one, changeMm } : one)),
        { readingErrorMm: 0.5, targets },
      );
    expect(slip(10)).toMatchObject({ span: 'right', slip: 'ten-mm', nearJob: false });
    expect(slip(-25.4)).toMatchObject({ span: 'right', slip: 'whole-inch' });
    expect(slip(11.3)).toBeNull();
  });

  it('without a job leaves some rectangle, that of its own means', () => {
    // Top and bottom are both 9 off, so that the others fit best with it.
    const wide = rectangleDistances(609, 450);
    const { wouldBe: list } = checkFlat({ ...wide, falling: wide.falling + 10 }, half, {
      readingErrorMm: 0.5,
      targets: null,
    });
    const found = findSuspect({ ...wide, falling: wide.falling + 10 }, list, { readingErrorMm: 0.5, targets: null });
    expect(found).toMatchObject({ span: 'falling', slip: 'ten-mm', nearJob: false });
    expect(found?.mm).toBeCloseTo(wide.falling, 6);
  });
});
