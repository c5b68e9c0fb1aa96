import { describe, expect, it } from 'vitest';
import { mustMend } from '../motif/finding.js';
import type { Measured } from '../register/types.js';
import { punchDocument, squareDocument } from '../reports/square-document.js';
import { punchReport, squareReport } from '../reports/square-report.js';
import { ran } from './leaf-job.test-help.js';
import { type JudgeSquareOptions, judgeSquare, squarePunchOrder, squareSheet } from './square.js';

// The unit is 120 × 90 mm: its diagonal is 150 mm (3-4-5).
const SQUARE: Measured = { top: [120], right: [90], bottom: [120], left: [90], falling: [150], rising: [150] };
/** An isosceles trapezoid: its diagonals agree too, by Ptolemy √(legs² + top · bottom) (Ptolemy, Almagest I.10). */
const LEG = Math.hypot(89, 2);
const CROSS = Math.hypot(118, 89);
const TRAPEZOID: Measured = { top: [120], right: [LEG], bottom: [116], left: [LEG], falling: [CROSS], rising: [CROSS] };

const sheetOf = (keys: object = {}) => squareSheet(ran(keys));
const half = { repeat: 'half-drop' };

describe('squareSheet', () => {
  it('has the size from hole to hole, the letters of the corners and the dots between them', () => {
    const sheet = sheetOf(half);
    expect(sheet.targets).toEqual({ widthMm: 120, heightMm: 90 });
    expect(sheet.names).toEqual({ upperLeft: 'A', upperRight: 'B', lowerRight: 'D', lowerLeft: 'E' });
    expect(sheet.extra).toEqual([
      { name: 'C', at: { x: 120, y: 45 } },
      { name: 'F', at: { x: 0, y: 45 } },
    ]);
    expect(sheet.steps.map(({ to }) => to)).toEqual(['right', 'bottom']);
    expect(sheet.placements).toEqual({ down: 23, across: 17 });
  });

  it('takes the distances of dots in the selvedges, and one step only', () => {
    const sheet = sheetOf({ sheet: { seat: true }, cloth: { width: '120mm', length: '900mm' } });
    expect(sheet.targets).toEqual({ widthMm: 130, heightMm: 90 });
    expect(sheet.steps.map(({ to }) => to)).toEqual(['bottom']);
    expect(sheet.placements).toEqual({ down: 10, across: 1 });
  });
});

describe('without measurements', () => {
  it('punches dry what is right when it is soaked, and wet what is right as it is', () => {
    const keys = { movement: { along: 0.5, across: 2 }, grain: 'upright' };
    const [dry, wet] = [sheetOf(keys), sheetOf({ ...keys, punch: 'wet' })].map((sheet) => squarePunchOrder(sheet));
    expect(dry.steps[1].distances[0].mm).toBeCloseTo(120 / 1.02, 9);
    expect(dry.steps[1].distances[0].asPrintedMm).toBe(120);
    expect(wet.steps[1].distances[0].mm).toBe(120);
  });

  it('tells in words and as data what to punch and to measure', () => {
    const sheet = sheetOf(half);
    const order = squarePunchOrder(sheet, 32);
    const report = punchReport(sheet, order, { ruler: 'both' });
    expect(report).toContain('120 × 90 mm from hole to hole');
    expect(report).toMatch(/--falling +falling diagonal, A–D: 150 mm or 5 29\/32 in/);
    expect(report).toMatch(/--extra A-F=… {2}dot F: 45 mm/);
    expect(report).toContain('to the right: A comes to where C was, F comes to where D was');
    expect(report).toContain('0.3 %');
    expect(punchReport(sheet, order, { ruler: 'mm' })).not.toMatch(/\d in\b/);
    const document = punchDocument(sheet, order);
    expect(document.order.map(({ hole }) => hole)).toEqual([
      'upperLeft',
      'upperRight',
      'lowerLeft',
      'lowerRight',
      'C',
      'F',
    ]);
    expect(document.targets).toMatchObject({ widthMm: 120, heightMm: 90, falling: 150, rising: 150 });
    expect(document.rulerParts).toBe(32);
  });
});

describe('with measurements', () => {
  const judged = (measured: Measured, options: JudgeSquareOptions = {}) => {
    const result = judgeSquare(measured, options);
    const document = squareDocument(result, options.sheet ?? null);
    return { ...result, document, text: squareReport(result, options.sheet ?? null) };
  };

  it('finds a true sheet square and without drift', () => {
    const { document, findings, text } = judged(SQUARE, { sheet: sheetOf() });
    expect(document).toMatchObject({ flat: true, shape: 'rectangle', square: true, suspect: null, repunch: [] });
    expect(document.outOfSquareMm).toBe(0);
    expect(document.drift?.worst?.mm).toBeLessThan(1e-9);
    expect(mustMend(findings)).toBe(false);
    expect(text).toContain('square within the error of reading');
  });

  it('is not fooled by equal diagonals, and says which holes to punch again', () => {
    const sheet = sheetOf();
    const { document, findings } = judged(TRAPEZOID, { sheet, readingErrorMm: 0.1 });
    expect(document).toMatchObject({ flat: true, shape: 'trapezoid', square: false, effect: 'misjoins' });
    expect(document.repunch.length).toBe(2);
    for (const { fromMm, dot } of document.repunch) {
      expect(fromMm).toHaveLength(2);
      expect(Object.values(sheet.names)).toContain(dot);
    }
    expect(document.drift?.alongLine?.turnDeg).toBe(0);
    expect(Math.abs(document.drift?.lineToLine?.turnDeg ?? 0)).toBeGreaterThan(1);
    expect(mustMend(findings)).toBe(true);
  });

  it('tells a buckled sheet or a misreading (24, 18, 24, 18 in with diagonals 29, 29 in), and no drift', () => {
    const [long, short, across] = [24, 18, 29].map((inches) => [25.4 * inches]);
    const { document, text } = judged({
      top: long,
      right: short,
      bottom: long,
      left: short,
      falling: across,
      rising: across,
    });
    expect(document).toMatchObject({ flat: false, square: null, drift: null });
    expect(text).toContain('the readings can not all be right');
  });

  it('names the reading that is a whole inch off', () => {
    const { document } = judged({ ...SQUARE, right: [115.4] }, { sheet: sheetOf() });
    expect(document).toMatchObject({ flat: false, suspect: 'right' });
  });

  it('judges dry readings by dry measures, and soaked ones by those of the print', () => {
    const sheet = sheetOf({ movement: { along: 2, across: 2 } });
    const dry = Object.fromEntries(Object.entries(SQUARE).map(([span, [mm]]) => [span, [mm / 1.02]]));
    const codes = (measured: Measured, measuredWhen: 'dry' | 'wet') =>
      judged(measured, { sheet, measuredWhen }).findings.map(({ code }) => code);
    expect(codes(dry, 'dry')).not.toContain('square-size');
    expect(codes(SQUARE, 'wet')).not.toContain('square-size');
    expect(codes(dry, 'wet')).toContain('square-size');
    // The sheet punches dry, so that is what is taken.
    const { document } = judged(dry, { sheet });
    expect(document.measuredWhen).toBe('dry');
    expect(document.targets?.widthMm).toBeCloseTo(120 / 1.02, 3);
    // Soaked it steps by the job's measures.
    expect(document.drift?.alongLine?.growthMm).toBeCloseTo(0, 6);
  });

  it('takes the size of a soaked sheet for its paper’s movement where nobody measured that', () => {
    const grown = Object.fromEntries(Object.entries(SQUARE).map(([span, [mm]]) => [span, [mm * 1.03]]));
    const sheet = sheetOf();
    const soaked = judged(grown, { sheet, measuredWhen: 'wet' });
    expect(soaked.document).toMatchObject({ verdict: 'square', mend: 'nothing', sizes: 'free' });
    const [moved] = soaked.findings.filter(({ code }) => code === 'square-moved');
    expect(moved.severity).toBe('note');
    expect(moved.message).toContain('3.6 mm (3 %) wider and 2.7 mm (3 %) higher');
    // Dry it should have been the plan's, and no paper grows by a fifth.
    expect(judged(grown, { sheet }).findings.map(({ code }) => code)).toContain('square-size');
    const other = Object.fromEntries(Object.entries(SQUARE).map(([span, [mm]]) => [span, [mm * 1.2]]));
    const codes = judged(other, { sheet, measuredWhen: 'wet' }).findings.map(({ code }) => code);
    expect(codes).toContain('square-size');
    expect(codes).not.toContain('square-moved');
  });

  it('judges the dots between the corners, which a half-drop lands on', () => {
    const sheet = sheetOf(half);
    const far = Math.hypot(120, 45);
    const extra = [
      { dots: ['A', 'C'], readingsMm: [far] },
      { dots: ['E', 'C'], readingsMm: [far] },
      { dots: ['F', 'B'], readingsMm: [far] },
      { dots: ['F', 'D'], readingsMm: [far] },
    ] as const;
    const { document } = judged(SQUARE, { sheet, extra });
    expect(document.extra.map(({ name, ok }) => [name, ok])).toEqual([
      ['C', true],
      ['F', true],
    ]);
    expect(document.drift?.assumedDots).toEqual([]);
    expect(judged(SQUARE, { sheet }).document.drift?.assumedDots).toEqual(['C', 'F']);
    const moved = judged(SQUARE, {
      sheet,
      extra: [
        { dots: ['A', 'C'], readingsMm: [Math.hypot(120, 48)] },
        { dots: ['E', 'C'], readingsMm: [Math.hypot(120, 42)] },
      ],
    });
    expect(moved.document.repunch.map(({ hole, dot }) => [hole, dot])).toEqual([['C', 'C']]);
    expect(mustMend(moved.findings)).toBe(true);
  });

  it.each([
    [{ dots: ['A', 'X'], readingsMm: [5] }, /no dot "X"/],
    [{ dots: ['A', 'B'], readingsMm: [5] }, /A-B does not run from a corner/],
    [{ dots: ['C', 'F'], readingsMm: [5] }, /C-F does not run from a corner/],
  ] as const)('refuses %j', (one, message) => {
    expect(() => judgeSquare(SQUARE, { sheet: sheetOf(half), extra: [one] })).toThrow(message);
  });

  it('refuses dots where the sheet has none, and where there is no job', () => {
    const extra = [{ dots: ['A', 'F'], readingsMm: [5] }] as const;
    expect(() => judgeSquare(SQUARE, { sheet: sheetOf(), extra })).toThrow(/no dots between its corners/);
    expect(() => judgeSquare(SQUARE, { extra })).toThrow(/name the job/);
  });

  it('only looks at drift that the readings do not prove', () => {
    // Half a millimetre is within the error of two readings.
    const { findings, document } = judged({ ...SQUARE, right: [90.4] }, { sheet: sheetOf() });
    expect(document.square).toBe(true);
    expect(document.drift?.firstOver).not.toBeNull();
    expect(mustMend(findings)).toBe(false);
    const [one] = findings.filter(({ code }) => code === 'drift-joins');
    expect(one).toMatchObject({ severity: 'look' });
    expect(one.message).toContain('if the readings were exact');
  });
});
