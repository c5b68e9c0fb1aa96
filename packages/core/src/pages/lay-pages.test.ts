import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { apply } from '../geometry/matrix.js';
import { InputError } from '../units/input-error.js';
import { findPaper } from '../units/paper-sizes.js';
import { coverCheck } from './cover-check.js';
import { type LayPagesOptions, layPages, MAX_PAGES } from './lay-pages.js';
import { pageName } from './page-name.js';

const a4: LayPagesOptions = { paper: findPaper('A4'), marginMm: 6.35, overlapMm: 10 };
const count = (plan: { columns: number; rows: number }) => `${plan.columns}x${plan.rows}`;

describe('pageName', () => {
  it('counts in reading order', () => {
    expect([0, 1, 25, 399].map(pageName)).toEqual(['P1', 'P2', 'P26', 'P400']);
    const { pages } = layPages({ widthMm: 300, heightMm: 420 }, a4);
    expect(pages.map(({ name, row, column }) => [name, row, column])).toEqual([
      ['P1', 0, 0],
      ['P2', 0, 1],
      ['P3', 1, 0],
      ['P4', 1, 1],
    ]);
  });
});

describe('layPages', () => {
  // Worked by hand from ceil((L − o)/(p − o)): common practice, no published source.
  it('counts pages as worked out by hand', () => {
    const sheet = { widthMm: 600, heightMm: 450 };
    expect(count(layPages(sheet, { ...a4, orientation: 'portrait' }))).toBe('4x2');
    expect(count(layPages(sheet, { ...a4, orientation: 'landscape' }))).toBe('3x3');
    expect(layPages(sheet, a4).orientation).toBe('portrait');
    const letter = { paper: findPaper('Letter'), marginMm: 6.35, overlapMm: 12.7 };
    const inches = { widthMm: 24 * 25.4, heightMm: 18 * 25.4 };
    expect(count(layPages(inches, { ...letter, orientation: 'portrait' }))).toBe('4x2');
    expect(count(layPages(inches, { ...letter, orientation: 'landscape' }))).toBe('3x3');
  });

  it('lays the paper the other way where that takes fewer pages', () => {
    const plan = layPages({ widthMm: 284, heightMm: 197 }, a4);
    expect([plan.orientation, plan.rows, plan.columns]).toEqual(['landscape', 1, 1]);
    expect(plan.paper).toEqual({ widthMm: 297, heightMm: 210 });
  });

  it('needs one page for what fits exactly, and two for what does not', () => {
    const fits = { widthMm: 210 - 2 * 6.35, heightMm: 297 - 2 * 6.35 };
    expect(count(layPages(fits, a4))).toBe('1x1');
    expect(count(layPages({ ...fits, widthMm: fits.widthMm + 0.01 }, { ...a4, orientation: 'portrait' }))).toBe('2x1');
  });

  it('keeps the strip free', () => {
    const plan = layPages({ widthMm: 600, heightMm: 450 }, { ...a4, strip: { leftMm: 10, bottomMm: 24 } });
    expect(plan.contentMm.x0).toBeCloseTo(16.35, 9);
    expect(plan.contentMm.y1).toBeLessThanOrEqual(plan.paper.heightMm - 6.35 - 24 + 1e-9);
  });

  it('does not turn the paper for a printer correction', () => {
    const sheet = { widthMm: 197.3, heightMm: 284.3 };
    const plan = layPages(sheet, { ...a4, scaleAcross: 1.01, scaleAlong: 1.01 });
    expect(plan.orientation).toBe(layPages(sheet, a4).orientation);
  });

  it('covers every drawing, overlaps exactly, stays within the margins, and takes the fewest pages', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 20, max: 1500, noNaN: true }),
        fc.double({ min: 20, max: 1500, noNaN: true }),
        fc.constantFrom('A4', 'Letter', 'A3', '329mm x 483mm'),
        fc.double({ min: 0, max: 15, noNaN: true }),
        fc.double({ min: 0, max: 20, noNaN: true }),
        fc.double({ min: 0.97, max: 1.03, noNaN: true }),
        fc.double({ min: 0.97, max: 1.03, noNaN: true }),
        (widthMm, heightMm, paper, marginMm, overlapMm, scaleAcross, scaleAlong) => {
          const strip = { leftMm: 10, bottomMm: 24 };
          const options = { paper: findPaper(paper), marginMm, overlapMm, strip, scaleAcross, scaleAlong };
          const plan = layPages({ widthMm, heightMm }, options);
          const check = coverCheck(plan);
          expect(check.complete).toBe(true);
          expect(check.gapMm).toBeLessThan(1e-9);
          expect(check.overlapErrorMm).toBeLessThan(1e-9);
          expect(check.placeErrorMm).toBeLessThan(1e-9);
          expect(plan.contentMm.x1).toBeLessThanOrEqual(plan.paper.widthMm - marginMm + 1e-6);
          expect(plan.contentMm.y1).toBeLessThanOrEqual(plan.paper.heightMm - marginMm - 24 + 1e-6);
          const sizes = (['portrait', 'landscape'] as const).map((orientation) => {
            const one = layPages({ widthMm, heightMm }, { ...options, scaleAcross: 1, scaleAlong: 1, orientation });
            return { orientation, pages: one.pages.length };
          });
          const fewest = Math.min(...sizes.map(({ pages }) => pages));
          expect(sizes.find(({ orientation }) => orientation === plan.orientation)?.pages).toBe(fewest);
          // A shared point is shown by both neighbours, at the same true place.
          for (const page of plan.pages) {
            const p = apply(page.toPage, { x: page.windowMm.x1, y: page.windowMm.y0 });
            expect((p.x - plan.contentMm.x0) / scaleAcross).toBeCloseTo(page.windowMm.x1 - page.windowMm.x0, 6);
          }
        },
      ),
      { numRuns: 60 },
    );
  });

  it.each([
    [{ ...a4, marginMm: 105 }, /leaves no room/],
    [{ ...a4, overlapMm: 190 }, /leaves no room/],
    [{ ...a4, strip: { leftMm: 200, bottomMm: 0 } }, /leaves no room/],
    [{ ...a4, marginMm: -1 }, /margin -1 mm/],
    [{ ...a4, overlapMm: Number.NaN }, /overlap NaN/],
    [{ ...a4, scaleAcross: 0 }, /scaleAcross 0/],
  ])('refuses %#', (options, message) => {
    const lay = () => layPages({ widthMm: 600, heightMm: 450 }, { ...options, orientation: 'portrait' });
    expect(lay).toThrow(InputError);
    expect(lay).toThrow(message);
  });

  it('refuses more pages than anybody joins', () => {
    expect(() => layPages({ widthMm: 9000, heightMm: 9000 }, a4)).toThrow(new RegExp(`${MAX_PAGES} are the most`));
    expect(() => layPages({ widthMm: 0, heightMm: 10 }, a4)).toThrow(InputError);
  });
});

describe('coverCheck', () => {
  const plan = layPages({ widthMm: 600, heightMm: 450 }, a4);

  it('finds a page that is missing', () => {
    expect(coverCheck({ ...plan, pages: plan.pages.slice(1) }).complete).toBe(false);
  });

  it('finds a window that was moved', () => {
    const pages = plan.pages.map((page, k) => {
      const { x0, y0, x1, y1 } = page.windowMm;
      return k === 1 ? { ...page, windowMm: { x0: x0 + 11, y0, x1: x1 + 11, y1 } } : page;
    });
    const check = coverCheck({ ...plan, pages });
    expect(check.complete).toBe(false);
    expect(check.gapMm).toBeCloseTo(1, 9);
    expect(check.overlapErrorMm).toBeCloseTo(11, 9);
    expect(check.placeErrorMm).toBeCloseTo(11, 9);
  });
});
