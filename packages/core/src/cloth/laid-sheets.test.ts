import { describe, expect, it } from 'vitest';
import { latticePoint, makeLattice } from '../repeat/lattice.js';
import type { Repeat } from '../repeat/types.js';
import { groundLine } from './ground-line.js';
import { laidLattice, laidSheet, reversedRepeat, sheetLattice, turnedRepeat } from './laid-sheet.js';
import { clothMasks } from './masks.js';
import { clothLeftover, firstField, type LaidPlacement, lateStart, layPlacements } from './placements.js';
import { boxOpenings, planSheet } from './plan-sheet.test-help.js';

const STRAIGHT: Repeat = { kind: 'straight', step: { p: 0, q: 1 } };
const DROP: Repeat = { kind: 'drop', step: { p: 1, q: 3 } };
const BRICK: Repeat = { kind: 'brick', step: { p: 2, q: 5 } };

/** Places of a lattice within a few steps, as texts, each reduced to one cell of the given lattice. */
function places(
  lattice: ReturnType<typeof makeLattice>,
  turn: (p: { x: number; y: number }) => { x: number; y: number },
) {
  const found = new Set<string>();
  for (let i = -14; i <= 14; i++) {
    for (let j = -14; j <= 14; j++) {
      const { x, y } = turn(latticePoint(lattice, { i, j }));
      if (Math.abs(x) < 400 && Math.abs(y) < 400) found.add(`${Math.round(x * 100) + 0},${Math.round(y * 100) + 0}`);
    }
  }
  return [...found].sort();
}

describe('a sheet that lies across the cloth', () => {
  it('repeats as it does along it, turned clockwise by a quarter', () => {
    for (const repeat of [STRAIGHT, DROP, BRICK]) {
      const lattice = makeLattice(repeat, 130, 170);
      const across = laidLattice(lattice, 'across');
      expect([across.widthMm, across.heightMm]).toEqual([170, 130]);
      // Clockwise as seen, with y down: right becomes down, and down becomes left.
      expect(places(across, (p) => p)).toEqual(places(lattice, ({ x, y }) => ({ x: -y + 0, y: x })));
      expect(across.repeat).toEqual(turnedRepeat(repeat));
      expect(laidLattice(lattice, 'along')).toBe(lattice);
      const back = makeLattice(reversedRepeat(repeat), 130, 170);
      expect(places(back, (p) => p)).toEqual(places(lattice, ({ x, y }) => ({ x: -x + 0, y })));
    }
  });

  const lattice = makeLattice(STRAIGHT, 200, 300);
  const sheet = planSheet(lattice, {
    borderMm: 20,
    trailingMm: 35,
    openings: boxOpenings([{ x0: 10, y0: 30, x1: 60, y1: 110 }]),
  });

  it('has its paper, openings and dots where the turned sheet has them', () => {
    const along = laidSheet(sheet, 'along');
    expect(along.paper).toEqual({ x0: -20, y0: -20, x1: 235, y1: 335 });
    expect(along.openings[0].box).toEqual({ x0: 10, y0: 30, x1: 60, y1: 110 });
    expect(along.openings[0].inside).toEqual({ x: 35, y: 70 });
    expect(along.firstDot).toEqual({ name: 'A', at: { x: 0, y: 0 } });
    expect(along.cornerDot).toEqual(along.firstDot);
    // A place x, y of the field of 200 × 300 comes to 300 − y, x.
    const across = laidSheet(sheet, 'across');
    expect(across.paper).toEqual({ x0: -35, y0: -20, x1: 320, y1: 235 });
    expect(across.openings[0].box).toEqual({ x0: 190, y0: 10, x1: 270, y1: 60 });
    expect(across.openings[0].inside).toEqual({ x: 230, y: 35 });
    expect(across.firstDot).toEqual({ name: 'A', at: { x: 300, y: 0 } });
    // What lies at its upper left is the dot at the lower left of the sheet.
    const lowerLeft = sheet.dots.find(({ at }) => at.x === sheet.field.x0 && at.y === sheet.field.y1);
    expect(across.cornerDot).toEqual({ name: lowerLeft?.name, at: { x: 0, y: 0 } });
  });

  it('takes both cuts of an opening, the dot nearest to its corner, and the corner itself without any', () => {
    const [opening] = sheet.openings;
    const second = planSheet(lattice, { borderMm: 20, openings: boxOpenings([{ x0: 100, y0: 30, x1: 160, y1: 40 }]) });
    const both = laidSheet({ ...sheet, openings: [{ ...opening, secondCut: second.openings[0].firstCut }] }, 'along');
    expect(both.openings[0].box).toEqual({ x0: 10, y0: 30, x1: 160, y1: 110 });
    expect(laidSheet({ ...sheet, openings: [{ ...opening, firstCut: [] }] }, 'along').openings).toEqual([]);
    expect(laidSheet({ ...sheet, dots: [] }, 'across').firstDot).toEqual({ name: 'A', at: { x: 300, y: 0 } });
    const dots = [
      { ...sheet.dots[0], name: 'far', at: { x: 60, y: 20 } },
      { ...sheet.dots[0], name: 'near', at: { x: 20, y: 23 } },
    ];
    expect(laidSheet({ ...sheet, dots }, 'along').firstDot).toEqual({ name: 'near', at: { x: 0, y: 3 } });
  });

  it('steps by its whole field, and only beside sheets of the same field', () => {
    const wide = planSheet(lattice, { across: 3, down: 2 });
    expect(sheetLattice([wide], lattice, 'along')).toMatchObject({ widthMm: 600, heightMm: 600 });
    const tall = planSheet(lattice, { across: 1, down: 2 });
    expect(sheetLattice([tall], lattice, 'across')).toMatchObject({ widthMm: 600, heightMm: 200 });
    const other = (dx: number, dy: number) => {
      const { field } = sheet;
      return { ...sheet, ink: '#00ff00', field: { ...field, x1: field.x1 + dx, y1: field.y1 + dy } };
    };
    expect(() => sheetLattice([sheet, other(0.01, 0)], lattice, 'along')).toThrow(/ink #000000 and ink #00ff00/);
    expect(() => sheetLattice([sheet, other(0, -0.01)], lattice, 'along')).toThrow(/step alike/);
    expect(() => sheetLattice([sheet, other(1e-8, -1e-8)], lattice, 'along')).not.toThrow();
    expect(() => sheetLattice([], lattice, 'along')).toThrow(/no ink to cut/);
  });
});

describe('the ground line', () => {
  const dot = { name: 'B', at: { x: 2, y: 5 } };
  const lay = (repeat: Repeat, usable: { x0: number; y0: number; x1: number; y1: number }) => {
    const lattice = makeLattice(repeat, 100, 60);
    const origin = firstField(lattice, usable, 'left');
    return { lattice, origin, placements: layPlacements(lattice, usable, { origin, fill: 'cover', start: 'above' }) };
  };

  it('of a brick runs along all its rows, with marks at its first column', () => {
    const { lattice, origin, placements } = lay(
      { kind: 'brick', step: { p: 1, q: 2 } },
      { x0: 10, y0: 20, x1: 310, y1: 380 },
    );
    const ground = groundLine(placements, lattice, { origin, every: 3, dot });
    expect(ground).toMatchObject({ xMm: 12, zero: { x: 12, y: 25 }, dot: 'B', every: 3, fromMm: 20, toMm: 380 });
    // Rows 1 and 4; the fourth begins half a unit to the left.
    expect(ground?.marks).toEqual([
      { id: 'c1r1', at: { x: 12, y: 25 }, acrossMm: 0, alongMm: 0 },
      { id: 'c1r4', at: { x: -38, y: 205 }, acrossMm: -50, alongMm: 180 },
    ]);
  });

  it('of a drop runs along its first column alone, from its start to its end', () => {
    const { lattice, origin, placements } = lay(
      { kind: 'drop', step: { p: 1, q: 2 } },
      { x0: 10, y0: 20, x1: 210, y1: 130 },
    );
    const ground = groundLine(placements, lattice, { origin, every: 2, dot });
    expect([ground?.fromMm, ground?.toMm]).toEqual([20, 140]);
    expect(ground?.marks.map(({ id, acrossMm, alongMm }) => [id, acrossMm, alongMm])).toEqual([
      ['c1r1', 0, 0],
      ['c2r1', 100, -30],
      ['c2r3', 100, 90],
    ]);
    expect(groundLine([], lattice, { origin, every: 2, dot })).toBeNull();
  });
});

describe('what is covered and what is left', () => {
  const field = (x0: number, y0: number, x1: number, y1: number) => ({ field: { x0, y0, x1, y1 } }) as LaidPlacement;
  const usable = { x0: 20, y0: 30, x1: 520, y1: 730 };
  const table = { widthMm: 560, lengthMm: 800 };

  it('is a strip at each side over which placements reach, on the cloth as far as it goes', () => {
    const masks = clothMasks([field(-15, 10, 300, 400), field(250, 380, 575, 750)], usable, table);
    expect(masks).toEqual([
      { side: 'start', box: { x0: -15, y0: 10, x1: 575, y1: 30 }, onClothMm: 20, beyondMm: 0 },
      { side: 'end', box: { x0: -15, y0: 730, x1: 575, y1: 750 }, onClothMm: 20, beyondMm: 0 },
      { side: 'left', box: { x0: -15, y0: 30, x1: 20, y1: 730 }, onClothMm: 20, beyondMm: 15 },
      { side: 'right', box: { x0: 520, y0: 30, x1: 575, y1: 730 }, onClothMm: 40, beyondMm: 15 },
    ]);
    const far = clothMasks([field(20, -12, 520, 830)], usable, table);
    expect(far.map(({ side, onClothMm, beyondMm }) => [side, onClothMm, beyondMm])).toEqual([
      ['start', 30, 12],
      ['end', 70, 30],
    ]);
    expect(clothMasks([field(20, 30, 520, 730)], usable, table)).toEqual([]);
    expect(clothMasks([field(20, 30 - 1e-7, 520, 730 + 1e-7)], usable, table)).toEqual([]);
    expect(clothMasks([], usable, table)).toEqual([]);
  });

  it('is what whole fields leave of each length, and the area that nothing prints', () => {
    const lattice = makeLattice(STRAIGHT, 120, 90);
    const box = { x0: 20, y0: 30, x1: 20 + 500, y1: 30 + 700 };
    const origin = firstField(lattice, box, 'left');
    const whole = layPlacements(lattice, box, { origin, fill: 'whole', start: 'above' });
    expect(whole).toHaveLength(4 * 7);
    // 500 = 4 · 120 + 20 and 700 = 7 · 90 + 70.
    expect(clothLeftover(lattice, box, whole)).toEqual({
      acrossMm: 20,
      alongMm: 70,
      plainMm2: expect.closeTo(500 * 700 - 28 * 120 * 90, 6),
    });
    const cover = layPlacements(lattice, box, { origin, fill: 'cover', start: 'above' });
    expect(clothLeftover(lattice, box, cover).plainMm2).toBe(0);
    expect(clothLeftover(lattice, { ...box, x1: 100, y1: 80 }, [])).toMatchObject({ acrossMm: 0, alongMm: 0 });
    expect(clothLeftover(lattice, { ...box, x1: 20 + 120, y1: 30 + 90 }, [])).toMatchObject({
      acrossMm: 0,
      alongMm: 0,
      plainMm2: 120 * 90,
    });
  });

  it('has the share of a cut placement that lies on the cloth, on each side of it', () => {
    const lattice = makeLattice(STRAIGHT, 100, 100);
    const options = { origin: { x: -30, y: -80 }, fill: 'cover', start: 'above' } as const;
    const laid = layPlacements(lattice, { x0: 0, y0: 0, x1: 140, y1: 90 }, options);
    expect(laid.map(({ id, share, whole }) => [id, Math.round(share * 1e6) / 1e6, whole])).toEqual([
      ['c1r1', 0.14, false],
      ['c1r2', 0.49, false],
      ['c2r1', 0.14, false],
      ['c2r2', 0.49, false],
    ]);
    expect(laid[0].visible).toEqual({ x0: 0, y0: 0, x1: 70, y1: 20 });
    expect(laid[3].visible).toEqual({ x0: 70, y0: 20, x1: 140, y1: 90 });
    const inside = layPlacements(lattice, { x0: 0, y0: 0, x1: 140, y1: 90 }, { ...options, start: 'in' });
    expect(inside.map(({ field: { x0, y0 } }) => [x0, y0])).toEqual([
      [-30, 20],
      [70, 20],
    ]);
  });

  it('begins as late as the last of the first ones', () => {
    const drop = makeLattice(DROP, 100, 90);
    const box = { x0: 20, y0: 30, x1: 320, y1: 500 };
    const laid = layPlacements(drop, box, { origin: { x: 20, y: 30 }, fill: 'cover', start: 'in' });
    // Columns begin 0, 30 and 60 mm in.
    expect(lateStart(drop, laid)).toEqual({ headWasteMm: 60, sideWasteMm: 0 });
    const brick = makeLattice({ kind: 'brick', step: { p: 1, q: 4 } }, 100, 90);
    const rows = layPlacements(brick, box, { origin: { x: 20, y: 30 }, fill: 'cover', start: 'in' });
    expect(lateStart(brick, rows)).toEqual({ headWasteMm: 0, sideWasteMm: 75 });
    expect(lateStart(drop, [])).toEqual({ headWasteMm: 0, sideWasteMm: 0 });
  });
});
