import { describe, expect, it } from 'vitest';
import { boxContour, circleContour, contoursBox } from '../geometry/contour.js';
import type { Box, Contour } from '../geometry/types.js';
import { makeLattice } from '../repeat/lattice.js';
import { carried, shapeOf } from '../repeat/random-cell.test-help.js';
import type { Repeat } from '../repeat/types.js';
import { findPaper } from '../units/paper-sizes.js';
import { cutSheet, type SheetOptions } from './cut-sheet.test-help.js';
import { fittingPaper } from './named-paper.js';
import { seamLines } from './seam-lines.js';

const [W, H] = [90, 70];
const HALF_DROP: Repeat = { kind: 'drop', step: { p: 1, q: 2 } };
const OPTIONS: Partial<SheetOptions> = {
  ...{ across: 2, down: 1, borderMm: 31, trailingMm: 17, dotMm: 1, sightDotMm: 1.6, lapMm: 0.4 },
  hold: { mode: 'band', widthMm: 10 },
  ...{ index: 2, count: 3 },
};
/** What is drawn, by its boxes in the unit: two discs, and a bar over the hold line along the bottom. */
const DISCS = [
  { x: 30, y: 20, r: 4 },
  { x: 82, y: 30, r: 3 },
];
const BAR: Box = { x0: 60, y0: 20, x1: 66, y1: 66 };
const drawn = (): Contour[] => [...DISCS.map((d) => circleContour(d, d.r)), boxContour(BAR)];

function cut(options: Partial<SheetOptions> = {}, contours = drawn(), repeat = HALF_DROP) {
  const cell = carried(
    contours.map((contour) => shapeOf([contour])),
    makeLattice(repeat, W, H),
  );
  const all = { ...OPTIONS, ...options };
  return { ...cutSheet(cell, all), cell };
}
/** Boxes of all copies of the drawing that lie on a sheet of two units, field mm, cut off at its edges (past the lead ones by the lap). */
function copies(): Box[] {
  const boxes = [...DISCS.map(({ x, y, r }) => ({ x0: x - r, y0: y - r, x1: x + r, y1: y + r })), BAR];
  return [0, 1].flatMap((i) =>
    [-1, 0, 1].flatMap((j) =>
      boxes
        .map((b) => ({
          x0: Math.max(-0.4, b.x0 + i * W),
          y0: Math.max(-0.4, b.y0 + (j + i / 2) * H),
          x1: Math.min(2 * W, b.x1 + i * W),
          y1: Math.min(H, b.y1 + (j + i / 2) * H),
        }))
        .filter((b) => b.x1 > b.x0 && b.y1 > b.y0 && b.y1 > 0),
    ),
  );
}
const moved = (b: Box, x: number, y = x): Box => ({ x0: b.x0 + x, y0: b.y0 + y, x1: b.x1 + x, y1: b.y1 + y });
const near = (a: Box, b: Box) =>
  (['x0', 'y0', 'x1', 'y1'] as const).every((side) => Math.abs(a[side] - b[side]) < 0.01);

describe('a sheet of two units of a half-drop', () => {
  const { sheet, kept, outlines } = cut();

  it('has its field within the border, its held margin along the trailing sides, and paper all around', () => {
    const field = { x0: 31, y0: 31, x1: 211, y1: 101 };
    expect(sheet).toMatchObject({
      field,
      widthMm: 228,
      heightMm: 118,
      lapMm: 0.4,
      across: 2,
      down: 1,
      index: 2,
      count: 3,
    });
    expect(sheet.heldRight).toEqual({ ...field, x0: 201 });
    expect(sheet.heldBottom).toEqual({ ...field, y0: 91 });
    const fits = ({ widthMm, heightMm }: typeof sheet) => fittingPaper(widthMm, heightMm, findPaper('A4'));
    expect(fits(sheet)).toBe('B5');
    expect(fits(cut({ borderMm: 110 }).sheet)).toBe('B4');
    // Two half-drops are straight: dots on the corners alone, those that print smaller than those that are sighted through.
    expect(sheet.dots.map(({ at, diameterMm }) => [at.x, at.y, diameterMm])).toEqual([
      [31, 31, 1],
      [211, 31, 1],
      [211, 101, 1.6],
      [31, 101, 1],
    ]);
    expect(sheet.measures.map(({ what, mm }) => [what, mm])).toEqual([
      ['width', 180],
      ['width', 180],
      ['height', 70],
      ['height', 70],
      ['diagonal', Math.hypot(180, 70)],
      ['diagonal', Math.hypot(180, 70)],
    ]);
  });

  it('has every copy of the drawing at its place, once', () => {
    const wanted = copies().map((b) => moved(b, 31));
    expect(sheet.openings).toHaveLength(wanted.length);
    for (const b of wanted) expect(sheet.openings.filter(({ box }) => near(box, b))).toHaveLength(1);
    for (const { firstCut, secondCut, box, labelAt, labelRoomMm } of sheet.openings) {
      expect(near(contoursBox([...firstCut, ...secondCut]) as Box, box)).toBe(true);
      const waste = contoursBox(firstCut.length > 0 ? firstCut : secondCut) as Box;
      const room = Math.min(labelAt.x - waste.x0, waste.x1 - labelAt.x, labelAt.y - waste.y0, waste.y1 - labelAt.y);
      expect(room).toBeGreaterThan(labelRoomMm - 0.02);
      expect(labelRoomMm).toBeGreaterThan(0.1);
      // The first cut stays before the hold line, or ends by its own outline a little past it.
      if (secondCut.length > 0 && firstCut.length > 0) expect(waste.y1).toBeCloseTo(91, 3);
    }
    for (const { contour, opening } of outlines) {
      const { box } = sheet.openings[opening - 1];
      expect(near(contoursBox([contour]) as Box, box)).toBe(true);
    }
    const held = sheet.openings.filter(({ firstCut }) => firstCut.length === 0).map(({ box }) => box);
    expect(held.some((b) => near(b, moved({ x0: 169, y0: 62, x1: 175, y1: 68 }, 31)))).toBe(true);
    expect(held.every((b) => b.x0 >= 200.99 || b.y0 >= 80.99)).toBe(true);
  });

  it('stops where the bar comes to the hold line', () => {
    expect(sheet.stops).toHaveLength(1);
    const [{ number, from, to }] = sheet.stops;
    expect(near(sheet.openings[number - 1].box, moved(BAR, 31))).toBe(true);
    expect([from.x, to.x].toSorted((a, b) => a - b).map((x) => Math.round(1000 * x))).toEqual([91000, 97000]);
    expect([from.y, to.y]).toEqual([91, 91]);
  });

  it('keeps of every opening its middle on the field, its area and its number', () => {
    expect(kept.map(({ number }) => number)).toEqual(sheet.openings.map(({ number }) => number));
    for (const { number, x, y, areaMm2 } of kept) {
      const { box, areaMm2: area } = sheet.openings[number - 1];
      expect(x).toBeCloseTo((box.x0 + box.x1) / 2 - 31, 1);
      expect(y).toBeCloseTo((box.y0 + box.y1) / 2 - 31, 1);
      expect(areaMm2).toBeCloseTo(area, 0);
    }
  });

  it('has all zones on the field and its laps, and every opening in the one of its label', () => {
    const { zones, openings } = sheet;
    expect(
      near(
        zones
          .map(({ box }) => box)
          .reduce((a, b) => ({
            x0: Math.min(a.x0, b.x0),
            y0: Math.min(a.y0, b.y0),
            x1: Math.max(a.x1, b.x1),
            y1: Math.max(a.y1, b.y1),
          })),
        { ...sheet.field, x0: 30.6, y0: 30.6 },
      ),
    ).toBe(true);
    for (const { labelAt, zone } of openings) {
      const { box } = zones.find(({ letter }) => letter === zone) as (typeof zones)[number];
      expect(labelAt.x >= box.x0 && labelAt.x <= box.x1 && labelAt.y >= box.y0 && labelAt.y <= box.y1).toBe(true);
    }
  });

  it('where nothing stands beside it holds nothing along the right and has no dots for it', () => {
    const single = cut({ sideJoinMeetsNothing: true, across: 1 }).sheet;
    expect(single.heldRight).toBeNull();
    expect(single.heldBottom).toEqual({ x0: 31, y0: 91, x1: 121, y1: 101 });
    expect(single.dots).toHaveLength(4);
    expect(cut({ across: 1 }).sheet.dots.map(({ at }) => [at.x, at.y])).toEqual([
      [31, 31],
      [121, 31],
      [121, 66],
      [121, 101],
      [31, 101],
      [31, 66],
    ]);
  });

  it('in crossing mode holds only what comes to the held seams, and what lies within 3 mm of that', () => {
    /** A bar over the right seam, and discs in the held margin at some way from it. */
    const over: Box = { x0: 82, y0: 30, x1: 95, y1: 36 };
    const beside = (y: number) =>
      cut({ across: 1, hold: { mode: 'crossing', widthMm: 10 } }, [boxContour(over), circleContour({ x: 86, y }, 1)], {
        kind: 'straight',
        step: { p: 0, q: 1 },
      }).sheet.openings.find(({ box }) => near(box, moved({ x0: 85, y0: y - 1, x1: 87, y1: y + 1 }, 31)));
    for (const sign of [-1, 1]) {
      const edge = sign < 0 ? 30 : 36;
      expect(beside(edge + sign * 3.9)?.firstCut).toEqual([]);
      expect(beside(edge + sign * 4.1)?.secondCut).toEqual([]);
    }
  });

  it('has ties where they stand on its field', () => {
    const outline = boxContour({ x0: 29, y0: 16, x1: 31, y1: 24 });
    const tie = { id: 'T1', kind: 'printed', from: { x: 30, y: 16 }, to: { x: 30, y: 24 }, outline } as const;
    const [stands] = cut({ ties: [tie] }).sheet.ties;
    expect(stands).toMatchObject({ id: 'T1', from: { x: 61, y: 47 }, to: { x: 61, y: 55 } });
    expect(contoursBox([stands.outline])).toEqual({ x0: 60, y0: 47, x1: 62, y1: 55 });
  });

  it('knows islands that are loose once the release ties are gone, by the opening they then lie in', () => {
    const ring = [circleContour({ x: 40, y: 30 }, 12), circleContour({ x: 40, y: 30 }, 6)];
    const strip = boxContour({ x0: 39, y0: 10, x1: 41, y1: 50 });
    const lattice = makeLattice(HALF_DROP, W, H);
    const released = carried([shapeOf(ring)], lattice);
    const tied = carried([shapeOf(ring), shapeOf([strip], '#ffffff')], lattice);
    const { sheet } = cutSheet(tied, { ...OPTIONS, across: 1, released });
    const [island, ...others] = sheet.paper.islands;
    expect(others).toEqual([]);
    expect(island).toMatchObject({ dropsAt: 'release' });
    expect(near(island.box, moved({ x0: 34, y0: 24, x1: 46, y1: 36 }, 31))).toBe(true);
    expect(sheet.openings.map(({ number }) => number)).toContain(island.opening);
  });
});

describe('the seams of a sheet', () => {
  it('are all sides of all its units within the field, and the hold line', () => {
    const ends = (repeat: Repeat, across: number, down: number) => {
      const { sheet, cell } = cut({ across, down }, drawn(), repeat);
      const lines = seamLines(sheet, cell.lattice).map(({ from, to }) => [
        from.x - 31,
        from.y - 31,
        to.x - 31,
        to.y - 31,
      ]);
      for (const [x0, y0, x1, y1] of lines) {
        expect(Math.min(x0, y0)).toBeGreaterThanOrEqual(0);
        expect(x1).toBeLessThanOrEqual(across * W + 1e-9);
        expect(y1).toBeLessThanOrEqual(down * H + 1e-9);
      }
      return new Set(lines.map((line) => line.map((v) => Math.round(v)).join(' ')));
    };
    expect(ends(HALF_DROP, 2, 1)).toEqual(
      new Set([
        '0 0 0 70',
        '90 0 90 70',
        '180 0 180 70',
        '0 0 90 0',
        '0 70 90 70',
        '90 35 180 35',
        '0 0 180 0',
        '0 70 180 70',
        '170 0 170 70',
        '0 60 180 60',
      ]),
    );
    expect(ends({ kind: 'brick', step: { p: 1, q: 2 } }, 1, 2)).toEqual(
      new Set([
        '0 0 90 0',
        '0 70 90 70',
        '0 140 90 140',
        '0 0 0 70',
        '90 0 90 70',
        '45 70 45 140',
        '0 0 0 140',
        '90 0 90 140',
        '80 0 80 140',
        '0 130 90 130',
      ]),
    );
    expect(ends({ kind: 'straight', step: { p: 0, q: 1 } }, 2, 1)).toEqual(
      new Set([
        '0 0 0 70',
        '90 0 90 70',
        '180 0 180 70',
        '0 0 90 0',
        '0 70 90 70',
        '90 0 180 0',
        '90 70 180 70',
        '0 0 180 0',
        '0 70 180 70',
        '170 0 170 70',
        '0 60 180 60',
      ]),
    );
  });
});
