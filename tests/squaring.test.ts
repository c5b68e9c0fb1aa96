import type { Measured } from '@okuri/core';
import {
  type Corner,
  checkSquare,
  distancesOf,
  flatValue,
  type Holes,
  type SixDistances,
  SPANS,
  squareFindings,
  squareSentences,
  volumeSquared,
} from '@okuri/core/inside';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';

/** So exact a reading that figures are judged to it; distances are given in inches or mm as the source has them, as plain numbers. */
const EXACT = 1e-6;

const CORNERS: readonly Corner[] = ['upperLeft', 'upperRight', 'lowerRight', 'lowerLeft'];

function measure(top: number, right: number, bottom: number, left: number, falling: number, rising: number): Measured {
  return { top: [top], right: [right], bottom: [bottom], left: [left], falling: [falling], rising: [rising] };
}

function six(top: number, right: number, bottom: number, left: number, falling: number, rising: number): SixDistances {
  return { top, right, bottom, left, falling, rising };
}

function asMeasured(distances: SixDistances): Measured {
  return Object.fromEntries(SPANS.map((span) => [span, [distances[span]]]));
}

function scaled(measured: Measured, factor: number): Measured {
  return Object.fromEntries(SPANS.map((span) => [span, (measured[span] ?? []).map((mm) => mm * factor)]));
}

function holesAt(...points: readonly (readonly [number, number])[]): Holes {
  const [upperLeft, upperRight, lowerRight, lowerLeft] = points.map(([x, y]) => ({ x, y }));
  return { upperLeft, upperRight, lowerRight, lowerLeft };
}

function area(holes: Holes): number {
  return (
    CORNERS.reduce((sum, corner, k) => {
      const [p, q] = [holes[corner], holes[CORNERS[(k + 1) % 4]]];
      return sum + p.x * q.y - p.y * q.x;
    }, 0) / 2
  );
}

function codes(...args: Parameters<typeof checkSquare>): string[] {
  return squareFindings(checkSquare(...args)).map(({ code }) => code);
}

/** Determinant by expansion, apart from the code under test. */
function determinant(m: readonly (readonly number[])[]): number {
  if (m.length === 1) return m[0][0];
  return m[0].reduce(
    (sum, value, k) =>
      sum + (k % 2 === 0 ? value : -value) * determinant(m.slice(1).map((row) => row.filter((_, j) => j !== k))),
    0,
  );
}

/** Cayley and Menger's determinant, 288 V² (Menger 1928; Blumenthal 1953). */
function cayleyMenger({ top: a, right: b, bottom: c, left: d, falling: p, rising: q }: SixDistances): number {
  return determinant([
    [0, 1, 1, 1, 1],
    [1, 0, a * a, p * p, d * d],
    [1, a * a, 0, b * b, q * q],
    [1, p * p, b * b, 0, c * c],
    [1, d * d, q * q, c * c, 0],
  ]);
}

/** Spread evenly, not heaped at zero. */
function between(min: number, max: number) {
  return fc.integer({ min: 0, max: 1_000_000 }).map((n) => min + ((max - min) * n) / 1_000_000);
}

/** Convex quadrilaterals that are nowhere near a line: a rectangle whose corners stray by up to a fifth of its sides. */
const quads = fc
  .record({
    w: between(100, 2000),
    h: between(100, 2000),
    stray: fc.array(between(-0.2, 0.2), { minLength: 8, maxLength: 8 }),
    turn: between(0, 6.28),
  })
  .map(({ w, h, stray, turn }) => {
    const at = (x: number, y: number, k: number): readonly [number, number] => {
      const [px, py] = [(x + stray[k]) * w, (y + stray[k + 1]) * h];
      return [px * Math.cos(turn) - py * Math.sin(turn), px * Math.sin(turn) + py * Math.cos(turn)];
    };
    return { w, h, holes: holesAt(at(0, 0, 0), at(1, 0, 2), at(1, 1, 4), at(0, 1, 6)) };
  });

describe('worked quadrilaterals', () => {
  it('Euclid I.33-34: equal opposite sides and equal diagonals in order are a rectangle', () => {
    const check = checkSquare(measure(600, 450, 600, 450, 750, 750), { targets: { widthMm: 600, heightMm: 450 } });
    expect(check).toMatchObject({ square: true, effect: 'steps', repunch: [], missing: [] });
    expect(check.flat?.verdict).toBe('possible');
    expect(check.shape?.kind).toBe('rectangle');
    expect(codes(measure(600, 450, 600, 450, 750, 750))).toEqual(['square-shape', 'square-proved']);
  });

  // Pythagorean triples, Euclid X.29: legs are sides, the third is both diagonals.
  it.each([
    [3, 4, 5],
    [5, 12, 13],
    [8, 15, 17],
    [20, 21, 29],
    [18, 24, 30],
    [450, 600, 750],
  ])('triple %d, %d, %d is square', (a, b, c) => {
    const check = checkSquare(measure(a, b, a, b, c, c), { readingErrorMm: EXACT });
    expect(check.square).toBe(true);
    for (const corner of CORNERS) expect(check.shape?.anglesDeg[corner]).toBeCloseTo(90, 9);
    expect(check.holes?.lowerRight.x).toBeCloseTo(a, 9);
    expect(check.holes?.lowerRight.y).toBeCloseTo(b, 9);
  });

  // Diagonal of an isosceles trapezoid, from Ptolemy's theorem: p² = ac + b².
  it.each([
    [24, 20, 18, 28.354894],
    [24, 23.875, 18, 29.949958],
    [10, 4, 5, Math.sqrt(65)],
  ])('Ptolemy: isosceles trapezoid %d/%d with legs %d has equal diagonals and is not square', (a, c, b, diagonal) => {
    expect(Math.sqrt(a * c + b * b)).toBeCloseTo(diagonal, 6);
    const exact = Math.sqrt(a * c + b * b);
    const check = checkSquare(measure(a, b, c, b, exact, exact), { readingErrorMm: EXACT });
    expect(check.flat?.verdict).toBe('possible');
    expect(check.shape).toMatchObject({ kind: 'trapezoid', parallel: 'top-bottom', equalDiagonals: true });
    expect(check).toMatchObject({ square: false, effect: a - c > 0.5 ? 'misjoins' : 'steps' });
    expect(squareSentences(check).join(' ')).toContain('does not make a sheet square');
  });

  it('the trapezoid that fools the two-diagonal test has corners off by 0.198944°, and takes two holes', () => {
    const diagonal = Math.sqrt(24 * 23.875 + 18 * 18);
    const inches = measure(24, 18, 23.875, 18, diagonal, diagonal);
    const check = checkSquare(scaled(inches, 25.4), { targets: { widthMm: 609.6, heightMm: 457.2 } });
    expect(check.shape?.outOfSquareDeg).toBeCloseTo(0.198944, 6);
    expect(check.shape?.kind).toBe('trapezoid');
    expect(check).toMatchObject({ square: false, effect: 'misjoins' });
    // No corner of it is square, so closing the parallelogram with one hole leaves a lean of 3.47 mm a metre.
    expect(check.repunch).toHaveLength(2);
  });

  it('Bretschneider 1842 and Euler 1748: area and the distance of the diagonals’ midpoints', () => {
    const p = Math.sqrt(24 * 20 + 18 * 18);
    const holes = checkSquare(measure(24, 18, 20, 18, p, p), { readingErrorMm: EXACT }).holes as Holes;
    expect(area(holes)).toBeCloseTo(393.547964, 6);
    const middle = (a: Corner, b: Corner) => ({ x: (holes[a].x + holes[b].x) / 2, y: (holes[a].y + holes[b].y) / 2 });
    const [one, other] = [middle('upperLeft', 'lowerRight'), middle('upperRight', 'lowerLeft')];
    expect((one.x - other.x) ** 2 + (one.y - other.y) ** 2).toBeCloseTo(4, 9);
  });

  it('a general quadrilateral by its corners: 24/18.000434/24.062520/18.031358', () => {
    const holes = holesAt([0, 0], [24, 0], [24.125, 18], [0.0625, 18.03125]);
    const d = distancesOf(holes);
    expect(d.right).toBeCloseTo(18.000434, 6);
    expect(d.bottom).toBeCloseTo(24.06252, 6);
    expect(d.left).toBeCloseTo(18.031358, 6);
    expect(d.falling).toBeCloseTo(30.100093, 6);
    expect(d.rising).toBeCloseTo(29.968815, 6);
    const check = checkSquare(asMeasured(d), { readingErrorMm: EXACT });
    expect(check.shape?.kind).toBe('general');
    expect(area(check.holes as Holes)).toBeCloseTo(432.939453125, 6);
    // Euler's relation: the sum of the sides' squares less that of the diagonals' is 4x².
    const euler = d.top ** 2 + d.right ** 2 + d.bottom ** 2 + d.left ** 2 - d.falling ** 2 - d.rising ** 2;
    expect(euler).toBeCloseTo(0.0048828125, 8);
  });

  // Parallelogram law and p² − q² = 4ab cos θ (any geometry text); values worked out apart from this code.
  it.each([
    [24, 18, 89.5, 30.1254, 29.874074],
    [24, 18, 89.9, 30.025122, 29.974857],
    [30, 20, 89, 36.344778, 35.763908],
  ])('parallelogram %d × %d at %d°', (a, b, deg, p, q) => {
    const check = checkSquare(measure(a, b, a, b, p, q), { readingErrorMm: 1e-5 });
    expect(check.flat?.verdict).toBe('possible');
    expect(check.shape?.kind).toBe('parallelogram');
    expect(check.shape?.outOfSquareDeg).toBeCloseTo(90 - deg, 3);
    expect(check.effect).toBe('leans');
  });

  // Half the diagonals' difference over the sides: 4ab cos θ = (p − q)(p + q), worked out apart from this code.
  it.each([
    [24, 18, 1 / 16, 0.12434, 0.039062],
    [24, 18, 1 / 32, 0.06217, 0.019531],
    [24, 18, 1 / 64, 0.031085, 0.009766],
    [600, 450, 1, 0.079577, 0.625],
  ])('%d × %d with diagonals that differ by %d', (w, h, difference, deg, off) => {
    // p − q is given, and the parallelogram law p² + q² = 2(a² + b²).
    const mean = Math.sqrt(w * w + h * h - difference ** 2 / 4);
    const check = checkSquare(measure(w, h, w, h, mean + difference / 2, mean - difference / 2), {
      readingErrorMm: EXACT,
    });
    expect(check.shape?.outOfSquareDeg).toBeCloseTo(deg, 5);
    expect(check.shape?.outOfSquareMm).toBeCloseTo(off, 5);
    expect(check.shape?.leanMm).toBeCloseTo(off, 5);
  });

  it('a kite', () => {
    const check = checkSquare(asMeasured(distancesOf(holesAt([0, 0], [300, 0], [360, 360], [0, 300]))));
    expect(check.shape?.kind).toBe('kite');
    expect(check.square).toBe(false);
  });
});

describe('can six distances be a flat sheet', () => {
  it('Cayley and Menger: the disphenoid 24, 18, 24, 18, 29, 29 agrees in pairs, closes in space and is not flat', () => {
    const d = six(24, 18, 24, 18, 29, 29);
    expect(cayleyMenger(d)).toBe(151_931_372);
    expect(288 * volumeSquared(d)).toBeCloseTo(151_931_372, 2);
    // V² = (a²+b²−c²)(a²−b²+c²)(−a²+b²+c²)/72.
    const [a, b, c] = [576, 324, 841];
    expect(volumeSquared(d)).toBeCloseTo(((a + b - c) * (a - b + c) * (-a + b + c)) / 72, 4);
    expect(Math.sqrt(volumeSquared(d))).toBeCloseTo(726.3191, 4);
    const inMm = checkSquare(scaled(asMeasured(d), 25.4), { targets: { widthMm: 609.6, heightMm: 457.2 } });
    expect(inMm.flat).toMatchObject({ verdict: 'not-flat-or-misreading', diagonals: 'too-short' });
    expect(inMm.square).toBeNull();
    expect(inMm.repunch).toEqual([]);
    // Height of one corner over the other three: 3V / area of a face (24, 18, 29; Heron).
    const s = (24 + 18 + 29) / 2;
    const height = (3 * 726.3191) / Math.sqrt(s * (s - 24) * (s - 18) * (s - 29));
    expect(inMm.flat?.liftMm).toBeCloseTo(height * 25.4, 2);
  });

  it('longer diagonals than a flat sheet’s are nothing in space', () => {
    expect(volumeSquared(six(24, 18, 24, 18, 31, 31))).toBeLessThan(0);
    expect(checkSquare(scaled(measure(24, 18, 24, 18, 31, 31), 25.4)).flat).toMatchObject({
      verdict: 'misreading',
      diagonals: 'too-long',
      liftMm: null,
    });
  });

  it('the one equation is Cayley and Menger’s, for any six distances of four points in space', () => {
    const point = fc.tuple(...[0, 1, 2].map(() => between(-100, 100)));
    fc.assert(
      fc.property(fc.tuple(point, point, point, point), ([a, b, c, d]) => {
        const far = (p: number[], q: number[]) => Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
        const all = six(far(a, b), far(b, c), far(c, d), far(d, a), far(a, c), far(b, d));
        fc.pre(Math.min(...SPANS.map((span) => all[span])) > 10);
        const determinantValue = cayleyMenger(all);
        fc.pre(determinantValue > 1e6);
        expect(288 * volumeSquared(all)).toBeCloseTo(determinantValue, -6);
        // Space never gives diagonals too long for the sides of a sheet whose holes are in order.
        expect(all.rising).toBeLessThanOrEqual(flatValue(all, 'rising') + 1e-9);
        expect(all.falling).toBeLessThanOrEqual(flatValue(all, 'falling') + 1e-9);
        for (const side of ['top', 'right', 'bottom', 'left'] as const) {
          expect(all[side]).toBeGreaterThanOrEqual(flatValue(all, side) - 1e-9);
        }
      }),
    );
  });

  it('every one of six flat distances follows from the other five', () => {
    fc.assert(
      fc.property(quads, ({ holes }) => {
        const d = distancesOf(holes);
        for (const span of SPANS) expect(Math.abs(flatValue(d, span) - d[span])).toBeLessThan(1e-7);
      }),
    );
  });

  it('least squares, worked with scipy: diagonals 30.1 over 24 × 18', () => {
    // So coarsely read that a flat sheet may have them: all errors are alike, which least squares don't mind.
    const d = distancesOf(checkSquare(measure(24, 18, 24, 18, 30.1, 30.1), { readingErrorMm: 0.05 }).holes as Holes);
    const check = checkSquare(measure(24, 18, 24, 18, 30.1, 30.1), { readingErrorMm: 0.01 });
    expect(check).toMatchObject({ verdict: 'misreading', holes: null, shape: null });
    expect(d.top).toBeCloseTo(24.04, 9);
    expect(d.right).toBeCloseTo(18.03, 9);
    expect(d.bottom).toBeCloseTo(24.04, 9);
    expect(d.left).toBeCloseTo(18.03, 9);
    expect(d.falling).toBeCloseTo(30.05, 9);
    expect(d.rising).toBeCloseTo(30.05, 9);
    // Every reading off by e: (30.1 − e)² = (24 + e)² + (18 + e)², so e² + 144.2 e − 6.01 = 0.
    expect(check.flat?.eachOffMm).toBeCloseTo((-144.2 + Math.sqrt(144.2 ** 2 + 4 * 6.01)) / 2, 9);
    expect(check.flat?.verdict).toBe('misreading');
  });

  it('least squares, worked with scipy: 24, 18, 24, 18, 30.02, 29.98 leans by 0.025 over 17.999985', () => {
    const check = checkSquare(measure(24, 18, 24, 18, 30.02, 29.98), { readingErrorMm: 0.001 });
    expect(check.flat?.verdict).toBe('possible');
    const { lowerLeft, lowerRight } = check.holes as Holes;
    expect(lowerLeft.x).toBeCloseTo(0.025, 5);
    expect(lowerLeft.y).toBeCloseTo(17.999985, 5);
    expect(lowerRight.x).toBeCloseTo(24.025, 5);
    const d = distancesOf(check.holes as Holes);
    const given = six(24, 18, 24, 18, 30.02, 29.98);
    const ssr = SPANS.reduce((sum, span) => sum + (d[span] - given[span]) ** 2, 0);
    expect(ssr).toBeGreaterThan(4.35e-11);
    expect(ssr).toBeLessThan(4.45e-11);
  });

  it('least squares weigh a mean of five readings five times as much', () => {
    const five = (mm: number) => [mm, mm, mm, mm, mm];
    const mostly = { top: five(240), right: five(180), bottom: five(240), left: five(180), rising: five(300) };
    const check = checkSquare({ ...mostly, falling: [300.5] });
    const d = distancesOf(check.holes as Holes);
    // The residual of a reading is as its share of the equation (both diagonals alike here) times the square of its error.
    expect((300.5 - d.falling) / (300 - d.rising)).toBeCloseTo(5, 1);
  });

  it('never doubts readings that are each off by less than their error', () => {
    const errors = fc.array(between(-0.5, 0.5), { minLength: 6, maxLength: 6 });
    fc.assert(
      fc.property(quads, errors, ({ holes }, off) => {
        const d = distancesOf(holes);
        const read = Object.fromEntries(SPANS.map((span, k) => [span, [d[span] + off[k]]]));
        const check = checkSquare(read);
        expect(check.flat?.verdict).toBe('possible');
        expect(check.order.inOrder).toBe(true);
      }),
    );
  });
});

describe('the same shape back', () => {
  it('six distances of any quadrilateral, within 1e-9 of its size', () => {
    fc.assert(
      fc.property(quads, ({ holes }) => {
        const d = distancesOf(holes);
        const size = Math.max(d.falling, d.rising);
        const found = checkSquare(asMeasured(d)).holes as Holes;
        // Carried onto the first hole and the line of the top side.
        const { upperLeft: o, upperRight: u } = holes;
        const [ux, uy] = [(u.x - o.x) / d.top, (u.y - o.y) / d.top];
        for (const corner of CORNERS) {
          const [x, y] = [holes[corner].x - o.x, holes[corner].y - o.y];
          expect(Math.abs(found[corner].x - (x * ux + y * uy))).toBeLessThan(1e-9 * size);
          expect(Math.abs(found[corner].y - (y * ux - x * uy))).toBeLessThan(1e-9 * size);
        }
      }),
    );
  });

  it('five distances give it too, whichever is missing, and prove nothing', () => {
    fc.assert(
      fc.property(quads, fc.constantFrom(...SPANS), ({ holes }, missing) => {
        const d = distancesOf(holes);
        const check = checkSquare({ ...asMeasured(d), [missing]: [] });
        const found = distancesOf(check.foretold?.holes as Holes);
        for (const span of SPANS) expect(Math.abs(found[span] - d[span])).toBeLessThan(1e-7);
        expect(check.foretold?.span).toBe(missing);
        expect(check).toMatchObject({ shape: null, holes: null, effect: null });
        expect(check.square).not.toBe(true);
        expect(check.flat).toBeNull();
        expect(check.repunch).toEqual([]);
      }),
    );
  });
});

describe('holes named out of order', () => {
  it('sides 24, 30, 24, 30 with diagonals 18, 18: all pairs agree, and it is a crossed naming', () => {
    const check = checkSquare(scaled(measure(24, 30, 24, 30, 18, 18), 25.4), {
      targets: { widthMm: 609.6, heightMm: 457.2 },
    });
    expect(check.order).toMatchObject({ inOrder: false, exchanged: ['lowerRight', 'lowerLeft'], turned: false });
    expect(check.order.from).toMatchObject({ falling: 'left', rising: 'right', right: 'rising', left: 'falling' });
    // Nothing is said of a sheet whose holes have not their names.
    expect(check).toMatchObject({
      verdict: 'out-of-order',
      square: null,
      flat: null,
      shape: null,
      effect: null,
      repunch: [],
    });
    if (check.verdict !== 'out-of-order') return;
    const renamed = distancesOf(check.renamed as Holes);
    expect([renamed.top, renamed.right, renamed.bottom, renamed.left]).toEqual(
      [609.6, 457.2, 609.6, 457.2].map((mm) => expect.closeTo(mm, 6)),
    );
    const [found] = squareFindings(check).filter(({ code }) => code === 'square-order');
    expect(found.severity).toBe('fix');
    expect(found.message).toContain(
      'the upper left hole, the upper right hole, the lower left hole and the lower right hole',
    );
  });

  it('any quadrilateral with two holes’ names exchanged', () => {
    fc.assert(
      fc.property(quads, fc.boolean(), ({ holes, w, h }, lower) => {
        fc.pre(w / h < 3 && h / w < 3);
        const { upperLeft, upperRight, lowerRight, lowerLeft } = holes;
        const misnamed = lower
          ? { upperLeft, upperRight, lowerRight: lowerLeft, lowerLeft: lowerRight }
          : { upperLeft, upperRight: lowerRight, lowerRight: upperRight, lowerLeft };
        const check = checkSquare(asMeasured(distancesOf(misnamed)), { readingErrorMm: EXACT });
        expect(check.order.exchanged).toEqual(lower ? ['lowerRight', 'lowerLeft'] : ['upperRight', 'lowerRight']);
        expect(check).toMatchObject({ verdict: 'out-of-order', square: null, shape: null, holes: null });
        if (check.verdict !== 'out-of-order') return;
        const found = distancesOf(check.renamed as Holes);
        const d = distancesOf(holes);
        for (const span of SPANS) expect(found[span]).toBeCloseTo(d[span], 6);
      }),
    );
  });

  it('a sheet held turned by a quarter', () => {
    const options = { targets: { widthMm: 600, heightMm: 450 } };
    expect(codes(measure(450, 600, 450, 600, 750, 750), options)).toEqual(['square-turned']);
    expect(checkSquare(measure(450, 600, 450, 600, 750, 750), options)).toMatchObject({
      verdict: 'out-of-order',
      square: null,
      shape: null,
    });
    expect(codes(measure(600, 450, 600, 450, 750, 750), options)).not.toContain('square-turned');
  });
});
