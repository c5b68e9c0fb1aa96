import { describe, expect, it } from 'vitest';
import type { GridPath } from '../geometry/grid.js';
import { followBank } from './stop-banks.js';

/** Grid units a mm. */
const SCALE = 1000;
const mm = (...places: (readonly [number, number])[]): GridPath =>
  places.map(([x, y]) => ({ x: SCALE * x, y: SCALE * y, z: 0 }));

/** Follows a ring whose first side lies on the line y = 0, away from it: backward from its first corner, or onward from its second. */
function follow(ring: GridPath, way: 1 | -1, { limit = 8, walls = [] as number[] } = {}) {
  const [start, goal] = way === 1 ? [1, 0] : [0, 1];
  return followBank(ring, start, goal, way, {
    scale: SCALE,
    limit: limit * SCALE,
    off: (p) => Math.abs(p.y),
    isWall: (p) => walls.some((k) => ring[k] === p),
  });
}
/** A bar 4 mm wide that runs 20 mm away from the line; `bend` is how far its end lies aside. */
const bar = (bend = 0) => mm([0, 0], [4, 0], [4 + bend / 5, 4], [4 + bend, 20], [bend, 20], [bend / 5, 4]);

describe('the outline beside a stop', () => {
  it('is followed both ways as places at most 0.3 mm apart, up to the limit', () => {
    for (const way of [1, -1] as const) {
      const { places, met } = follow(bar(), way);
      expect(met).toBe(false);
      expect(places[0]).toMatchObject({ x: way === 1 ? 4000 : 0, y: 0, off: 0, corner: false });
      expect(places.every(({ x }) => x === (way === 1 ? 4000 : 0))).toBe(true);
      places.slice(1).forEach((p, k) => {
        expect(p.y - places[k].y).toBeGreaterThan(0);
        expect(p.y - places[k].y).toBeLessThanOrEqual(300.001);
        expect(p.off).toBe(p.y);
      });
      const last = places[places.length - 1];
      expect(last.off).toBeLessThanOrEqual(8000);
      expect(last.off).toBeGreaterThan(7700);
    }
  });

  it('says between which corners of the ring a place lies, in the ring’s own order', () => {
    const ring = bar();
    for (const way of [1, -1] as const) {
      for (const { x, y, after, before } of follow(ring, way).places) {
        const [k, n] = [ring.indexOf(after), ring.indexOf(before)];
        if (k === n) expect([x, y]).toEqual([ring[k].x, ring[k].y]);
        else {
          expect(n).toBe((k + 1) % ring.length);
          expect(y).toBeGreaterThan(Math.min(after.y, before.y));
          expect(y).toBeLessThan(Math.max(after.y, before.y));
        }
      }
    }
  });

  it('has a corner where it turns by 30° and more', () => {
    const cornersOf = (deg: number, way: 1 | -1) => {
      const x = 16 * Math.tan((deg * Math.PI) / 180);
      return follow(mm([0, 0], [4, 0], [4, 4], [4 + x, 20], [x, 20], [0, 4]), way)
        .places.filter(({ corner }) => corner)
        .map((p) => p.y);
    };
    for (const way of [1, -1] as const) {
      expect(cornersOf(31, way)).toEqual([4000]);
      expect(cornersOf(-31, way)).toEqual([4000]);
      expect(cornersOf(29, way)).toEqual([]);
    }
  });

  it('has no corner where it bends over half a millimetre and more, nor at the stop itself', () => {
    /** A right angle rounded at a radius, in steps of 3°. */
    const rounded = (radius: number) => {
      const arc = Array.from({ length: 31 }, (_, k): [number, number] => {
        const a = (k * Math.PI) / 60;
        return [4 + radius - radius * Math.cos(a), 3 + radius * Math.sin(a)];
      });
      const ring = mm([0, 0], [4, 0], ...arc, [30, 3 + radius], [30, 12], [0, 12]);
      return follow(ring, 1).places.filter(({ x, corner }) => corner && x < 10 * SCALE).length;
    };
    expect(rounded(1.5)).toBe(0);
    // A bend this tight is one corner, however many places it is made of.
    expect(rounded(0.1)).toBe(1);
  });

  it('comes round to the other end of the stop where the piece ends within the limit', () => {
    const short = mm([0, 0], [4, 0], [4, 6], [0, 6]);
    for (const way of [1, -1] as const) {
      const { places, met } = follow(short, way);
      expect(met).toBe(true);
      expect(places.filter(({ corner }) => corner).map(({ y }) => y)).toEqual([6000, 6000]);
      expect(places[places.length - 1]).toMatchObject({ x: way === 1 ? 0 : 4000, y: 0 });
      expect(follow(short, way, { limit: 5 }).met).toBe(false);
      expect(follow(short, way, { limit: 5 }).places.every(({ off }) => off <= 5000)).toBe(true);
    }
  });

  it('ends at walls, and before what runs from one to the next', () => {
    const ring = mm([0, 0], [4, 0], [4, 3], [4, 5], [0, 5], [0, 3]);
    expect(follow(ring, 1, { walls: [3] }).places.at(-1)?.y).toBeLessThan(5000);
    expect(follow(ring, 1, { walls: [3] }).places.at(-1)?.y).toBeGreaterThan(4600);
    expect(follow(ring, 1, { walls: [2, 3] }).places.at(-1)?.y).toBeLessThan(3000);
    expect(follow(ring, -1, { walls: [5] }).places.every(({ x }) => x === 0)).toBe(true);
    expect(follow(ring, 1, { walls: [1, 2] }).places).toHaveLength(1);
  });
});
