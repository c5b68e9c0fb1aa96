import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { circleContour, contourArea, reverseContour } from '../geometry/contour.js';
import { findIslands } from '../strength/islands.js';
import { box, sheet } from '../strength/narrow.test-help.js';
import type { Island, SheetOutline } from '../strength/types.js';
import { StandingTies } from './standing-ties.js';
import { cutOpening } from './tie-cut.js';
import { barCost } from './tie-hiding.js';
import { tieName, tieNumber } from './tie-names.js';
import { groupOpenings, needsOf } from './tie-needs.js';
import { paperBanks } from './tie-nodes.js';

const disc = (x: number, y: number, r: number) => circleContour({ x, y }, r);
const rim = (x: number, y: number, r: number) => reverseContour(disc(x, y, r));

describe('ties that stand', () => {
  const tie = fc
    .record({
      x: fc.integer({ min: -40, max: 40 }),
      y: fc.integer({ min: -40, max: 40 }),
      deg: fc.constantFrom(0, 90, 45, 3, 177, 92),
      mm: fc.integer({ min: 1, max: 24 }),
    })
    .map(({ x, y, deg, mm }) => {
      const a = (deg * Math.PI) / 180;
      return { from: { x, y }, to: { x: x + mm * Math.cos(a), y: y + mm * Math.sin(a) } };
    });

  it('cost a new one for each bar that it would make with one of them, whatever was taken away before', () => {
    fc.assert(
      fc.property(fc.array(tie, { maxLength: 30 }), fc.array(tie, { maxLength: 5 }), tie, (stand, gone, next) => {
        const ties = new StandingTies(2);
        for (const one of [...stand, ...gone]) ties.add(one);
        for (const one of [...gone, { ...next }]) ties.remove(one);
        expect(ties.barsOf(next)).toBeCloseTo(
          stand.reduce((sum, one) => sum + barCost(next, one, 2), 0),
          6,
        );
      }),
      { numRuns: 150 },
    );
  });
});

describe('an opening with strips left standing in it', () => {
  it('falls into what lies between them, on its own curves, with room for a disc', () => {
    const ring = [disc(30, 30, 20), rim(30, 30, 12)];
    const halves = cutOpening(ring, [box(29, 5, 31, 55)]);
    expect(halves).toHaveLength(2);
    for (const { contours, roomMm } of halves) {
      expect(contours).toHaveLength(1);
      // Half of the ring, but for half of a bar 2 mm wide on both sides.
      const bar = (r: number) => Math.asin(1 / r) * r * r + Math.sqrt(r * r - 1);
      expect(contourArea(contours[0])).toBeCloseTo((Math.PI * (400 - 144)) / 2 - (bar(20) - bar(12)), 1);
      expect(roomMm).toBeGreaterThan(7.5);
      expect(roomMm).toBeLessThan(8.01);
    }
    expect(cutOpening(ring, [])).toHaveLength(1);
    expect(cutOpening(ring, [])[0].contours).toHaveLength(2);
    expect(cutOpening(ring, [box(29, 5, 31, 30)])[0].contours).toHaveLength(1);
    expect(cutOpening(ring, [box(0, 0, 60, 60)])).toEqual([]);
    expect(cutOpening([], [box(0, 0, 60, 60)])).toEqual([]);
  });

  it('leaves no slivers of rounding', () => {
    const slanting = [box(0, 0, 30.0000004, 20)];
    expect(cutOpening(slanting, [box(-1, -1, 30, 21)])).toEqual([]);
    expect(cutOpening([box(0, 0, 30.01, 20)], [box(-1, -1, 30, 21)])).toHaveLength(1);
  });
});

describe('what islands need', () => {
  const island = (id: string, areaMm2: number, within: string | null, opening = 0) =>
    ({ id, areaMm2, within, opening }) as Island;

  it('is one tie each, two above a size, and two for all that holds such a one', () => {
    const list = [
      island('1', 30, null),
      island('2', 500, '1'),
      island('3', 20, '2'),
      island('4', 401, '3'),
      island('5', 400, null),
    ];
    const needs = (limit: number) => [...needsOf(list, new Map(list.map((i) => [i.id, i])), limit).values()];
    expect(needs(400)).toEqual([2, 2, 2, 2, 1]);
    expect(needs(450)).toEqual([2, 2, 1, 1, 1]);
    expect(needs(1000)).toEqual([1, 1, 1, 1, 1]);
    expect(needs(25)).toEqual([2, 2, 2, 2, 2]);
    // What an island lies in is not on the list where it is held.
    expect([...needsOf([island('7', 900, '6')], new Map(), 400).values()]).toEqual([2]);
    expect(needsOf([], new Map(), 400).size).toBe(0);
  });

  it('is found opening by opening', () => {
    const paper = sheet([
      disc(0, 0, 20),
      rim(0, 0, 10),
      disc(60, 0, 20),
      rim(60, 0, 15),
      disc(60, 0, 8),
      rim(60, 0, 4),
    ]);
    const outlines: SheetOutline[] = [0, 0, 1, 1, 2, 2].map((opening, k) => ({
      opening,
      contour: paper.outlines[k].contour,
    }));
    const islands = findIslands({ ...paper, outlines });
    const banks = paperBanks({ ...paper, outlines }, islands);
    const groups = groupOpenings(islands, banks);
    expect(groups.map(({ openings, members }) => [openings, members.map(({ id }) => id)])).toEqual([
      [[0], ['1']],
      [[1], ['2']],
      [[2], ['3']],
    ]);
    expect([...banks.openings.keys()]).toEqual([0, 1, 2]);
    expect(banks.mixed.size).toBe(0);
    // Paper behind the banks: outwards of an opening, inwards of a rim.
    expect(banks.behind(0, 0, { x: 20, y: 0 }, { x: 1, y: 0 })).toBe('held');
    expect(banks.behind(0, 1, { x: 10, y: 0 }, { x: -1, y: 0 })).toBe(islands[0]);
    expect(banks.behind(1, 0, { x: 80, y: 0 }, { x: 1, y: 0 })).toBe('held');
    expect(banks.behind(2, 0, { x: 68, y: 0 }, { x: 1, y: 0 })).toBe(islands[1]);
    expect(banks.behind(2, 1, { x: 64, y: 0 }, { x: -1, y: 0 })).toBe(islands[2]);
  });

  it('is asked of touching openings together, where they cut off one island', () => {
    // Two halves of a frame that touch along both ends, each by itself a bracket.
    const left = { contour: box(0, 0, 20, 30), opening: 3 };
    const bracket = (x: (v: number) => number) => [
      [x(0), 0],
      [x(20), 0],
      [x(20), 5],
      [x(5), 5],
      [x(5), 25],
      [x(20), 25],
      [x(20), 30],
      [x(0), 30],
    ];
    const path = (points: number[][]) => {
      const coords = [...points[0]];
      points.forEach(([x0, y0], k) => {
        const [x1, y1] = points[(k + 1) % points.length];
        coords.push((2 * x0 + x1) / 3, (2 * y0 + y1) / 3, (x0 + 2 * x1) / 3, (y0 + 2 * y1) / 3, x1, y1);
      });
      return { closed: true, coords: Float64Array.from(coords) };
    };
    const outlines: SheetOutline[] = [
      { ...left, contour: path(bracket((v) => v)) },
      { contour: reverseContour(path(bracket((v) => 40 - v))), opening: 5 },
      { contour: disc(100, 0, 10), opening: 6 },
      { contour: rim(100, 0, 5), opening: 6 },
    ];
    const paper = { edge: { x0: -50, y0: -50, x1: 200, y1: 100 }, outlines };
    const islands = findIslands(paper);
    expect(islands).toHaveLength(2);
    const banks = paperBanks(paper, islands);
    const middle = islands.find(({ areaMm2 }) => areaMm2 > 500) as Island;
    expect(middle.areaMm2).toBeCloseTo(600, 6);
    expect(banks.about.get(middle)?.toSorted()).toEqual([3, 5]);
    expect([...banks.mixed].toSorted()).toEqual([3, 5]);
    const [both] = groupOpenings(islands, banks).filter(({ members }) => members.includes(middle));
    expect(both.openings.toSorted()).toEqual([3, 5]);
    expect(banks.behind(3, 0, { x: 5, y: 15 }, { x: 1, y: 0 })).toBe(middle);
    expect(banks.behind(3, 0, { x: 0, y: 15 }, { x: -1, y: 0 })).toBe('held');
    expect(banks.behind(5, 0, { x: 35, y: 15 }, { x: -1, y: 0 })).toBe(middle);
  });
});

it('a tie’s name and number say the same', () => {
  expect([tieName(3, 'printed'), tieName(12, 'release')]).toEqual(['T3', 'R12']);
  expect(['T3', 'R12', 'T999999', 'T0', 'T03', 'X3', 'T', '3', 'T3a', 'aT3', 'T1234567'].map(tieNumber)).toEqual([
    3, 12, 999999, 0, 0, 0, 0, 0, 0, 0, 0,
  ]);
});
