import { describe, expect, it } from 'vitest';
import { boxContour, circleContour } from '../geometry/contour.js';
import type { Contour } from '../geometry/types.js';
import { type SlightOpening, withoutSlight } from './cuttable-cell.js';
import { makeLattice } from './lattice.js';
import { findOpenings } from './openings.js';
import { areaContours, clothTile, copiesOnto, patternIn } from './pattern.js';
import { carried, HALF_DROP, inkArea, STRAIGHT, shapeOf, THIRD_BRICK } from './random-cell.test-help.js';
import { seamStretches } from './seam-stretches.js';
import type { Repeat } from './types.js';

const [W, H] = [90, 60];
const disc = (x: number, y: number, r: number): Contour => circleContour({ x, y }, r);
const bar = (x: number, y: number, width: number, height: number): Contour =>
  boxContour({ x0: x, y0: y, x1: x + width, y1: y + height });
const lay = (repeat: Repeat, ...list: (Contour | [Contour, string])[]) =>
  carried(
    list.map((one) => (Array.isArray(one) ? shapeOf([one[0]], one[1]) : shapeOf([one]))),
    makeLattice(repeat, W, H),
  );
const whys = (slight: readonly SlightOpening[]) =>
  slight.map(({ inkIndex, why, pieces }) => [inkIndex, why, pieces.length]);

describe('openings that no blade can cut', () => {
  it('are those under 0.05 mm², or with room for no disc of 0.3 mm; the rest of the cell stays the very same', () => {
    const cell = lay(
      STRAIGHT,
      disc(20, 20, 5),
      disc(40, 20, 0.12),
      bar(50, 20, 12, 0.25),
      bar(50, 30, 12, 0.35),
      disc(40, 30, 0.17),
    );
    const { cell: left, from, slight } = withoutSlight(cell);
    expect(whys(slight).toSorted()).toEqual([
      [0, 'too-narrow', 1],
      [0, 'too-small', 1],
    ]);
    expect(left.inks[0].pieces).toHaveLength(3);
    left.inks[0].pieces.forEach((piece, k) => {
      expect(piece).toBe(cell.inks[0].pieces[from[0][k]]);
    });
    expect(inkArea(cell) - inkArea(left)).toBeCloseTo(Math.PI * 0.12 ** 2 + 12 * 0.25, 2);
    expect(findOpenings(left)).toHaveLength(3);
  });

  it('leave the cell itself where there are none', () => {
    const cell = lay(STRAIGHT, disc(20, 20, 5), disc(90, 20, 2));
    const { cell: left, from, slight } = withoutSlight(cell);
    expect(left).toBe(cell);
    expect(slight).toEqual([]);
    expect(from).toEqual([cell.inks[0].pieces.map((_, k) => k)]);
  });

  it('are followed across the seams, under every step', () => {
    for (const repeat of [STRAIGHT, HALF_DROP, THIRD_BRICK]) {
      for (const [x, y] of [
        [W, 20],
        [0, 41],
        [33, 0],
        [47, H],
      ]) {
        // Either half is too narrow by itself, both are an opening: and less than that is none.
        const sound = lay(repeat, disc(x, y, 0.2));
        expect(sound.inks[0].pieces).toHaveLength(2);
        expect(withoutSlight(sound).cell).toBe(sound);
        const small = withoutSlight(lay(repeat, disc(x, y, 0.12)));
        expect(whys(small.slight)).toEqual([[0, 'too-small', 2]]);
        expect(small.cell.inks[0].pieces).toEqual([]);
        const narrow = withoutSlight(lay(repeat, bar(x - 4, y - 0.12, 8, 0.24)));
        expect(narrow.slight.map(({ why }) => why)).toEqual(['too-narrow']);
        // A crumb beyond the seam hangs on a large opening.
        const large = lay(
          repeat,
          bar(x === W ? W - 9.9 : x === 0 ? -0.1 : x - 5, y === H ? H - 9.9 : y === 0 ? -0.1 : y - 5, 10, 10),
        );
        expect(withoutSlight(large).cell).toBe(large);
      }
    }
  });

  it('are told ink by ink', () => {
    const cell = lay(
      STRAIGHT,
      disc(20, 20, 5),
      [disc(40, 20, 4), '#cc0000'],
      [disc(60, 20, 0.1), '#cc0000'],
      [disc(70, 20, 0.1), '#00aa00'],
    );
    const { cell: left, slight, from } = withoutSlight(cell);
    expect(whys(slight)).toEqual([
      [1, 'too-small', 1],
      [2, 'too-small', 1],
    ]);
    expect(left.inks.map(({ ink, pieces }) => [ink, pieces.length])).toEqual([
      ['#000000', 1],
      ['#cc0000', 1],
      ['#00aa00', 0],
    ]);
    expect(left.inks[0]).toBe(cell.inks[0]);
    expect(from.map((list) => list.length)).toEqual([1, 1, 0]);
  });

  it('touch a seam as something slight, unless what lies beside them there is not', () => {
    const cell = lay(STRAIGHT, bar(86, 10, 8, 0.2), bar(86, 30, 8, 5));
    const told = seamStretches(cell).map(({ side, from, to, slight }) => [side, from.atMm, to.atMm, slight === true]);
    expect(told.map(([side, , , slight]) => [side, slight])).toEqual([
      ['left', true],
      ['left', false],
      ['right', true],
      ['right', false],
    ]);
    for (const [, from, to, slight] of told) {
      expect(from).toBeCloseTo(slight ? 10 : 30, 3);
      expect(to).toBeCloseTo(slight ? 10.2 : 35, 3);
    }
  });
});

describe('openings in reading order', () => {
  it('are numbered by rows of a millimetre from the top, in a row from the left', () => {
    const cell = lay(STRAIGHT, disc(60, 40.2, 1), disc(20, 40.3, 1), disc(70, 10, 1), disc(40, 25, 1), disc(5, 52, 1));
    const found = findOpenings(cell);
    expect(found.map(({ id }) => id)).toEqual(['1', '2', '3', '4', '5']);
    expect(found.map(({ atMm }) => Math.round(atMm.x / 10))).toEqual([7, 4, 2, 6, 1]);
    // One above the other in one row.
    const [upper, lower] = findOpenings(lay(STRAIGHT, bar(30, 20.05, 6, 0.3), bar(30, 19.6, 6, 0.3)));
    expect(upper.atMm.y).toBeLessThan(lower.atMm.y);
  });

  it('are told by ink, the ink’s colour before the number, and each by what it covers and crosses', () => {
    const cell = lay(THIRD_BRICK, disc(90, 30, 6), [disc(40, 60, 4), '#cc0000'], [disc(40, 20, 3), '#cc0000']);
    const found = findOpenings(cell);
    expect(found.map(({ id, ink }) => [id, ink])).toEqual([
      ['000000-1', '#000000'],
      ['cc0000-1', '#cc0000'],
      ['cc0000-2', '#cc0000'],
    ]);
    const red = found.slice(1).toSorted((a, b) => a.areaMm2 - b.areaMm2);
    expect(red.map(({ crosses }) => crosses)).toEqual([[], ['bottom']]);
    expect(found[0].crosses).toEqual(['right']);
    expect(found[0].pieces).toHaveLength(2);
    expect(found[0].areaMm2).toBeCloseTo(36 * Math.PI, 1);
    for (const { rank, areaMm2, areaBoundMm2 } of found) {
      expect(rank).toBe(0);
      expect(areaBoundMm2).toBeGreaterThan(0);
      expect(areaBoundMm2).toBeLessThan(0.01 * areaMm2);
    }
    const bands = findOpenings(lay(STRAIGHT, bar(-1, 20, W + 2, 5), bar(30, -1, 4, H + 2)));
    expect(bands).toHaveLength(1);
    expect(bands[0]).toMatchObject({ rank: 2, boxMm: null, crosses: ['right', 'bottom'] });
  });
});

describe('the pattern over a part of the cloth', () => {
  it('has every copy that reaches in, whole where it lies in it and cut where it does not', () => {
    for (const repeat of [STRAIGHT, HALF_DROP, THIRD_BRICK]) {
      const cell = lay(repeat, disc(85, 50, 8), disc(30, 20, 3));
      const box = { x0: -100, y0: -50, x1: 170, y1: 133 };
      const { areas, book } = patternIn(cell, cell.inks[0], cell.inks[0].pieces, box);
      const boxes = areas.map((area) => {
        const [{ coords }] = areaContours([area], book, cell);
        const [xs, ys] = [0, 1].map((axis) => [...coords].filter((_, k) => k % 2 === axis));
        return { x0: Math.min(...xs), y0: Math.min(...ys), x1: Math.max(...xs), y1: Math.max(...ys) };
      });
      const wanted = [];
      for (const [x, y, r] of [
        [85, 50, 8],
        [30, 20, 3],
      ]) {
        for (let i = -5; i <= 5; i++) {
          for (let j = -5; j <= 5; j++) {
            const f = repeat.step.p / repeat.step.q;
            const at = {
              x: x + W * (repeat.kind === 'brick' ? i + f * j : i),
              y: y + H * (repeat.kind === 'drop' ? j + f * i : j),
            };
            const cut = {
              x0: Math.max(box.x0, at.x - r),
              y0: Math.max(box.y0, at.y - r),
              x1: Math.min(box.x1, at.x + r),
              y1: Math.min(box.y1, at.y + r),
            };
            if (cut.x1 > cut.x0 && cut.y1 > cut.y0) wanted.push({ at, r, cut });
          }
        }
      }
      // Every disc is there once; those cut at a corner of the box may miss it.
      for (const { at, r, cut } of wanted) {
        if (cut.x1 - cut.x0 < 2 * r && cut.y1 - cut.y0 < 2 * r) continue;
        const same = boxes.filter((b) =>
          (['x0', 'y0', 'x1', 'y1'] as const).every(
            (side) => Math.abs(b[side] - cut[side]) < (cut.x1 - cut.x0 < 2 * r || cut.y1 - cut.y0 < 2 * r ? r : 0.02),
          ),
        );
        expect(same.length, `${repeat.kind} ${at.x}, ${at.y}`).toBe(1);
      }
      expect(areas.length).toBeLessThanOrEqual(wanted.length);
      const [first] = copiesOnto(cell, box);
      expect([Math.abs(first.at.x), Math.abs(first.at.y)]).toEqual([0, 0]);
    }
  });

  it('tiles the cloth straight after as many columns or rows as the step has parts', () => {
    for (const [repeat, wide, high] of [
      [STRAIGHT, 1, 1],
      [HALF_DROP, 2, 1],
      [THIRD_BRICK, 1, 3],
    ] as const) {
      const { widthMm, heightMm, inks, bleedMm } = clothTile(
        lay(repeat, disc(30, 20, 5), [disc(60, 40, 2), '#cc0000']),
      );
      expect([widthMm, heightMm]).toEqual([wide * W, high * H]);
      expect(bleedMm).toBeGreaterThan(0);
      expect(inks.map(({ ink, contours }) => [ink, contours.length])).toEqual([
        ['#000000', inks[0].contours.length],
        ['#cc0000', inks[1].contours.length],
      ]);
      expect(inks[0].contours.length).toBeGreaterThanOrEqual(wide * high);
    }
  });
});
