import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeLattice } from '../repeat/lattice.js';
import type { Repeat } from '../repeat/types.js';
import { planPanels } from './panels.js';

const STRAIGHT: Repeat = { kind: 'straight', step: { p: 0, q: 1 } };
const HALF_DROP: Repeat = { kind: 'drop', step: { p: 1, q: 2 } };

function panels(repeat: Repeat, [w, h]: readonly [number, number], width: number, count: number, finishedMm: number) {
  return planPanels(
    makeLattice(repeat, w, h),
    { count, finishedMm },
    { usable: { x0: 0, y0: 0, x1: width, y1: 1e6 }, firstMm: 0, shrinkAlongPercent: 0 },
  );
}

describe('planPanels', () => {
  it.each([
    // "Figuring pattern repeats" (diyideas.com): 96 in at a repeat of 27 in: 12 in of each cut is waste.
    [96, 27, 12],
    // "Workroom Threads", August 2011: 116 in at 25 in: 9 in of waste on each cut.
    [116, 25, 9],
    // Curtain fabric instruction sheet (et-wholesale.com.au), in cm: 240 at 37 is cut at 259.
    [240, 37, 19],
  ])('%d long at a repeat of %d waste %d a cut', (length, repeat, waste) => {
    const plan = panels(STRAIGHT, [10, repeat], 50, 4, length);
    expect(plan.panels.map((p) => p.wasteMm)).toEqual([waste, waste, waste, 0]);
    expect(plan.neededMm).toBe(4 * length + 3 * waste);
    expect(plan.fits).toBe(true);
  });

  it('goes from panel to panel of a half-drop by half a repeat where a panel is an odd number of units wide', () => {
    // Starts at 0, 13.5, 0, … of the repeat of 27: after 96 comes 121.5 = 4.5 · 27, after 217.5 comes 243 = 9 · 27.
    const odd = panels(HALF_DROP, [10, 27], 35, 3, 96);
    expect(odd).toMatchObject({ columns: 3, trimmedMm: 5 });
    expect(odd.panels.map((p) => p.fromMm)).toEqual([0, 121.5, 243]);
    expect(panels(HALF_DROP, [10, 27], 40, 3, 96).panels.map((p) => p.fromMm)).toEqual([0, 108, 216]);
  });

  it('matches every panel with the next, and begins it as soon as it can', () => {
    const drop = fc.constantFrom<readonly [number, number]>([0, 1], [1, 2], [1, 3], [2, 3], [1, 4], [3, 5]);
    const mm = fc.integer({ min: 200, max: 3000 }).map((tenths) => tenths / 10);
    fc.assert(
      fc.property(drop, mm, fc.integer({ min: 1, max: 5 }), mm, ([p, q], h, columns, length) => {
        const repeat: Repeat = p === 0 ? STRAIGHT : { kind: 'drop', step: { p, q } };
        const plan = panels(repeat, [100, h], columns * 100 + 30, 6, length);
        expect(plan.columns).toBe(columns);
        plan.panels.forEach(({ fromMm, toMm, wasteMm }, k) => {
          // Column 0 of panel k stands where column k·c of the endless cloth does, which lies lower by k·c·f: so its start shows what is that much higher.
          const off = (fromMm + (k * columns * p * h) / q) / h;
          expect(Math.abs(off - Math.round(off))).toBeLessThan(1e-6);
          expect(toMm - fromMm).toBeCloseTo(length, 6);
          expect(wasteMm).toBeLessThan(h);
        });
      }),
    );
  });

  it('allows for shrinkage', () => {
    const plan = planPanels(
      makeLattice(STRAIGHT, 100, 300),
      { count: 2, finishedMm: 950 },
      { usable: { x0: 0, y0: 50, x1: 100, y1: 2100 }, firstMm: 50, shrinkAlongPercent: 5 },
    );
    expect(plan.lengthMm).toBeCloseTo(1000, 9);
    expect(plan.panels[1].fromMm).toBeCloseTo(1250, 9);
    expect(plan.fits).toBe(false);
  });

  it('brings a brick back only after all its rows, and a narrow cloth not at all', () => {
    const brick: Repeat = { kind: 'brick', step: { p: 1, q: 3 } };
    expect(panels(brick, [100, 50], 210, 2, 160)).toMatchObject({ repeatMm: 150, wasteMm: 140 });
    expect(panels(STRAIGHT, [100, 50], 90, 2, 160)).toMatchObject({ columns: 0, trimmedMm: 0 });
  });
});

describe('what panels need of a cloth', () => {
  const lattice = makeLattice(STRAIGHT, 10, 30);

  it('shrinks with it: they are cut longer on the table, and trimmed by what a whole field does not fill', () => {
    const usable = { x0: 12, y0: 40, x1: 47, y1: 1000 };
    const plan = planPanels(lattice, { count: 2, finishedMm: 96 }, { usable, firstMm: 40, shrinkAlongPercent: 4 });
    // 96 mm that lose 4 of 100 are 100 mm on the table; 35 mm of usable width hold three units of 10.
    expect(plan).toMatchObject({ lengthMm: 100, columns: 3, trimmedMm: 5, fits: true });
    expect(plan.panels[0]).toMatchObject({ fromMm: 40, toMm: 140 });
    expect(plan.neededMm).toBeCloseTo(plan.panels[1].toMm - 40, 9);
  });

  it('is said not to be there where the last panel ends past the usable cloth', () => {
    const fits = (y1: number) =>
      planPanels(
        lattice,
        { count: 2, finishedMm: 90 },
        { usable: { x0: 0, y0: 0, x1: 40, y1 }, firstMm: 0, shrinkAlongPercent: 0 },
      ).fits;
    expect([fits(180), fits(179)]).toEqual([true, false]);
  });
});
