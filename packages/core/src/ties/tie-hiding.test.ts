import { describe, expect, it } from 'vitest';
import { circleContour, reverseContour } from '../geometry/contour.js';
import { box } from '../strength/narrow.test-help.js';
import { type Banks, layBanks, placeOn } from './tie-banks.js';
import { findCandidates, type TieCandidate } from './tie-candidates.js';
import { barCost, hidingAt, inLine, shownCost } from './tie-hiding.js';

const WIDTH = { widthMm: 2 };

/** A tie between two places of banks. */
function between(
  banks: Banks,
  [fromBank, fromS]: [number, number],
  [toBank, toS]: [number, number],
  narrow = false,
): TieCandidate {
  const [from, to] = [placeOn(banks.banks[fromBank], fromS), placeOn(banks.banks[toBank], toS)];
  return { from, to, lengthMm: Math.hypot(to.x - from.x, to.y - from.y), fromBank, fromS, toBank, toS, narrow };
}

describe('a tie is hidden', () => {
  // 80 mm wide, 10 mm high: corners at 0, 80, 90 and 170 along the bank.
  const hall = layBanks([box(0, 0, 80, 10)]);
  const at = (x: number, beside = x, narrow = false) =>
    hidingAt(between(hall, [0, x], [0, 170 - beside], narrow), hall, WIDTH);

  it('beside a corner of either bank: wholly within three quarters of its width, not at all beyond two and a half', () => {
    for (const [mm, grade] of [
      [0.5, 1],
      [1.5, 1],
      [3.25, 0.5],
      [4.3, 0.2],
      [5, 0],
      [30, 0],
    ]) {
      expect(at(mm).grade).toBeCloseTo(grade, 9);
      expect(at(30, mm).grade).toBeCloseTo(grade, 9);
      expect(at(mm, 30).grade).toBeCloseTo(grade, 9);
      expect(at(mm).hidden).toBe(grade >= 0.5);
    }
    expect(at(3.2).hidden).toBe(true);
    expect(at(3.3).hidden).toBe(false);
  });

  it('where the opening is narrow by itself', () => {
    expect(at(30, 30, true)).toEqual({ grade: 0.6, hidden: true, smooth: false });
    expect(at(1, 30, true).grade).toBe(1);
  });

  it('not on a smooth outer curve, which it would flatten', () => {
    const ring = (radius: number) =>
      layBanks([circleContour({ x: 0, y: 0 }, radius), reverseContour(circleContour({ x: 0, y: 0 }, radius - 5))]);
    const on = (banks: Banks) => hidingAt(between(banks, [0, 1], [1, banks.banks[1].lengthMm - 1]), banks, WIDTH);
    expect(on(ring(30))).toEqual({ grade: 0, hidden: false, smooth: true });
    // 8° over ten millimetres is a radius of some 63 mm (seven of eight chords' turns are seen).
    expect(on(ring(55)).smooth).toBe(true);
    expect(on(ring(80)).smooth).toBe(false);
    // A rim of paper does not bulge outwards, nor does a straight bank, nor one with a corner near.
    const round = ring(30);
    expect(hidingAt(between(round, [1, 1], [1, 70]), round, WIDTH).smooth).toBe(false);
    expect(at(30).smooth).toBe(false);
    expect(at(1).smooth).toBe(false);
  });
});

describe('what a tie costs', () => {
  it('is its length where it is hidden, half as much again where it shows, and more on a smooth curve', () => {
    const cost = (grade: number, smooth = false) => shownCost(6, { grade, hidden: grade >= 0.5, smooth }, 5);
    expect(cost(1)).toBe(6);
    expect(cost(0)).toBe(9);
    expect(cost(0.5)).toBe(7.5);
    expect(cost(0, true)).toBe(13.5);
  });

  it('is that of the worst place above one and a half times the shortest', () => {
    const hidden = { grade: 1, hidden: true, smooth: false };
    expect(shownCost(7.5, hidden, 5)).toBe(7.5);
    expect(shownCost(7.6, hidden, 5)).toBeCloseTo(17.1, 9);
    // So that the shortest never costs more than one too long, however it shows.
    expect(shownCost(5, { grade: 0, hidden: false, smooth: true }, 5)).toBeLessThan(shownCost(7.6, hidden, 5));
  });
});

describe('two ties make a bar', () => {
  const level = (x: number, y: number, length: number, deg = 0) => {
    const a = (deg * Math.PI) / 180;
    return { from: { x, y }, to: { x: x + length * Math.cos(a), y: y + length * Math.sin(a) } };
  };
  const first = level(0, 0, 4);
  const flipped = ({ from, to }: ReturnType<typeof level>) => ({ from: to, to: from });

  it('on one line within a width, in one direction within 10°, and no more than 30 mm apart', () => {
    for (const [other, bar] of [
      [level(34, 0, 6), true],
      [level(34.1, 0, 6), false],
      [level(20, 1.9, 6), true],
      [level(20, 2.1, 6), false],
      [level(20, -2.1, 6), false],
      [level(8, 0, 6, 9), true],
      [level(8, 0, 6, -9), true],
      [level(8, 0, 6, 11), false],
      [level(8, 0, 6, 90), false],
    ] as const) {
      for (const one of [first, flipped(first)]) {
        for (const two of [other, flipped(other)]) {
          expect(inLine(one, two, 2)).toBe(bar);
          expect(inLine(two, one, 2)).toBe(bar);
          expect(barCost(one, two, 2)).toBeCloseTo(bar ? 30 : 0, 9);
        }
      }
    }
  });

  it('wherever they lie on the sheet', () => {
    const moved = (tie: typeof first, deg: number) => {
      const a = (deg * Math.PI) / 180;
      const to = ({ x, y }: { x: number; y: number }) => ({
        x: 70 + x * Math.cos(a) - y * Math.sin(a),
        y: 30 + x * Math.sin(a) + y * Math.cos(a),
      });
      return { from: to(tie.from), to: to(tie.to) };
    };
    for (let deg = 0; deg < 360; deg += 37) {
      expect(inLine(moved(first, deg), moved(level(20, 1.5, 6), deg), 2)).toBe(true);
      expect(inLine(moved(first, deg), moved(level(20, 2.5, 6), deg), 2)).toBe(false);
    }
  });
});

it('narrow places of an opening are those from which it widens by a quarter on both sides', () => {
  const waist = (dip: number) => {
    const xs = Array.from({ length: 81 }, (_, k) => k / 2);
    const dent = (x: number) => dip * Math.exp(-(((x - 20) / 7) ** 2));
    const points = [...xs.map((x) => ({ x, y: dent(x) })), ...xs.reverse().map((x) => ({ x, y: 8 - dent(x) }))];
    const coords = points.flatMap(({ x, y }) => [x, y]);
    const cubics = points.flatMap(({ x, y }, k) => {
      const q = points[(k + 1) % points.length];
      return [(2 * x + q.x) / 3, (2 * y + q.y) / 3, (x + 2 * q.x) / 3, (y + 2 * q.y) / 3, q.x, q.y];
    });
    const banks = layBanks([{ closed: true, coords: Float64Array.from([...coords.slice(0, 2), ...cubics]) }]);
    return findCandidates(banks, { widthMm: 2, wanted: () => true });
  };
  const narrow = waist(2).filter(({ narrow }) => narrow);
  expect(narrow.length).toBeGreaterThan(0);
  for (const { from, lengthMm } of narrow) {
    expect(Math.abs(from.x - 20)).toBeLessThan(7);
    expect(lengthMm).toBeLessThan(8 / 1.25);
  }
  expect(Math.min(...narrow.map(({ lengthMm }) => lengthMm))).toBeCloseTo(4, 1);
  // 7.2 mm in its narrowest place widens by a ninth only.
  expect(waist(0.4).some(({ narrow }) => narrow)).toBe(false);
});
