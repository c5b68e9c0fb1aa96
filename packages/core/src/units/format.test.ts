import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MM_PER_INCH } from './constants.js';
import { bothRulers, bothRulersWithError, exactInches, formatMm, inchFigure, nearestInches } from './format.js';

describe('formatMm', () => {
  it.each([
    [250, '250 mm'],
    [190.5, '190.5 mm'],
    [0.333333, '0.33 mm'],
    [-0.001, '0 mm'],
    [-1.5, '-1.5 mm'],
  ])('%d', (mm, text) => {
    expect(formatMm(mm)).toBe(text);
  });

  it('keeps as many decimals as asked', () => {
    expect(formatMm(1.23456, 3)).toBe('1.235 mm');
  });
});

describe('nearestInches', () => {
  // Worked out by long division apart from this code (inch = 25.4 mm, 24 FR 5348).
  it.each([
    [36.055513, '36 1/16'],
    [43.266615, '43 17/64'],
    [27.202941, '27 13/64'],
    [12.345, '12 11/32'],
    [0.3, '19/64'],
    [360 / 25.4, '14 11/64'],
    [28.354894, '28 23/64'],
    [5.9999, '6'],
    [0.001, '0'],
    [0.999, '1'],
  ])('%d in to the nearest 1/64', (inches, text) => {
    expect(nearestInches(inches * MM_PER_INCH, 64).text).toBe(text);
  });

  it('tells what is lost', () => {
    const { text, mm, errorMm } = nearestInches(360, 64);
    expect(text).toBe('14 11/64');
    expect(mm).toBeCloseTo(359.965625, 9);
    expect(errorMm).toBeCloseTo(-0.034375, 9);
  });

  it('rounds to 1/32 by default of the measures, below zero too', () => {
    expect(nearestInches(500, 32).text).toBe('19 11/16');
    expect(nearestInches(-500, 32).text).toBe('-19 11/16');
    expect(nearestInches(-0.01, 32).text).toBe('0');
  });

  it('is never off by more than half a part, and its text says what its mm say', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -5000, max: 5000, noNaN: true }),
        fc.constantFrom(1, 2, 8, 16, 32, 64),
        (mm, denominator) => {
          const found = nearestInches(mm, denominator);
          expect(Math.abs(found.errorMm)).toBeLessThanOrEqual(MM_PER_INCH / denominator / 2 + 1e-9);
          const [, sign, whole, over, under] = /^(-?)(?:(\d+)(?: |$))?(?:(\d+)\/(\d+))?$/.exec(found.text) ?? [];
          const value = Number(whole ?? 0) + (under === undefined ? 0 : Number(over) / Number(under));
          expect((sign === '-' ? -1 : 1) * value * MM_PER_INCH).toBeCloseTo(found.mm, 9);
          if (under !== undefined) expect(Number(over) % 2).toBe(1);
        },
      ),
    );
  });

  it('takes a length halfway between two marks for the longer one, however it was worked out', () => {
    // A 128th of an inch is 0.1984375 mm (worked out apart from this code).
    for (const mm of [0.1984375, 0.1984375 - 1e-13, 0.1984375 + 1e-13]) expect(nearestInches(mm, 64).text).toBe('1/64');
  });

  it('refuses what is no ruler', () => {
    expect(() => nearestInches(1, 0)).toThrow(RangeError);
    expect(() => nearestInches(Number.NaN, 32)).toThrow(RangeError);
  });
});

describe('inchFigure', () => {
  // Parts of an inch in mm, and lengths to the nearest 1/64 in with the fraction reduced: worked out apart from this code (inch = 25.4 mm, 24 FR 5348).
  it.each([
    [0.396875, '1/64'],
    [0.79375, '1/32'],
    [1.5875, '1/16'],
    [3.175, '1/8'],
    [9.525, '3/8'],
    [12.7, '1/2'],
    [360, '14 11/64'],
    [1890, '74 13/32'],
    // Diagonals of 20 × 30, 24 × 36 and 16 × 22 in.
    [36.055513 * 25.4, '36 1/16'],
    [43.266615 * 25.4, '43 17/64'],
    [27.202941 * 25.4, '27 13/64'],
    [28.354894 * 25.4, '28 23/64'],
  ])('%d mm', (mm, text) => {
    expect(inchFigure(mm).text).toBe(text);
  });

  it('loses half a 1/64 in at most, and says it', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.2, max: 100_000, noNaN: true }), (mm) => {
        const { text, errorMm } = inchFigure(mm);
        // 1/128 in is 0.1984375 mm (worked out apart from this code).
        expect(Math.abs(errorMm)).toBeLessThanOrEqual(0.1984375 + 1e-8);
        const [, sign, off] = / in(?: ([+−])([\d.]+))?\)$/.exec(bothRulersWithError(mm)) ?? [];
        expect((off === undefined ? 0 : Number(off)) * (sign === '−' ? -1 : 1)).toBeCloseTo(errorMm, 2);
        expect(bothRulers(mm)).toContain(`(${text} in)`);
      }),
    );
  });

  it.each([
    [1890, '1890 mm (74 13/32 in −0.08)', '74 13/32 in plus 0.08 mm'],
    [1600.2, '1600.2 mm (63 in)', '63 in'],
    [180, '180 mm (7 3/32 in +0.18)', '7 3/32 in less 0.18 mm'],
  ])('%d mm with what it loses', (mm, both, exact) => {
    expect(bothRulersWithError(mm)).toBe(both);
    expect(exactInches(mm)).toBe(exact);
    // 8 17/64 in are 209.95 mm: shorter, to whichever side of zero they are measured.
    expect(bothRulersWithError(210)).toBe('210 mm (8 17/64 in −0.05)');
    expect(bothRulersWithError(-210)).toBe('-210 mm (-8 17/64 in −0.05)');
  });
});
