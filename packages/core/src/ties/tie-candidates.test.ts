import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { circleContour, reverseContour } from '../geometry/contour.js';
import { pointDistance, segmentDistance } from '../geometry/segments.js';
import type { Contour } from '../geometry/types.js';
import { box, ring } from '../strength/narrow.test-help.js';
import { layBanks, normalOn, placeOn } from './tie-banks.js';
import { findCandidates, hasPlainRoom, hindrance } from './tie-candidates.js';
import { indexCurves } from './tie-reach.js';

const TIE = { widthMm: 2, flareMm: 0.5, largeMm2: 400, hide: true };
const RULES = { neckMm: 1, slitMm: 0.8, spanMm: 60, tongueRatio: 6, stroke: 'down', turnMm: 1.5 } as const;
const anyone = { widthMm: 2, wanted: () => true };

const coordinate = fc.integer({ min: -20, max: 20 });
const point = fc.record({ x: coordinate, y: coordinate });
const stretch = fc.record({ from: point, to: point });
const along = ({ from, to }: { from: { x: number; y: number }; to: { x: number; y: number } }, n: number) =>
  Array.from({ length: n + 1 }, (_, k) => ({
    x: from.x + ((to.x - from.x) * k) / n,
    y: from.y + ((to.y - from.y) * k) / n,
  }));

describe('distances', () => {
  it('of a point from a straight stretch is to the nearest of all its places', () => {
    fc.assert(
      fc.property(stretch, point, (line, at) => {
        const least = Math.min(...along(line, 2000).map((p) => Math.hypot(p.x - at.x, p.y - at.y)));
        expect(pointDistance(line, at)).toBeLessThanOrEqual(least + 1e-9);
        expect(pointDistance(line, at)).toBeGreaterThan(least - 0.03);
      }),
      { numRuns: 60 },
    );
  });

  it('of two straight stretches is the least of their places, nothing where they cross, and the same both ways', () => {
    fc.assert(
      fc.property(stretch, stretch, (a, b) => {
        const least = Math.min(...along(a, 1000).map((p) => pointDistance(b, p)));
        const found = segmentDistance(a, b);
        expect(found).toBeLessThanOrEqual(least + 1e-9);
        expect(found).toBeGreaterThan(least - 0.06);
        expect(segmentDistance(b, a)).toBeCloseTo(found, 9);
      }),
      { numRuns: 80 },
    );
  });
});

describe('ways across an opening', () => {
  const openings: [string, Contour[]][] = [
    ['hall', [box(0, 0, 60, 9)]],
    ['ring', [circleContour({ x: 30, y: 30 }, 25), reverseContour(circleContour({ x: 32, y: 30 }, 15))]],
    [
      'wedge',
      [
        ring([
          [0, 0],
          [70, 0],
          [70, 20],
          [0, 4],
        ]),
      ],
    ],
  ];

  it('lead from bank to bank through the opening, at most 25 mm, nearly square to both', () => {
    for (const [name, contours] of openings) {
      const banks = layBanks(contours);
      const found = findCandidates(banks, anyone);
      expect(found.length, name).toBeGreaterThan(10);
      for (const { from, to, lengthMm, fromBank, fromS, toBank, toS } of found) {
        expect(placeOn(banks.banks[fromBank], fromS)).toEqual(from);
        expect(placeOn(banks.banks[toBank], toS)).toEqual(to);
        expect(Math.hypot(to.x - from.x, to.y - from.y)).toBeCloseTo(lengthMm, 6);
        expect(lengthMm).toBeLessThanOrEqual(25);
        const way = { x: (to.x - from.x) / lengthMm, y: (to.y - from.y) / lengthMm };
        const [n, m] = [normalOn(banks.banks[fromBank], fromS, 1), normalOn(banks.banks[toBank], toS, 1)];
        const [here, there] = [way.x * n.x + way.y * n.y, -way.x * m.x - way.y * m.y];
        const square = Math.cos((20.001 * Math.PI) / 180);
        expect(here).toBeGreaterThanOrEqual(square);
        expect(there).toBeGreaterThanOrEqual(square);
        expect(Math.abs(Math.acos(Math.min(1, here)) - Math.acos(Math.min(1, there)))).toBeLessThan(Math.PI / 9);
      }
    }
  });

  it('start at most 2.5 mm apart all along the banks, and are those asked for', () => {
    const banks = layBanks(openings[0][1]);
    const places = findCandidates(banks, anyone)
      .filter(({ from, to }) => from.y === 0 && to.y === 9)
      .map(({ from }) => from.x)
      .toSorted((a, b) => a - b);
    expect(places[0]).toBeLessThan(3);
    expect(places[places.length - 1]).toBeGreaterThan(57);
    for (let k = 1; k < places.length; k++) expect(places[k] - places[k - 1]).toBeLessThanOrEqual(2.5 + 1e-9);
    const two = layBanks(openings[1][1]);
    const inward = findCandidates(two, { widthMm: 2, wanted: (from, to) => from === 0 && to === 1 });
    expect(inward.length).toBeGreaterThan(10);
    expect(inward.every(({ fromBank, toBank }) => fromBank === 0 && toBank === 1)).toBe(true);
  });

  it('find the narrowest place, which lies between those that are tried', () => {
    // Circles 1 mm off each other's middle: 8 mm apart to the right, 12 mm to the left.
    const found = findCandidates(layBanks(openings[1][1]), anyone);
    const least = Math.min(...found.map(({ lengthMm }) => lengthMm));
    expect(least).toBeCloseTo(8, 2);
    expect(found.find(({ lengthMm }) => lengthMm === least)?.from.y).toBeCloseTo(30, 0);
  });

  it('are none where no bank lies within 25 mm, or a bank is shorter than a tie is wide', () => {
    expect(findCandidates(layBanks([box(0, 0, 60, 24.9)]), anyone).length).toBeGreaterThan(0);
    expect(findCandidates(layBanks([box(0, 0, 60, 25.1)]), anyone)).toEqual([]);
    expect(findCandidates(layBanks([circleContour({ x: 0, y: 0 }, 0.3)]), anyone)).toEqual([]);
  });
});

describe('what hinders a tie', () => {
  const hall = box(0, 0, 60, 9);
  const banks = layBanks([hall]);
  const outlines = indexCurves([hall]);
  const at = (x: number) => ({
    ...{ from: { x, y: 0 }, to: { x, y: 9 }, lengthMm: 9, fromBank: 0, fromS: x, toBank: 0, toS: 129 - x },
    narrow: false,
  });
  const hinders = (
    x: number,
    keepOff: readonly { from: { x: number; y: number }; to: { x: number; y: number } }[] = [],
  ) => hindrance(at(x), { banks, outlines, tie: TIE, rules: RULES, keepOff });

  it('is nothing in the midst of a hall', () => expect(hinders(30)).toBeNull());

  it('is a slit that would be left beside it: half its width, its flare and a slit off the end', () => {
    expect(hinders(2.32)).toBeNull();
    expect(hinders(2.3)).toBe('slit');
    expect(hinders(57.68)).toBeNull();
    expect(hinders(57.7)).toBe('slit');
  });

  it('is a line from which ties stay clear: half its width, its flare and a millimetre off', () => {
    const line = (x: number) => [{ from: { x, y: -50 }, to: { x, y: 50 } }];
    expect(hinders(30, line(32.51))).toBeNull();
    expect(hinders(30, line(32.49))).toBe('line');
    expect(hinders(30, line(27.51))).toBe('line');
    expect(hinders(30, [...line(50), ...line(30)])).toBe('line');
  });

  it('is a bank too far away within its width', () => {
    const open = ring([
      [0, 0],
      [60, 0],
      [60, 40],
      [30.5, 40],
      [30.5, 9],
      [0, 9],
    ]);
    const options = { banks: layBanks([open]), outlines: indexCurves([open]), tie: TIE, rules: RULES, keepOff: [] };
    expect(hindrance(at(10), options)).toBeNull();
    expect(hindrance(at(30), options)).toBe('landing');
  });

  it('is plainly no slit with room and a half on both sides and no corner near', () => {
    const plain = (x: number) => hasPlainRoom(at(x), { banks, tie: TIE, rules: RULES });
    // 1 + 0.5 + 1.5 · 0.8 mm.
    expect(plain(2.71)).toBe(true);
    expect(plain(2.69)).toBe(false);
    expect(plain(57.29)).toBe(true);
    expect(plain(57.31)).toBe(false);
    const low = layBanks([box(0, 0, 60, 1.5)]);
    const short = { ...at(30), to: { x: 30, y: 1.5 }, lengthMm: 1.5, toS: 91.5 };
    expect(hasPlainRoom(short, { banks: low, tie: TIE, rules: RULES })).toBe(false);
    expect(hasPlainRoom(short, { banks: low, tie: TIE, rules: { ...RULES, slitMm: 0.75 } })).toBe(true);
  });
});
