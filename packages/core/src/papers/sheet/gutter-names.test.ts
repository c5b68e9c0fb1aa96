import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { labelFont } from '../../draw/label-font.test-help.js';
import { gutterNames, spread } from './gutter-names.js';

const rising = fc
  .array(fc.double({ min: 0, max: 100, noNaN: true }), { minLength: 1, maxLength: 20 })
  .map((list) => list.sort((a, b) => a - b));

describe('spread', () => {
  it('keeps the order and the distance, and stays within the gutter where there is room', () => {
    fc.assert(
      fc.property(rising, (wanted) => {
        const seats = spread(wanted, { step: 4, low: 0, high: 100 });
        seats.forEach((s, k) => {
          if (k > 0) expect(s - seats[k - 1]).toBeGreaterThanOrEqual(4 - 1e-9);
          expect(s).toBeGreaterThanOrEqual(-1e-9);
          expect(s).toBeLessThanOrEqual(100 + 1e-9);
        });
      }),
    );
  });

  it('leaves alone what stands apart, and moves as little as can be (least squares, Ayer and others, 1955)', () => {
    expect(spread([10, 30, 50], { step: 4, low: 0, high: 100 })).toEqual([10, 30, 50]);
    // Two that want one place part evenly; a third is drawn in: the mean of 10, 6 and 4 is 20/3.
    expect(spread([10, 10], { step: 4, low: 0, high: 100 })).toEqual([8, 12]);
    const [a] = spread([10, 10, 12], { step: 4, low: 0, high: 100 });
    expect(a).toBeCloseTo(20 / 3, 9);
  });

  it('is never farther from the wanted places than any other seats of the same distance', () => {
    const far = (a: readonly number[], b: readonly number[]) => a.reduce((sum, v, k) => sum + (v - b[k]) ** 2, 0);
    const tries = fc.array(fc.double({ min: 0, max: 30, noNaN: true }), { minLength: 20, maxLength: 20 });
    fc.assert(
      fc.property(rising, tries, fc.double({ min: -50, max: 100, noNaN: true }), (wanted, gaps, from) => {
        const other = wanted.map((_, k) => from + gaps.slice(0, k).reduce((sum, gap) => sum + 4 + gap, 0));
        const own = spread(wanted, { step: 4, low: -1e6, high: 1e6 });
        expect(far(own, wanted)).toBeLessThanOrEqual(far(other, wanted) + 1e-6);
      }),
    );
  });
});

describe('gutterNames', () => {
  it('writes every name in its gutter, upright beside a picture and upward below it', () => {
    const places = [
      { name: 'X2', at: { x: 10, y: 22 } },
      { name: 'X1', at: { x: 10, y: 20 } },
    ];
    const font = labelFont();
    const names = (side: 'right' | 'bottom') => {
      const box = side === 'right' ? { x0: 30, y0: 0, x1: 43, y1: 60 } : { x0: 0, y0: 30, x1: 60, y1: 43 };
      return gutterNames(places, { box, side }, { font, aroundMm: 0.5 }).flatMap((i) => (i.kind === 'text' ? [i] : []));
    };
    expect(names('right').map(({ text, turn }) => [text, turn])).toEqual([
      ['X1', undefined],
      ['X2', undefined],
    ]);
    for (const { x } of names('right')) expect(x).toBeGreaterThan(30);
    expect(names('bottom').map(({ turn }) => turn)).toEqual([-90, -90]);
    expect(gutterNames([], { box: { x0: 0, y0: 0, x1: 1, y1: 1 }, side: 'left' }, { font, aroundMm: 0 })).toEqual([]);
  });
});
