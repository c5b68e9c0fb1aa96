import { describe, expect, it } from 'vitest';
import { circleContour, polyline, reverseContour } from '../geometry/contour.js';
import { box } from '../strength/narrow.test-help.js';
import { castRay, cornerDistance, layBanks, normalOn, placeOn, ringDistance, turnOver } from './tie-banks.js';

/** An opening 30 mm wide and 12 mm high with round paper in it, its rim 2 mm around (20, 7). */
const BANKS = layBanks([box(5, 1, 35, 13), reverseContour(circleContour({ x: 20, y: 7 }, 2))]);
const [OUTER, RIM] = BANKS.banks;
/** Places once around the box, from its upper left to the right. */
const around = (s: number) => {
  if (s < 30) return { x: 5 + s, y: 1 };
  if (s < 42) return { x: 35, y: s - 29 };
  return s < 72 ? { x: 77 - s, y: 13 } : { x: 5, y: 85 - s };
};

describe('the banks of an opening', () => {
  it('are as long as their outlines, and know rims of paper and corners', () => {
    expect(OUTER).toMatchObject({ lengthMm: 84, corners: [0, 30, 42, 72], rim: false });
    expect(RIM.lengthMm).toBeCloseTo(4 * Math.PI, 1);
    expect(RIM).toMatchObject({ corners: [], rim: true });
  });

  it('have corners where they turn by 25° and more, either way', () => {
    const bent = (deg: number) => {
      const y = 10 * Math.tan((deg * Math.PI) / 180);
      const points = [
        { x: 0, y: 0 },
        { x: 10, y: 0 },
        { x: 20, y },
        { x: 20, y: 30 },
        { x: 0, y: 30 },
      ];
      return layBanks([polyline(points, { closed: true })]).banks[0].corners.includes(10);
    };
    expect([24, 26, -24, -26].map(bent)).toEqual([false, true, false, true]);
  });

  it('have places by length, on past their start as often as one likes', () => {
    for (const s of [0.5, 12, 29.9, 31, 41, 50, 71, 73, 83.5]) {
      for (const turns of [0, 1, -1, 3]) {
        const { x, y } = placeOn(OUTER, s + 84 * turns);
        expect(x).toBeCloseTo(around(s).x, 9);
        expect(y).toBeCloseTo(around(s).y, 9);
      }
    }
  });

  it('look into the opening', () => {
    for (const [s, x, y] of [
      [12, 0, 1],
      [36, -1, 0],
      [50, 0, -1],
      [78, 1, 0],
      [30, -Math.SQRT1_2, Math.SQRT1_2],
    ]) {
      const n = normalOn(OUTER, s, 1);
      expect(n.x).toBeCloseTo(x, 9);
      expect(n.y).toBeCloseTo(y, 9);
    }
    for (const s of [0, 1, 4, 9]) {
      const [p, n] = [placeOn(RIM, s), normalOn(RIM, s, 0.5)];
      // Away from the paper's middle.
      expect(n.x).toBeCloseTo((p.x - 20) / 2, 2);
      expect(n.y).toBeCloseTo((p.y - 7) / 2, 2);
    }
    // Over a sixth of the bank at most: 2 mm to either side on one 12 mm around.
    const [small] = layBanks([box(0, 0, 3, 3)]).banks;
    const n = normalOn(small, 0.5, 100);
    expect(n.x / n.y).toBeCloseTo(1.5 / 2.5, 9);
  });

  it('are as far from their corners as the shorter way along them', () => {
    for (let s = -5; s < 90; s += 0.7) {
      const away = [0, 30, 42, 72].map((corner) => ringDistance(s + 84, corner, 84));
      expect(cornerDistance(OUTER, s)).toBeCloseTo(Math.min(...away), 9);
    }
    expect(cornerDistance(RIM, 3)).toBe(Infinity);
    expect([ringDistance(1, 80, 84), ringDistance(80, 1, 84), ringDistance(10, 30, 84)]).toEqual([5, 5, 20]);
  });

  it('turn by their corners and by length over radius; around paper the other way', () => {
    expect(turnOver(OUTER, 15, 5)).toBeCloseTo(0, 9);
    expect(turnOver(OUTER, 30, 3)).toBeCloseTo(Math.PI / 2, 9);
    expect(turnOver(OUTER, 36, 9)).toBeCloseTo(Math.PI, 9);
    const [round] = layBanks([circleContour({ x: 0, y: 0 }, 10)]).banks;
    for (const [bank, radius, sign] of [
      [round, 10, 1],
      [RIM, 2, -1],
    ] as const) {
      const turn = turnOver(bank, 1, 0.3 * radius) * sign;
      // Seen from eight chords, which leave half a chord's turn out at either end.
      expect(turn).toBeGreaterThan(0.6 * 0.86);
      expect(turn).toBeLessThan(0.6 * 0.89);
      expect(turnOver(bank, 1, 1000) * sign).toBeLessThan(2 * Math.PI);
      expect(turnOver(bank, 1, 1000) * sign).toBeGreaterThan(1.7 * Math.PI);
    }
  });
});

describe('a straight way across an opening', () => {
  const down = { x: 0, y: 1 };

  it('ends on the bank it meets first', () => {
    expect(castRay(BANKS, { x: 10, y: 1 }, down, 25)).toMatchObject({ bank: 0, distanceMm: 12 });
    expect(castRay(BANKS, { x: 10, y: 1 }, down, 25)?.s).toBeCloseTo(67, 9);
    const hit = castRay(BANKS, { x: 20, y: 1 }, down, 25);
    expect(hit?.bank).toBe(1);
    expect(hit?.distanceMm).toBeCloseTo(4, 2);
    const p = placeOn(RIM, hit?.s ?? 0);
    expect(p.x).toBeCloseTo(20, 2);
    expect(p.y).toBeCloseTo(5, 2);
    // Level, from the left side past the paper and up to it.
    expect(castRay(BANKS, { x: 5, y: 3 }, { x: 1, y: 0 }, 40)?.distanceMm).toBeCloseTo(30, 9);
    expect(castRay(BANKS, { x: 5, y: 7 }, { x: 1, y: 0 }, 40)?.distanceMm).toBeCloseTo(13, 2);
    expect(castRay(BANKS, { x: 22, y: 7 }, { x: 1, y: 0 }, 40)?.distanceMm).toBeCloseTo(13, 2);
    const slant = castRay(BANKS, { x: 7, y: 2 }, { x: 0.6, y: 0.8 }, 40);
    expect(slant?.distanceMm).toBeCloseTo(11 / 0.8, 9);
    expect(placeOn(OUTER, slant?.s ?? 0).x).toBeCloseTo(7 + 0.6 * (11 / 0.8), 9);
  });

  it('is none where nothing lies within reach, behind it, or at all', () => {
    expect(castRay(BANKS, { x: 10, y: 1 }, down, 12.001)).not.toBeNull();
    expect(castRay(BANKS, { x: 10, y: 1 }, down, 11.999)).toBeNull();
    expect(castRay(BANKS, { x: 10, y: 20 }, down, 100)).toBeNull();
    expect(castRay(layBanks([]), { x: 0, y: 0 }, down, 100)).toBeNull();
  });
});
