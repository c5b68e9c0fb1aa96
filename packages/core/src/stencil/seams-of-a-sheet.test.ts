import { describe, expect, it } from 'vitest';
import { circleContour } from '../geometry/contour.js';
import { contourDistance } from '../geometry/point-tests.js';
import { latticePoint, makeLattice } from '../repeat/lattice.js';
import { carried, HALF_DROP, INK, STRAIGHT, shapeOf, THIRD_BRICK } from '../repeat/random-cell.test-help.js';
import type { Repeat } from '../repeat/types.js';
import { leadsAcross, nearUnit } from './fit-ties.js';
import { madeSheet } from './made-sheet.test-help.js';
import { releasedOutlines } from './released.js';
import { seamLines } from './seam-lines.js';
import type { Sheet } from './types.js';

const W = 90;
const H = 60;

function sheetOf(across: number, down: number, held: Partial<Sheet> = {}): Sheet {
  const field = { x0: 30, y0: 20, x1: 30 + across * W, y1: 20 + down * H };
  return madeSheet({
    ink: INK,
    widthMm: field.x1 + 25,
    heightMm: field.y1 + 25,
    field,
    across,
    down,
    practice: { hand: 'right', transfer: 'cut-through', grain: null, gauze: false, soak: true },
    ...held,
  });
}

describe('the seams of a sheet', () => {
  const cases: readonly (readonly [string, Repeat, number, number])[] = [
    ['one straight unit', STRAIGHT, 1, 1],
    ['straight units', STRAIGHT, 3, 2],
    ['columns of a half-drop', HALF_DROP, 3, 2],
    ['columns of a drop of two thirds', { kind: 'drop', step: { p: 2, q: 3 } }, 4, 1],
    ['rows of a brick', THIRD_BRICK, 2, 4],
    ['a brick of three quarters', { kind: 'brick', step: { p: 3, q: 4 } }, 1, 3],
  ];

  /** Whether a place of the field lies on a side of some unit: told from the lattice alone. */
  const onSeam = (repeat: Repeat, x: number, y: number): boolean => {
    const lattice = makeLattice(repeat, W, H);
    for (let i = -9; i <= 9; i++) {
      for (let j = -9; j <= 9; j++) {
        const v = latticePoint(lattice, { i, j });
        const [u, w] = [x - v.x, y - v.y];
        const within = (a: number, most: number) => a > -1e-6 && a < most + 1e-6;
        if (within(u, W) && within(w, H) && Math.min(Math.abs(u), Math.abs(u - W), Math.abs(w), Math.abs(w - H)) < 1e-6)
          return true;
      }
    }
    return false;
  };

  it.each(cases)('of %s are the sides of its units, on the field, and its own sides', (_, repeat, across, down) => {
    const sheet = sheetOf(across, down);
    const lines = seamLines(sheet, makeLattice(repeat, W, H)).map(({ from, to }) => {
      const { x0, y0 } = sheet.field;
      return { x0: from.x - x0, y0: from.y - y0, x1: to.x - x0, y1: to.y - y0 };
    });
    const [wide, high] = [across * W, down * H];
    for (const line of lines) {
      for (const part of [0.01, 0.37, 0.99]) {
        const [x, y] = [line.x0 + part * (line.x1 - line.x0), line.y0 + part * (line.y1 - line.y0)];
        expect(Math.min(x, y, wide - x, high - y)).toBeGreaterThan(-1e-6);
        const side = Math.min(Math.abs(x), Math.abs(y), Math.abs(wide - x), Math.abs(high - y)) < 1e-6;
        expect(side || onSeam(repeat, x, y)).toBe(true);
      }
    }
    const drawn = (x: number, y: number) =>
      lines.some(({ x0, y0, x1, y1 }) => {
        const between = (a: number, b: number, v: number) => v > Math.min(a, b) - 1e-6 && v < Math.max(a, b) + 1e-6;
        return between(x0, x1, x) && between(y0, y1, y);
      });
    // Along lines of the field that no seam runs along, each place of a seam is drawn.
    for (let k = 0; k < 200; k++) {
      const [x, y] = [((k * 0.618) % 1) * wide, ((k * 0.414) % 1) * high];
      for (const [u, v] of [
        [Math.round(x / (W / 12)) * (W / 12), y],
        [x, Math.round(y / (H / 12)) * (H / 12)],
      ]) {
        const side = Math.min(Math.abs(u), Math.abs(v), Math.abs(wide - u), Math.abs(high - v)) < 1e-6;
        expect(drawn(u, v), `${u}, ${v}`).toBe(side || onSeam(repeat, u, v));
      }
    }
  });

  it('have the lines where the first cut stops among them', () => {
    const plain = sheetOf(2, 1);
    const { x0, y0, x1, y1 } = plain.field;
    const lattice = makeLattice(STRAIGHT, W, H);
    const heldRight = { x0: x1 - 25, y0, x1, y1 };
    const heldBottom = { x0, y0: y1 - 20, x1, y1 };
    const extra = (held: Partial<Sheet>) =>
      seamLines({ ...plain, ...held }, lattice).slice(seamLines(plain, lattice).length);
    expect(extra({ heldRight })).toEqual([{ from: { x: x1 - 25, y: y0 }, to: { x: x1 - 25, y: y1 } }]);
    expect(extra({ heldBottom })).toEqual([{ from: { x: x0, y: y1 - 20 }, to: { x: x1, y: y1 - 20 } }]);
    expect(extra({ heldRight, heldBottom })).toHaveLength(2);
  });
});

describe('the pattern once release ties are gone', () => {
  // A disc across the right seam, and one in the middle of the unit.
  const discs = [shapeOf([circleContour({ x: 88, y: 30 }, 10)]), shapeOf([circleContour({ x: 40, y: 30 }, 5)])];
  const cell = carried(discs, makeLattice(STRAIGHT, W, H));

  it('has whole outlines over a box of the field, each of the first opening that lies in it', () => {
    const reach = { x0: 0, y0: 0, x1: 2 * W, y1: H };
    const origin = { x: 30, y: 20 };
    const inside = [
      { x: 30 + 40, y: 20 + 30 },
      { x: 30 + 85, y: 20 + 30 },
      { x: 30 + 95, y: 20 + 30 },
      { x: 30 + 40 + W, y: 20 + 32 },
    ];
    const outlines = releasedOutlines(cell, cell.inks[0], { reach, origin, inside });
    const at = (x: number, y: number) =>
      outlines.filter(({ contour }) => {
        const xs = contour.coords.filter((_, k) => k % 2 === 0);
        const ys = contour.coords.filter((_, k) => k % 2 === 1);
        return Math.min(...xs) < x && Math.max(...xs) > x && Math.min(...ys) < y && Math.max(...ys) > y;
      });
    expect(at(70, 50).map(({ opening }) => opening)).toEqual([0]);
    // Both its halves are one outline: the first that has a place in it is its opening.
    expect(at(115, 50).map(({ opening }) => opening)).toEqual([1]);
    expect(at(125, 50).map(({ opening }) => opening)).toEqual([1]);
    expect(at(30 + 40 + W, 50).map(({ opening }) => opening)).toEqual([3]);
    // Those in which no place was given are there, and nobody's: halves at the far sides of the box.
    expect(at(30 + 1, 50).map(({ opening }) => opening)).toEqual([-1]);
    expect(releasedOutlines(cell, cell.inks[0], { reach, origin, inside: [] }).map(({ opening }) => opening)).toEqual(
      outlines.map(() => -1),
    );
    const disc = at(70, 50)[0].contour;
    expect(contourDistance([disc], { x: 70, y: 50 })).toBeCloseTo(5, 2);
  });

  it('knows a tie that leads across an opening, over the seam too, wherever on the cloth it is told', () => {
    const across = (from: readonly [number, number], to: readonly [number, number]) =>
      leadsAcross(cell, 0, { from: { x: from[0], y: from[1] }, to: { x: to[0], y: to[1] } });
    expect(across([78, 30], [98, 30])).toBe(true);
    expect(across([78 - W, 30 + 2 * H], [98 - W, 30 + 2 * H])).toBe(true);
    expect(across([88, 20], [88, 40])).toBe(true);
    expect(across([35, 30], [45, 30])).toBe(true);
    // One end in the opening, one beyond it, and one that lies on paper altogether.
    expect(across([78, 30], [95, 30])).toBe(false);
    expect(across([75, 30], [98, 30])).toBe(false);
    expect(across([45, 30], [78, 30])).toBe(false);
    expect(across([60, 5], [65, 5])).toBe(false);
  });

  it('moves ties by whole steps to where they lie near the middle of one unit, their two ends alike', () => {
    const lattice = makeLattice(HALF_DROP, W, H);
    const ties = [
      { from: { x: 40, y: 20 }, to: { x: 50, y: 24 } },
      { from: { x: 40 + 3 * W, y: 20 + 1.5 * H }, to: { x: 50 + 3 * W, y: 24 + 1.5 * H } },
      { from: { x: 40 - W, y: 20 - 2.5 * H }, to: { x: 50 - W, y: 24 - 2.5 * H } },
    ];
    for (const tie of nearUnit(ties, lattice)) {
      expect(tie.from.x).toBeCloseTo(40, 9);
      expect(tie.from.y).toBeCloseTo(20, 9);
      expect(tie.to.x).toBeCloseTo(50, 9);
      expect(tie.to.y).toBeCloseTo(24, 9);
    }
  });
});
