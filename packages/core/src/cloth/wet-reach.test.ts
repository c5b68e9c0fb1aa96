import { describe, expect, it } from 'vitest';
import { boxContour } from '../geometry/contour.js';
import { makeLattice } from '../repeat/lattice.js';
import type { Repeat } from '../repeat/types.js';
import { InputError } from '../units/input-error.js';
import type { LaidSheet } from './laid-sheet.js';
import { boxMeetsArea, coversWet, wetConflicts } from './wet.js';

const STRAIGHT: Repeat = { kind: 'straight', step: { p: 0, q: 1 } };

/** A sheet with one square opening of 10 mm at the field's upper left and paper that reaches so far around the field of 20 mm. */
function sheetWith(around: { left: number; top: number; right: number; bottom: number }): LaidSheet {
  const box = { x0: 0, y0: 0, x1: 10, y1: 10 };
  const corner = { name: 'A', at: { x: 0, y: 0 } };
  return {
    paper: { x0: -around.left, y0: -around.top, x1: 20 + around.right, y1: 20 + around.bottom },
    firstDot: corner,
    cornerDot: corner,
    openings: [{ contours: [boxContour(box)], box, inside: { x: 5, y: 5 } }],
  };
}

const NONE = { left: 0, top: 0, right: 0, bottom: 0 };

describe('paper over wet paste', () => {
  it('covers an opening of a neighbour from a fiftieth of a mm on, on each of its four sides', () => {
    // The opening of a neighbour at v begins at v and ends 10 mm further on; the paper ends at 20 mm and begins at 0.
    const covers = (side: keyof typeof NONE, mm: number, by: { x: number; y: number }) =>
      coversWet(sheetWith({ ...NONE, [side]: mm }), by);
    for (const [side, by] of [
      ['right', { x: 25, y: 0 }],
      ['bottom', { x: 0, y: 25 }],
      ['left', { x: -15, y: 0 }],
      ['top', { x: 0, y: -15 }],
    ] as const) {
      expect(covers(side, 4.99, by), side).toBe(false);
      expect(covers(side, 5, by), side).toBe(false);
      expect(covers(side, 5.02, by), side).toBe(true);
    }
  });

  it('waits for both a step and its opposite', () => {
    const found = wetConflicts([sheetWith({ ...NONE, right: 3 })], makeLattice(STRAIGHT, 20, 20));
    expect(found).toEqual([
      { i: -1, j: 0 },
      { i: 1, j: 0 },
    ]);
    expect(wetConflicts([sheetWith({ ...NONE, bottom: 3 })], makeLattice(STRAIGHT, 20, 20))).toEqual([
      { i: 0, j: -1 },
      { i: 0, j: 1 },
    ]);
  });

  it('gives no steps for a sheet without openings, and for two sheets those of either', () => {
    const lattice = makeLattice(STRAIGHT, 20, 20);
    const [wide, high] = [sheetWith({ ...NONE, right: 3 }), sheetWith({ ...NONE, bottom: 3 })];
    expect(wetConflicts([{ ...wide, openings: [] }], lattice)).toEqual([]);
    expect(wetConflicts([wide, high], lattice)).toHaveLength(4);
  });

  it('refuses paper of more than 4000 fields, by their number', () => {
    const lattice = makeLattice(STRAIGHT, 20, 20);
    const paper = (fields: number) => ({ ...NONE, right: 20 * (fields - 1) });
    expect(() => wetConflicts([sheetWith(paper(4100))], lattice)).toThrow(InputError);
    expect(() => wetConflicts([sheetWith(paper(4100))], lattice)).toThrow(/4100 times as large/);
    // 4100 fields of 20 by 40 mm are twice as many of 20 by 20.
    const wide = sheetWith({ ...paper(4100), top: 10, bottom: 10 });
    expect(() => wetConflicts([wide], makeLattice(STRAIGHT, 20, 40))).toThrow(/4100 times as large/);
    // One way and back over 3900 fields, each of which has an opening.
    expect(wetConflicts([sheetWith(paper(3900))], lattice)).toHaveLength(2 * 3899);
  });
});

describe('a box and an outline', () => {
  const triangle = [{ closed: true, coords: new Float64Array() }];

  it('share no area where the box lies beside a slanting side, though within the outline’s box', () => {
    const corners = [
      [0, 0],
      [30, 0],
      [0, 30],
      [0, 0],
    ];
    const coords = corners.slice(1).flatMap(([x, y], k) => {
      const [px, py] = corners[k];
      const third = (t: number) => [px + ((x - px) * t) / 3, py + ((y - py) * t) / 3];
      return [...third(1), ...third(2), x, y];
    });
    const outline = [{ ...triangle[0], coords: Float64Array.from([0, 0, ...coords]) }];
    expect(boxMeetsArea({ x0: 20, y0: 20, x1: 25, y1: 25 }, outline)).toBe(false);
    expect(boxMeetsArea({ x0: 15.1, y0: 15.1, x1: 20, y1: 20 }, outline)).toBe(false);
    expect(boxMeetsArea({ x0: 14.9, y0: 14.9, x1: 20, y1: 20 }, outline)).toBe(true);
    expect(boxMeetsArea({ x0: 5, y0: 5, x1: 6, y1: 6 }, outline)).toBe(true);
    expect(boxMeetsArea({ x0: -5, y0: 5, x1: 0, y1: 6 }, outline)).toBe(false);
    expect(boxMeetsArea({ x0: -5, y0: -5, x1: 40, y1: 40 }, outline)).toBe(true);
    expect(boxMeetsArea({ x0: 31, y0: 0, x1: 40, y1: 5 }, outline)).toBe(false);
  });
});
