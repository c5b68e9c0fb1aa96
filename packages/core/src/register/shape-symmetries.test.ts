import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Point } from '../geometry/types.js';
import { adjustHoles } from './adjust.js';
import { checkSquare } from './check-square.js';
import { errorsToRectangle } from './rectangle-fit.js';
import { shapeOfHoles, shapeOfReadings, worseSides } from './shape.js';
import { asMeasured, holesAt } from './sheets.test-help.js';
import { distancesOf, forCorners, forSpans, SPANS } from './spans.js';
import type { Corner, Holes, MeanReading, Readings, Shape, Span } from './types.js';

const coordinate = fc.integer({ min: -60, max: 60 }).map((n) => n / 2);
/** Sheets of 600 by 350 whose corners are anywhere within 30 mm of their place. */
const sheets = fc
  .array(coordinate, { minLength: 8, maxLength: 8 })
  .map((s) => holesAt([s[0], s[1]], [600 + s[2], s[3]], [600 + s[4], 350 + s[5]], [s[6], 350 + s[7]]));
const SPECIAL: readonly Holes[] = [
  holesAt([0, 0], [600, 0], [600, 350], [0, 350]),
  holesAt([0, 0], [600, 0], [615, 350], [15, 350]),
  holesAt([0, 0], [600, 0], [560, 350], [15, 350]),
  holesAt([0, 0], [600, 20], [600, 330], [0, 350]),
  holesAt([0, 0], [40, 0], [44, 44], [0, 40]),
  holesAt([4, 0], [44, 0], [44, 40], [0, 44]),
];
const any = fc.oneof(sheets, fc.constantFrom(...SPECIAL));

const moved = (holes: Holes, by: (p: Point) => Point): Holes => forCorners((corner) => by(holes[corner]));

function alike(one: Shape, other: Shape): void {
  for (const [name, value] of Object.entries(one)) {
    const its = other[name as keyof Shape];
    if (typeof value === 'number') expect(its as number, name).toBeCloseTo(value, 6);
    else if (name === 'anglesDeg') {
      for (const [corner, deg] of Object.entries(one.anglesDeg)) {
        expect(other.anglesDeg[corner as Corner], corner).toBeCloseTo(deg, 6);
      }
    } else expect(its, name).toEqual(value);
  }
}

describe('the shape of a sheet', () => {
  it('is the same wherever it lies and however it is turned', () => {
    fc.assert(
      fc.property(any, fc.integer({ min: 0, max: 359 }), (holes, deg) => {
        const [c, s] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)];
        alike(
          shapeOfHoles(holes),
          shapeOfHoles(moved(holes, ({ x, y }) => ({ x: c * x - s * y + 70, y: s * x + c * y - 30 }))),
        );
      }),
      { numRuns: 40 },
    );
  });

  it('seen in a mirror leans the other way, and left and right change places', () => {
    fc.assert(
      fc.property(any, (holes) => {
        const m = moved(holes, ({ x, y }) => ({ x: -x, y }));
        const mirrored = shapeOfHoles({
          upperLeft: m.upperRight,
          upperRight: m.upperLeft,
          lowerRight: m.lowerLeft,
          lowerLeft: m.lowerRight,
        });
        const shape = shapeOfHoles(holes);
        const { upperLeft, upperRight, lowerRight, lowerLeft } = shape.anglesDeg;
        alike(mirrored, {
          ...shape,
          anglesDeg: { upperLeft: upperRight, upperRight: upperLeft, lowerRight: lowerLeft, lowerLeft: lowerRight },
          rightMinusLeftMm: -shape.rightMinusLeftMm,
          leanMm: -shape.leanMm,
          leanMmPerM: -shape.leanMmPerM,
        });
      }),
      { numRuns: 40 },
    );
  });

  it('turned by half a turn is named from below, and turned over its diagonal has height for width', () => {
    fc.assert(
      fc.property(any, (holes) => {
        const shape = shapeOfHoles(holes);
        const { upperLeft: a, upperRight: b, lowerRight: c, lowerLeft: d } = holes;
        const below = shapeOfHoles({ upperLeft: c, upperRight: d, lowerRight: a, lowerLeft: b });
        expect(below.topMinusBottomMm).toBeCloseTo(-shape.topMinusBottomMm, 9);
        expect(below.rightMinusLeftMm).toBeCloseTo(-shape.rightMinusLeftMm, 9);
        expect(below.leanMm).toBeCloseTo(shape.leanMm, 9);
        expect([below.kind, below.parallel, below.equalDiagonals]).toEqual([
          shape.kind,
          shape.parallel,
          shape.equalDiagonals,
        ]);
        const flip = ({ x, y }: Point) => ({ x: y, y: x });
        const over = shapeOfHoles({ upperLeft: flip(a), upperRight: flip(d), lowerRight: flip(c), lowerLeft: flip(b) });
        expect(over.topMinusBottomMm).toBeCloseTo(-shape.rightMinusLeftMm, 9);
        expect(over.rightMinusLeftMm).toBeCloseTo(-shape.topMinusBottomMm, 9);
        expect([over.widthMm, over.heightMm]).toEqual([shape.heightMm, shape.widthMm]);
        expect(over.kind).toBe(shape.kind);
        expect(over.outOfSquareDeg).toBeCloseTo(shape.outOfSquareDeg, 6);
      }),
      { numRuns: 40 },
    );
  });

  it('has the measures of its corners, worked out by hand', () => {
    fc.assert(
      fc.property(any, (holes) => {
        const shape = shapeOfHoles(holes);
        const { upperLeft: a, upperRight: b, lowerRight: c, lowerLeft: d } = holes;
        const between = (p: Point, q: Point, r: Point) => {
          const [u, v] = [
            { x: q.x - p.x, y: q.y - p.y },
            { x: r.x - p.x, y: r.y - p.y },
          ];
          const cosine = (u.x * v.x + u.y * v.y) / (Math.hypot(u.x, u.y) * Math.hypot(v.x, v.y));
          return { deg: (Math.acos(cosine) * 180) / Math.PI, strays: Math.abs(Math.hypot(u.x, u.y) * cosine) };
        };
        // The first of the two sides is the one that runs down.
        const corners = [between(a, d, b), between(b, c, a), between(c, b, d), between(d, a, c)];
        const { anglesDeg } = shape;
        const told = [anglesDeg.upperLeft, anglesDeg.upperRight, anglesDeg.lowerRight, anglesDeg.lowerLeft];
        corners.forEach(({ deg }, k) => {
          expect(told[k]).toBeCloseTo(deg, 4);
        });
        expect(shape.outOfSquareDeg).toBeCloseTo(Math.max(...corners.map(({ deg }) => Math.abs(deg - 90))), 4);
        expect(shape.outOfSquareMm).toBeCloseTo(Math.max(...corners.map(({ strays }) => strays)), 5);
        // The middle of the bottom against that of the top, along the middle line from left to right.
        const middle = (p: Point, q: Point) => ({ x: (p.x + q.x) / 2, y: (p.y + q.y) / 2 });
        const [top, bottom, left, right] = [middle(a, b), middle(d, c), middle(a, d), middle(b, c)];
        const angle = Math.atan2(right.y - left.y, right.x - left.x);
        const [dx, dy] = [bottom.x - top.x, bottom.y - top.y];
        const slid = dx * Math.cos(angle) + dy * Math.sin(angle);
        const high = dy * Math.cos(angle) - dx * Math.sin(angle);
        expect(shape.leanMm).toBeCloseTo(slid, 6);
        expect(shape.leanMmPerM).toBeCloseTo((1000 * slid) / high, 4);
      }),
      { numRuns: 40 },
    );
  });
});

describe('the sides that differ more', () => {
  const shape = (top: number, right: number) =>
    worseSides({
      topMinusBottomMm: top,
      rightMinusLeftMm: right,
      topMinusBottomErrorMm: 0.1,
      rightMinusLeftErrorMm: 0.2,
    } as Shape);

  it('are top and bottom, or right and left, whichever way they differ', () => {
    expect(shape(-3, 2)).toEqual({ pair: ['top', 'bottom'], differenceMm: -3, errorMm: 0.1 });
    expect(shape(2, -3)).toEqual({ pair: ['right', 'left'], differenceMm: -3, errorMm: 0.2 });
    expect(shape(2, 2).pair).toEqual(['top', 'bottom']);
  });
});

describe('the errors of a shape', () => {
  const readingsOf = (holes: Holes, errors: Record<Span, number>, without?: Span): Readings => {
    const mm = distancesOf(holes);
    return forSpans((span): MeanReading | null => {
      if (span === without) return null;
      return { meanMm: mm[span], errorMm: errors[span], count: 1, spreadMm: 0, spreadTooBig: false };
    });
  };
  const errors = { top: 0.11, right: 0.17, bottom: 0.23, left: 0.31, falling: 0.41, rising: 0.53 };
  const skew = holesAt([0, 0], [600, 0], [607, 355], [-3, 350]);

  it('of five distances are those of the distances themselves, added', () => {
    for (const without of ['falling', 'rising'] as const) {
      const shape = shapeOfReadings(readingsOf(skew, errors, without));
      const exact = shapeOfHoles(skew);
      expect(shape?.topMinusBottomMm).toBeCloseTo(exact.topMinusBottomMm, 6);
      expect(shape?.topMinusBottomErrorMm).toBeCloseTo(0.11 + 0.23, 6);
      expect(shape?.rightMinusLeftErrorMm).toBeCloseTo(0.17 + 0.31, 6);
      expect(shape?.leanMm).toBeCloseTo(exact.leanMm, 6);
    }
  });

  it('of six shrink or grow as their errors do', () => {
    const [one, half] = [errors, forSpans((span) => errors[span] / 2)].map((e) => shapeOfReadings(readingsOf(skew, e)));
    expect((one?.topMinusBottomErrorMm ?? 0) / (half?.topMinusBottomErrorMm ?? 1)).toBeCloseTo(2, 2);
    expect((one?.leanErrorMm ?? 0) / (half?.leanErrorMm ?? 1)).toBeCloseTo(2, 2);
    // The same from holes fitted to each reading at its worst.
    const means = distancesOf(skew);
    const sums = { topMinusBottomMm: 0, rightMinusLeftMm: 0, leanMm: 0 };
    for (const span of SPANS) {
      const worst = shapeOfHoles(adjustHoles({ ...means, [span]: means[span] + errors[span] }, errors));
      for (const what of ['topMinusBottomMm', 'rightMinusLeftMm', 'leanMm'] as const) {
        sums[what] += Math.abs(worst[what] - shapeOfHoles(skew)[what]);
      }
    }
    expect((one?.topMinusBottomErrorMm ?? 0) / sums.topMinusBottomMm).toBeCloseTo(1, 2);
    expect((one?.rightMinusLeftErrorMm ?? 0) / sums.rightMinusLeftMm).toBeCloseTo(1, 2);
    expect((one?.leanErrorMm ?? 0) / sums.leanMm).toBeCloseTo(1, 2);
  });

  it('leave at least the share of being out of square that no error explains, and make at most their own sum more of it', () => {
    const readings = readingsOf(skew, errors);
    const shape = shapeOfReadings(readings);
    const exact = shapeOfHoles(skew);
    expect(shape?.outOfSquareLeastMm).toBeCloseTo(exact.outOfSquareMm * (1 - 1 / errorsToRectangle(readings)), 5);
    expect(exact.outOfSquareLeastMm).toBeCloseTo(exact.outOfSquareMm, 9);
    expect(shape?.outOfSquareMostMm).toBeGreaterThan(exact.outOfSquareMm + 0.1);
    expect(shape?.outOfSquareMostMm).toBeLessThan(exact.outOfSquareMm + 4);
    expect(shapeOfHoles(SPECIAL[0])).toMatchObject({ kind: 'rectangle', outOfSquareLeastMm: 0 });
  });

  it('are not known of fewer than five distances', () => {
    const mm = asMeasured(distancesOf(skew));
    for (const span of SPANS) {
      for (const other of SPANS) {
        if (other === span) continue;
        const { shape, holes, foretold } = checkSquare({ ...mm, [span]: [], [other]: [] });
        expect([shape, holes, foretold]).toEqual([null, null, null]);
      }
      expect(checkSquare({ ...mm, [span]: [] }).foretold?.mm).toBeCloseTo(mm[span]?.[0] ?? 0, 6);
    }
  });
});
