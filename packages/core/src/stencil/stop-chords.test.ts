import { describe, expect, it } from 'vitest';
import type { GridPath, GridPoint } from '../geometry/grid.js';
import type { Bank, BankPlace } from './stop-banks.js';
import { cornerChords, crossesRings, insideRings, narrowestChord } from './stop-chords.js';

/** Grid units a mm. */
const SCALE = 100;

const path = (...places: (readonly [number, number])[]): GridPath => places.map(([x, y]) => ({ x, y, z: 0 }));
const at = (x: number, y: number): GridPoint => ({ x, y, z: 0 });

/** A bank along an outline that is `x(off)` to the side `off` mm from the line; corners at the offs named. In mm. */
function bank(x: (off: number) => number, { corners = [] as number[], until = 8 } = {}): Bank {
  const places = Array.from({ length: 4 * until + 1 }, (_, k): BankPlace => {
    const off = k / 4;
    const p = at(SCALE * x(off), -SCALE * off);
    return { x: p.x, y: p.y, after: p, before: p, off: SCALE * off, corner: corners.includes(off) };
  });
  return { places, met: false };
}

describe('chords from the corners beside a stop', () => {
  it('lead from corner to corner where two lie opposite, whichever bank comes first, nearest to the line first', () => {
    const left = bank(() => 0, { corners: [7, 2] });
    const right = bank(() => 4, { corners: [2.25] });
    const chords = cornerChords([left, right], 400, SCALE);
    expect(chords.map(({ off }) => off)).toEqual([225, 225, 700]);
    for (const { from, to, length } of chords) {
      expect(from.x).toBe(0);
      expect(to.x).toBe(400);
      expect(length).toBeCloseTo(Math.hypot(from.x - to.x, from.y - to.y), 9);
    }
    // The third has no corner near: straight across.
    expect(chords.map(({ from, to }) => [from.off, to.off])).toEqual([
      [200, 225],
      [200, 225],
      [700, 700],
    ]);
  });

  it('take the corner opposite up to 1.3 times the shortest way and half a millimetre more', () => {
    const lengthTo = (off: number) => {
      const [chord] = cornerChords([bank(() => 0, { corners: [1] }), bank(() => 4, { corners: [off] })], 500, SCALE);
      return chord.length;
    };
    // 1.3 · 4 + 0.5 = 5.7 mm: as far as 4.06 mm along.
    expect(lengthTo(5)).toBeCloseTo(100 * Math.hypot(4, 4), 9);
    expect(lengthTo(5.25)).toBe(400);
  });

  it('are none of more than one and a half stops, nor of less than 0.2 mm', () => {
    const chords = (wide: number, line: number) =>
      cornerChords([bank(() => 0, { corners: [3] }), bank(() => wide)], line, SCALE).length;
    expect(chords(6, 400)).toBe(1);
    expect(chords(6, 399)).toBe(0);
    expect(chords(0.2, 400)).toBe(1);
    expect(chords(0.19, 400)).toBe(0);
    expect(cornerChords([bank(() => 0), bank(() => 3)], 300, SCALE)).toEqual([]);
    expect(cornerChords([bank(() => 0, { corners: [3] }), { places: [], met: false }], 300, SCALE)).toEqual([]);
  });
});

describe('the narrowest chord beside a stop', () => {
  const waist = (least: number, where: number) =>
    narrowestChord([bank(() => 0), bank((off) => least + 0.1 * Math.abs(off - where))], 500, SCALE);

  it('lies across the waist, from the first bank to the second', () => {
    const chord = waist(3, 5);
    expect(chord?.off).toBe(500);
    expect(chord?.length).toBeLessThanOrEqual(1.005 * 300);
    expect(chord?.from.x).toBe(0);
    expect(chord?.to.x).toBe(300);
    const mirrored = narrowestChord([bank((off) => 3 + 0.1 * Math.abs(off - 5)), bank(() => 0)], 500, SCALE);
    expect(mirrored?.from.x).toBe(300);
    expect(mirrored?.to.x).toBe(0);
  });

  it('is at most 85 % of the stop, and 0.2 mm at least', () => {
    expect(waist(4.25, 5)).not.toBeNull();
    expect(waist(4.26, 5)).toBeNull();
    expect(narrowestChord([bank(() => 0), bank(() => 0.2)], 500, SCALE)).toMatchObject({ length: 20 });
    expect(narrowestChord([bank(() => 0), bank(() => 0.19)], 500, SCALE)).toBeNull();
    expect(narrowestChord([bank(() => 0), { places: [], met: false }], 500, SCALE)).toBeNull();
  });

  it('of widths alike to half a per cent is that nearest to the line', () => {
    expect(narrowestChord([bank(() => 0), bank(() => 3)], 500, SCALE)?.off).toBe(0);
    const narrowing = (by: number) =>
      narrowestChord([bank(() => 0), bank((off) => (off < 6 ? 3 * (1 + by) : 3))], 500, SCALE)?.off;
    expect(narrowing(0.004)).toBe(0);
    expect(narrowing(0.04)).toBe(600);
  });
});

describe('a straight line and rings', () => {
  const square = path([0, 0], [1000, 0], [1000, 600], [0, 600]);
  const hole = path([400, 200], [400, 300], [600, 300], [600, 200]);

  it('crosses what stands in its way, and not what it only starts or ends on', () => {
    expect(crossesRings(at(0, 100), at(1000, 150), [square])).toBe(false);
    expect(crossesRings(at(0, 0), at(1000, 600), [square])).toBe(false);
    expect(crossesRings(at(0, 250), at(1000, 250), [square, hole])).toBe(true);
    expect(crossesRings(at(0, 450), at(1000, 450), [square, hole])).toBe(false);
    expect(crossesRings(at(500, 0), at(500, 600), [square, hole])).toBe(true);
    expect(crossesRings(at(500, 0), at(500, 200), [square, hole])).toBe(false);
    expect(crossesRings(at(-200, 250), at(300, 250), [square])).toBe(true);
    expect(crossesRings(at(-200, -250), at(-300, 900), [square, hole])).toBe(false);
  });

  it('is stopped by a corner of an outline that lies on it', () => {
    const notched = path([0, 0], [1000, 0], [1000, 600], [500, 300], [0, 600]);
    expect(crossesRings(at(0, 300), at(1000, 300), [notched])).toBe(true);
    // To the rounding of the grid, and no farther.
    expect(crossesRings(at(0, 297), at(1000, 301), [notched])).toBe(true);
    expect(crossesRings(at(0, 290), at(1000, 301), [notched])).toBe(false);
    expect(crossesRings(at(0, 310), at(1000, 310), [notched])).toBe(true);
    expect(crossesRings(at(500, 300), at(700, 0), [notched])).toBe(false);
  });

  it('a place lies inside within the outline and out of the holes, told on all sides of them', () => {
    for (const [x, y, inside] of [
      [100, 250, true],
      [900, 250, true],
      [500, 100, true],
      [500, 450, true],
      [500, 250, false],
      [-50, 250, false],
      [1050, 250, false],
      [500, -50, false],
      [500, 650, false],
    ] as const) {
      expect(insideRings(at(x, y), [square, hole]), `${x}, ${y}`).toBe(inside);
    }
    expect(insideRings(at(700, 300), [path([0, 0], [1000, 0], [0, 600])])).toBe(false);
    expect(insideRings(at(300, 300), [path([0, 0], [1000, 0], [0, 600])])).toBe(true);
    expect(insideRings(at(500, 250), [])).toBe(false);
  });
});
