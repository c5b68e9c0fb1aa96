import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Point } from '../geometry/types.js';
import { mustMend } from '../motif/finding.js';
import { distancesOf, SPANS } from '../register/spans.js';
import type { Holes, Measured, SixDistances, Span, SquareVerdict } from '../register/types.js';
import { squareDocument } from '../reports/square-document.js';
import { squareReport } from '../reports/square-report.js';
import { InputError } from '../units/input-error.js';
import { ran } from './leaf-job.test-help.js';
import { type JudgeSquareOptions, judgeSquare, squareSheet } from './square.js';

// All that is said of a sheet agrees with its verdict, and the verdict with a judgement made here by other means: Cayley and Menger's determinant for
// flatness (Menger 1928; Blumenthal 1953), a search over rectangles for squareness, Euler's relation (1748) for the holes.

/** How the headline begins, by verdict. */
const HEADLINES: Readonly<Record<SquareVerdict, RegExp>> = {
  square: /: square within the error of reading$/,
  'not-square': /: not square\b/,
  unsettled: /: not settled: /,
  misreading: /: the readings can not all be right$/,
  'not-flat': /: the readings can not all be right, or the sheet did not lie flat$/,
  'out-of-order': /: (holes named out of order|named with width and height exchanged), so nothing is said/,
  'not-enough': /: not proved \(\d of six distances measured\)$/,
};

type Read = { readonly measured: Measured; readonly errorMm: number };

function between(min: number, max: number) {
  return fc.integer({ min: 0, max: 100_000 }).map((n) => min + ((max - min) * n) / 100_000);
}

function holes(points: readonly (readonly [number, number])[]): Holes {
  const [upperLeft, upperRight, lowerRight, lowerLeft] = points.map(([x, y]) => ({ x, y }));
  return { upperLeft, upperRight, lowerRight, lowerLeft };
}

/** True sheets by kind: their holes as they are. */
const rectangles = fc.record({ w: between(80, 900), h: between(80, 900) }).map(({ w, h }) =>
  holes([
    [0, 0],
    [w, 0],
    [w, h],
    [0, h],
  ]),
);
const parallelograms = fc
  .record({ w: between(80, 900), h: between(80, 900), s: between(-0.02, 0.02) })
  .map(({ w, h, s }) =>
    holes([
      [0, 0],
      [w, 0],
      [w + s * h, h],
      [s * h, h],
    ]),
  );
const trapezoids = fc.record({ w: between(80, 900), h: between(80, 900), d: between(-8, 8) }).map(({ w, h, d }) =>
  holes([
    [0, 0],
    [w, 0],
    [w - d / 2, h],
    [d / 2, h],
  ]),
);
const quads = fc
  .record({ w: between(80, 900), h: between(80, 900), stray: fc.array(between(-6, 6), { minLength: 8, maxLength: 8 }) })
  .map(({ w, h, stray: s }) =>
    holes([
      [s[0], s[1]],
      [w + s[2], s[3]],
      [w + s[4], h + s[5]],
      [s[6], h + s[7]],
    ]),
  );

/** Readings of given distances: one to three each, each off by up to its error times `off`. */
function readings(distances: fc.Arbitrary<SixDistances>, off = 1): fc.Arbitrary<Read> {
  return fc
    .record({
      distances,
      errorMm: fc.constantFrom(0.05, 0.2, 0.5),
      errors: fc.array(fc.array(between(-1, 1), { minLength: 1, maxLength: 3 }), { minLength: 6, maxLength: 6 }),
    })
    .map(({ distances: d, errorMm, errors }) => ({
      errorMm,
      measured: Object.fromEntries(
        SPANS.map((span, k) => [
          span,
          errors[k].map((e) => d[span] + off * e * (errorMm / Math.sqrt(errors[k].length))),
        ]),
      ),
    }));
}

const of = (sheets: fc.Arbitrary<Holes>) => sheets.map(distancesOf);
const anySheet = fc.oneof(rectangles, parallelograms, trapezoids, quads);
const misnamed = fc
  .record({ sheet: anySheet, lower: fc.boolean() })
  .map(({ sheet: s, lower }) =>
    distancesOf(
      lower
        ? { ...s, lowerLeft: s.lowerRight, lowerRight: s.lowerLeft }
        : { ...s, upperRight: s.lowerRight, lowerRight: s.upperRight },
    ),
  );
/** Both diagonals alike too long or too short: equal in pairs, and no flat sheet. */
const impossible = fc.record({ sheet: anySheet, by: between(-0.2, 0.06) }).map(({ sheet, by }): SixDistances => {
  const d = distancesOf(sheet);
  return { ...d, falling: d.falling * (1 + by), rising: d.rising * (1 + by) };
});
const oneWrong = fc
  .record({ sheet: anySheet, span: fc.constantFrom(...SPANS), by: between(-30, 30) })
  .map(({ sheet, span, by }) => ({ ...distancesOf(sheet), [span]: distancesOf(sheet)[span] + by }));
const missing = fc
  .record({
    read: readings(of(anySheet)),
    left: fc.uniqueArray(fc.constantFrom(...SPANS), { minLength: 1, maxLength: 4 }),
  })
  .map(({ read, left }) => ({
    ...read,
    measured: Object.fromEntries(Object.entries(read.measured).filter(([span]) => !left.includes(span as Span))),
  }));

/** Mean and error of each distance that was read. */
function taken({ measured, errorMm }: Read): Partial<Record<Span, { mm: number; error: number }>> {
  return Object.fromEntries(
    Object.entries(measured).map(([span, all]) => {
      const mm = all.reduce((a, b) => a + b, 0) / all.length;
      const spread = Math.max(...all.map((one) => Math.abs(one - mm)));
      return [span, { mm, error: Math.max(errorMm, spread) / Math.sqrt(all.length) }];
    }),
  );
}

/** Determinant by elimination. */
function determinant(rows: readonly (readonly number[])[]): number {
  const m = rows.map((row) => [...row]);
  let product = 1;
  for (let k = 0; k < m.length; k++) {
    const pivot = m.reduce((best, row, i) => (i >= k && Math.abs(row[k]) > Math.abs(m[best][k]) ? i : best), k);
    if (pivot !== k) [m[k], m[pivot], product] = [m[pivot], m[k], -product];
    product *= m[k][k];
    for (let i = k + 1; i < m.length; i++) {
      const share = m[i][k] / m[k][k];
      for (let j = k; j < m.length; j++) m[i][j] -= share * m[k][j];
    }
  }
  return product;
}

function cayleyMenger(d: SixDistances): number {
  const [a, b, c, e, p, q] = [d.top, d.right, d.bottom, d.left, d.falling, d.rising].map((x) => x * x);
  return determinant([
    [0, 1, 1, 1, 1],
    [1, 0, a, p, e],
    [1, a, 0, b, q],
    [1, p, b, 0, c],
    [1, e, q, c, 0],
  ]);
}

/** How many errors every reading must be off for the determinant to vanish, to first order. */
function errorsToFlat(read: Read): number {
  const all = taken(read);
  const d = Object.fromEntries(SPANS.map((span) => [span, all[span]?.mm])) as SixDistances;
  const slope = SPANS.reduce((sum, span) => {
    const step = 1e-4 * d[span];
    const more = cayleyMenger({ ...d, [span]: d[span] + step });
    const less = cayleyMenger({ ...d, [span]: d[span] - step });
    return sum + (Math.abs(more - less) / (2 * step)) * (all[span]?.error ?? 0);
  }, 0);
  return Math.abs(cayleyMenger(d)) / slope;
}

/** How many errors some reading must be off at least for a rectangle to have them all: the best of a search that closes in three times. */
function errorsToRectangle(read: Read): number {
  const all = taken(read);
  const mean = (one: Span, other: Span, fallback: number): number => {
    const both = [all[one]?.mm, all[other]?.mm].filter((mm) => mm !== undefined);
    return both.length === 0 ? fallback : both.reduce((a, b) => a + b, 0) / both.length;
  };
  const diagonal = mean('falling', 'rising', 0);
  const height = mean('left', 'right', 0);
  const width = mean('top', 'bottom', Math.sqrt(Math.max(1, diagonal ** 2 - height ** 2)));
  let at = { w: width, h: height === 0 ? Math.sqrt(Math.max(1, diagonal ** 2 - width ** 2)) : height };
  const worst = ({ w, h }: { w: number; h: number }): number => {
    const should: SixDistances = {
      top: w,
      bottom: w,
      left: h,
      right: h,
      falling: Math.hypot(w, h),
      rising: Math.hypot(w, h),
    };
    return Math.max(
      ...SPANS.map((span) => {
        const one = all[span];
        return one === undefined ? 0 : Math.abs(one.mm - should[span]) / one.error;
      }),
    );
  };
  let best = worst(at);
  let reach = 40 * read.errorMm + 10;
  for (let round = 0; round < 7; round++) {
    const middle = at;
    for (let i = -6; i <= 6; i++) {
      for (let j = -6; j <= 6; j++) {
        const tried = { w: middle.w + (i * reach) / 6, h: middle.h + (j * reach) / 6 };
        if (tried.w <= 0 || tried.h <= 0) continue;
        const value = worst(tried);
        if (value < best) [best, at] = [value, tried];
      }
    }
    reach /= 3;
  }
  return best;
}

function opensTriangle(read: Read): boolean {
  const all = taken(read);
  const triangles: readonly (readonly Span[])[] = [
    ['top', 'right', 'falling'],
    ['right', 'bottom', 'rising'],
    ['bottom', 'left', 'falling'],
    ['left', 'top', 'rising'],
  ];
  return triangles.some((spans) => {
    const mm = spans.map((span) => all[span]?.mm ?? Number.NaN).sort((a, b) => b - a);
    return mm[0] >= mm[1] + mm[2];
  });
}

function judged(read: Read, options: JudgeSquareOptions = {}) {
  const result = judgeSquare(read.measured, { readingErrorMm: read.errorMm, ...options });
  const sheet = options.sheet ?? null;
  return { ...result, document: squareDocument(result, sheet), text: squareReport(result, sheet) };
}

type Result = ReturnType<typeof judged>;

/** That one result does not contradict itself, whatever it is. */
function agrees({ check, drift, findings, document, text }: Result): void {
  const codes = findings.map(({ code }) => code);
  const lines = text.split('\n');
  const said = findings.map(({ message }) => message).join(' ');
  const has = (code: string, severity?: string) =>
    findings.some((one) => one.code === code && (severity === undefined || one.severity === severity));
  expect(lines[0]).toMatch(HEADLINES[check.verdict]);
  for (const [verdict, headline] of Object.entries(HEADLINES)) {
    if (verdict !== check.verdict) expect(lines[0]).not.toMatch(headline);
  }
  expect(document).toMatchObject({
    verdict: check.verdict,
    mend: check.mend,
    square: check.square,
    effect: check.effect,
  });
  expect(check.square).toBe(check.verdict === 'square' ? true : check.verdict === 'not-square' ? false : null);
  // What is not known is null in every place, and nowhere a number.
  const nulls = [
    document.shape,
    document.outOfSquareMm,
    document.outOfSquareDeg,
    document.effect,
    document.quadrilateral,
  ];
  const known = check.shape !== null;
  for (const one of [...nulls, document.holesMm, document.drift, document.driftProved])
    expect(one !== null).toBe(known);
  if (!known) {
    expect([document.repunch, document.extra, drift]).toEqual([[], [], null]);
    expect(codes.filter((code) => /^(drift|square-(shape|lean|size|proved|diagonals|extra))/.test(code))).toEqual([]);
    expect(lines.some((line) => /^stepped dot on dot/.test(line))).toBe(false);
  }
  // What is to be done.
  expect(lines[1]).toMatch(/^to do: /);
  expect(lines[1] === 'to do: nothing to mend').toBe(check.mend === 'nothing');
  if (check.mend === 'nothing') expect(mustMend(findings)).toBe(false);
  else if (check.mend !== 'measure-rest') expect(mustMend(findings)).toBe(true);
  expect(check.repunch.length > 0).toBe(check.mend === 'punch-again');
  expect(/Punch again/.test(said)).toBe(check.repunch.length > 0);
  expect(document.repunch).toHaveLength(check.repunch.length);
  expect(has('square-proved')).toBe(check.verdict === 'square');
  expect(has('square-lean')).toBe(check.effect === 'leans');
  if (known) expect(has('square-sides', 'fix') && check.mend !== 'measure-again').toBe(check.effect === 'misjoins');
  if (check.verdict === 'square') {
    expect(document).toMatchObject({ shape: 'rectangle', effect: 'steps', outOfSquareLeastMm: 0 });
    expect(codes).not.toContain('drift-lean');
    expect(text).not.toMatch(/\bthe pattern leans\b|not square/);
  }
  if (check.verdict !== 'not-square') expect(text).not.toMatch(/: not square/);
  if (check.effect !== 'misjoins')
    expect(findings.some((f) => f.code.startsWith('drift') && f.severity === 'fix')).toBe(false);
  expect(text).not.toMatch(/joins are off by 0 mm/);
  if (check.shape === null) return;
  measures(check.shape, check.holes);
}

/** That the figures of a shape are those of its holes. */
function measures(shape: NonNullable<Result['check']['shape']>, at: Holes): void {
  const corners = [at.upperLeft, at.upperRight, at.lowerRight, at.lowerLeft];
  const angle = (p: Point, q: Point, r: Point): number => {
    const [ux, uy, vx, vy] = [p.x - q.x, p.y - q.y, r.x - q.x, r.y - q.y];
    return (Math.acos((ux * vx + uy * vy) / Math.hypot(ux, uy) / Math.hypot(vx, vy)) * 180) / Math.PI;
  };
  const off = corners.map((q, k) => Math.abs(90 - angle(corners[(k + 3) % 4], q, corners[(k + 1) % 4])));
  expect(shape.outOfSquareDeg).toBeCloseTo(Math.max(...off), 5);
  const d = distancesOf(at);
  const sides = d.top ** 2 + d.right ** 2 + d.bottom ** 2 + d.left ** 2;
  const midpoints = Math.hypot(
    (at.upperLeft.x + at.lowerRight.x - at.upperRight.x - at.lowerLeft.x) / 2,
    (at.upperLeft.y + at.lowerRight.y - at.upperRight.y - at.lowerLeft.y) / 2,
  );
  expect((d.falling ** 2 + d.rising ** 2 + 4 * midpoints ** 2) / sides).toBeCloseTo(1, 9);
  expect(shape.outOfSquareLeastMm === 0).toBe(shape.kind === 'rectangle');
  expect(shape.outOfSquareLeastMm).toBeLessThanOrEqual(shape.outOfSquareMm);
  expect(shape.outOfSquareMostMm).toBeGreaterThanOrEqual(shape.outOfSquareMm);
}

/** Too near to a limit for a judgement made by other means. */
const NEAR = { low: 0.9, high: 1.1 } as const;

/** That the verdict is the one of an independent judgement, where that is clear. */
function isRight(read: Read, verdict: SquareVerdict): void {
  const toRectangle = errorsToRectangle(read);
  if (Object.keys(read.measured).length < 6) {
    if (toRectangle < NEAR.low) expect(verdict).toBe('not-enough');
    if (toRectangle > NEAR.high) expect(verdict).toBe('not-square');
    return;
  }
  if (verdict === 'out-of-order') return;
  const toFlat = errorsToFlat(read);
  const says = verdict === 'misreading' || verdict === 'not-flat';
  if (toFlat < NEAR.low) expect(says, `${toFlat} errors from flat`).toBe(false);
  if (toFlat > NEAR.high) expect(says, `${toFlat} errors from flat`).toBe(true);
  if (says || toFlat > NEAR.low) return;
  if (toRectangle < NEAR.low) expect(['square', 'unsettled']).toContain(verdict);
  if (toRectangle > NEAR.high) expect(verdict).toBe('not-square');
}

const sheet = squareSheet(ran({ cloth: { width: '700mm', length: '1m' } }));
const jobs: readonly JudgeSquareOptions[] = [{}, { sheet }, { sheet, measuredWhen: 'wet' }];

/** Judges readings; null where they are refused, which they must be exactly if a triangle stays open. */
function verdictOf(read: Read, options: JudgeSquareOptions): SquareVerdict | null {
  if (opensTriangle(read)) {
    expect(() => judged(read, options)).toThrow(InputError);
    return null;
  }
  const result = judged(read, options);
  agrees(result);
  isRight(read, result.check.verdict);
  // Held turned by a quarter is for the job to say: none of these sheets is the job's, but by chance.
  return result.check.order.turned ? null : result.check.verdict;
}

describe('one verdict', () => {
  it.each<[string, fc.Arbitrary<Read>, readonly SquareVerdict[] | null]>([
    ['rectangles', readings(of(rectangles)), ['square', 'unsettled']],
    ['parallelograms', readings(of(parallelograms)), ['square', 'unsettled', 'not-square']],
    ['trapezoids', readings(of(trapezoids)), ['square', 'unsettled', 'not-square']],
    ['quadrilaterals', readings(of(quads)), ['square', 'unsettled', 'not-square']],
    ['sheets with names exchanged', readings(misnamed, 0.5), ['out-of-order']],
    ['sheets with both diagonals wrong', readings(impossible), null],
    ['sheets with one reading wrong', readings(oneWrong), null],
    ['sheets read in part', missing, ['not-enough', 'not-square']],
  ])('is in all that is said, and is right: %s', (_, reads, expected) => {
    const seen = new Map<SquareVerdict | null, number>();
    fc.assert(
      fc.property(reads, fc.constantFrom(...jobs), (read, options) => {
        const verdict = verdictOf(read, options);
        if (expected !== null && verdict !== null) expect(expected).toContain(verdict);
        seen.set(verdict, (seen.get(verdict) ?? 0) + 1);
      }),
      { numRuns: 60 },
    );
    expect([...seen.keys()].filter((one) => one !== null).length).toBeGreaterThan(0);
  });

  it.each<[string, Measured, SquareVerdict]>([
    // 180 × 220 mm, diagonals 2 mm apart: (285.25² − 283.25²) / (4 · 180) = 1.58 mm of lean (parallelogram law).
    ['leans', six(180, 220, 180, 220, 285.25, 283.25), 'not-square'],
    ['is misnamed', six(24, 30, 24, 30, 18, 18, 25.4), 'out-of-order'],
    ['is a disphenoid', six(24, 18, 24, 18, 29, 29, 25.4), 'not-flat'],
    ['is nothing in space', six(24, 18, 24, 18, 31, 31, 25.4), 'misreading'],
    ['has equal diagonals', six(24, 18, 23.875, 18, 29.949958, 29.949958, 25.4), 'not-square'],
    ['may be square or not', six(600, 450, 599.3, 450, 749.72, 749.72), 'unsettled'],
    ['is square', six(600, 450, 600, 450, 750, 750), 'square'],
    ['is half measured', { top: [600], right: [450] }, 'not-enough'],
    ['is half measured and wrong', { top: [600], bottom: [590] }, 'not-square'],
  ])('of a sheet that %s', (_, measured, verdict) => {
    const result = judged({ measured, errorMm: 0.5 });
    agrees(result);
    expect(result.check.verdict).toBe(verdict);
  });

  it('of a sheet that leans says so in the headline, has it mended, and has no join off by 0 mm', () => {
    const { text, document, findings } = judged({ measured: six(180, 220, 180, 220, 285.25, 283.25), errorMm: 0.5 });
    const [headline, todo, stepped] = text.split('\n');
    expect(headline).toBe('sheet: not square: it leans by 1.58 mm, 7.2 mm a metre');
    expect(todo).toBe('to do: punch 2 holes again');
    expect(stepped).toContain('every join meets, and the pattern leans with the holes, by 14.2 mm');
    expect(document).toMatchObject({ shape: 'parallelogram', effect: 'leans', mend: 'punch-again' });
    expect(mustMend(findings)).toBe(true);
  });
});

function six(
  top: number,
  right: number,
  bottom: number,
  left: number,
  falling: number,
  rising: number,
  unit = 1,
): Measured {
  const all = { top, right, bottom, left, falling, rising };
  return Object.fromEntries(Object.entries(all).map(([span, value]) => [span, [value * unit]]));
}
