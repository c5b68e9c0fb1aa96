import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boxArea } from '../geometry/boxes.js';
import type { Box } from '../geometry/types.js';
import { fractionalPart } from '../repeat/fraction.js';
import { makeLattice } from '../repeat/lattice.js';
import type { Lattice, Repeat } from '../repeat/types.js';
import { InputError } from '../units/input-error.js';
import { clothMasks } from './masks.js';
import { clothLeftover, firstField, type LaidPlacement, lateStart, layPlacements } from './placements.js';

const STRAIGHT: Repeat = { kind: 'straight', step: { p: 0, q: 1 } };
const HALF_DROP: Repeat = { kind: 'drop', step: { p: 1, q: 2 } };
const HALF_BRICK: Repeat = { kind: 'brick', step: { p: 1, q: 2 } };

function lay(
  lattice: Lattice,
  usable: Box,
  options: { fill?: 'cover' | 'whole'; start?: 'above' | 'in'; align?: 'left' | 'centre' } = {},
): LaidPlacement[] {
  const { fill = 'cover', start = 'above', align = 'left' } = options;
  return layPlacements(lattice, usable, { origin: firstField(lattice, usable, align), fill, start });
}

function cloth(widthMm: number, lengthMm: number): Box {
  return { x0: 0, y0: 0, x1: widthMm, y1: lengthMm };
}

describe('layPlacements', () => {
  // Counts worked out apart from this code.
  it.each([
    [STRAIGHT, [180, 240], [360, 12000], 100],
    [HALF_DROP, [180, 240], [360, 12000], 101],
    [HALF_BRICK, [180, 240], [360, 12000], 125],
    [STRAIGHT, [200, 300], [1118, 914.4], 24],
    [HALF_DROP, [200, 300], [1118, 914.4], 24],
    [HALF_BRICK, [200, 300], [1118, 914.4], 26],
  ] as const)('%j of %j on %j: %d placements', (repeat, [w, h], [width, length], count) => {
    expect(lay(makeLattice(repeat, w, h), cloth(width, length))).toHaveLength(count);
  });

  it('starts even columns of a half-drop half a placement above the cloth, or half a step in', () => {
    const lattice = makeLattice(HALF_DROP, 180, 240);
    const above = lay(lattice, cloth(360, 1200)).find((p) => p.id === 'c2r1');
    expect(above).toMatchObject({
      field: { x0: 180, y0: -120 },
      visible: { y0: 0, y1: 120 },
      share: 0.5,
      whole: false,
    });
    const inside = lay(lattice, cloth(360, 1200), { start: 'in' });
    expect(inside.find((p) => p.id === 'c2r1')).toMatchObject({ field: { x0: 180, y0: 120 }, whole: true });
    expect(lateStart(lattice, inside)).toEqual({ headWasteMm: 120, sideWasteMm: 0 });
    expect(clothLeftover(lattice, cloth(360, 1200), inside).plainMm2).toBeCloseTo(180 * 120, 6);
  });

  it('starts the rows of a brick beside the cloth, or in', () => {
    const lattice = makeLattice(HALF_BRICK, 100, 80);
    const inside = lay(lattice, cloth(300, 160), { start: 'in' });
    expect(inside.filter((p) => p.row === 2).map((p) => p.field.x0)).toEqual([50, 150, 250]);
    expect(lateStart(lattice, inside)).toEqual({ headWasteMm: 0, sideWasteMm: 50 });
  });

  it('leaves cut placements out when only whole ones are wanted', () => {
    const lattice = makeLattice(HALF_DROP, 200, 300);
    const whole = lay(lattice, cloth(1118, 914.4), { fill: 'whole' });
    // Five columns: three of three, and two that start half a step in with two.
    expect(whole.map((p) => p.id)).toHaveLength(3 * 3 + 2 * 2);
    expect(whole.every((p) => p.whole)).toBe(true);
    const left = clothLeftover(lattice, cloth(1118, 914.4), whole);
    expect(left.acrossMm).toBeCloseTo(118, 9);
    expect(left.alongMm).toBeCloseTo(14.4, 9);
  });

  it('puts whole columns in the middle when asked', () => {
    const lattice = makeLattice(STRAIGHT, 200, 300);
    const placements = lay(lattice, cloth(1118, 300), { align: 'centre' });
    expect(placements.map((p) => p.field.x0)).toEqual(
      [-141, 59, 259, 459, 659, 859, 1059].map((x) => expect.closeTo(x, 9)),
    );
    expect(placements.filter((p) => p.whole)).toHaveLength(5);
  });

  it('plans a cloth narrower than one placement', () => {
    const placements = lay(makeLattice(STRAIGHT, 400, 300), cloth(360, 600));
    expect(placements.map((p) => [p.id, p.share])).toEqual([
      ['c1r1', 0.9],
      ['c1r2', 0.9],
    ]);
  });

  it('refuses what nobody could print', () => {
    expect(() => lay(makeLattice(STRAIGHT, 1, 1), cloth(2000, 2000))).toThrow(InputError);
  });

  it('covers every bit of the cloth exactly once', () => {
    const repeats = fc
      .tuple(
        fc.constantFrom('straight', 'drop', 'brick'),
        fc.integer({ min: 0, max: 6 }),
        fc.integer({ min: 1, max: 7 }),
      )
      .map(([kind, p, q]): Repeat => {
        const step = fractionalPart({ p, q });
        return kind === 'straight' || step.p === 0 ? STRAIGHT : { kind: kind as 'drop' | 'brick', step };
      });
    const mm = fc.integer({ min: 400, max: 4000 }).map((tenths) => tenths / 10);
    fc.assert(
      fc.property(repeats, mm, mm, mm, mm, fc.constantFrom('left', 'centre'), (repeat, w, h, width, length, align) => {
        const lattice = makeLattice(repeat, w / 2, h / 2);
        const usable = { x0: 7, y0: 11, x1: 7 + width, y1: 11 + length };
        const placements = lay(lattice, usable, { align: align as 'left' | 'centre' });
        const area = placements.reduce((sum, p) => sum + boxArea(p.visible), 0);
        expect(area / boxArea(usable)).toBeCloseTo(1, 9);
        for (const [k, { visible: a }] of placements.entries()) {
          for (const { visible: b } of placements.slice(k + 1)) {
            const across = Math.min(a.x1, b.x1) - Math.max(a.x0, b.x0);
            const along = Math.min(a.y1, b.y1) - Math.max(a.y0, b.y0);
            expect(Math.min(across, along)).toBeLessThan(1e-6);
          }
        }
        expect(new Set(placements.map((p) => p.id)).size).toBe(placements.length);
      }),
      { numRuns: 150 },
    );
  });
});

describe('clothMasks', () => {
  it('covers ends and selvedges that placements reach over, on the cloth and beyond it', () => {
    const lattice = makeLattice(HALF_DROP, 180, 240);
    const usable = { x0: 10, y0: 30, x1: 430, y1: 1000 };
    const masks = clothMasks(lay(lattice, usable), usable, { widthMm: 440, lengthMm: 1000 });
    expect(masks.map(({ side, onClothMm, beyondMm }) => [side, onClothMm, beyondMm])).toEqual([
      // Half a placement above the start: 30 mm on cloth, 90 mm on waste.
      ['start', 30, 90],
      // Columns 1 and 3 end at 30 + 5 · 240 = 1230, column 2 at 1110.
      ['end', 0, 230],
      // The third column ends at 10 + 3 · 180 = 550.
      ['right', 10, 110],
    ]);
  });

  it('needs no waste where the unprinted start is longer than what reaches over it', () => {
    const usable = { x0: 0, y0: 150, x1: 360, y1: 630 };
    const masks = clothMasks(lay(makeLattice(HALF_DROP, 180, 240), usable), usable, { widthMm: 360, lengthMm: 700 });
    expect(masks.map(({ side, onClothMm, beyondMm }) => [side, onClothMm, beyondMm])).toEqual([
      ['start', 120, 0],
      ['end', 70, 50],
    ]);
  });

  it('asks for none where everything lies on the usable cloth', () => {
    const usable = { x0: 10, y0: 30, x1: 370, y1: 510 };
    const placements = lay(makeLattice(STRAIGHT, 180, 240), usable);
    expect(clothMasks(placements, usable, { widthMm: 380, lengthMm: 600 })).toEqual([]);
  });
});
