import fc from 'fast-check';
import { expect, it } from 'vitest';
import type { Point } from '../geometry/types.js';
import { layZones, ZONE_MM, ZONE_OPENINGS, zoneOf } from './zones.js';

const area = { x0: 39.6, y0: 39.6, x1: 340, y1: 460 };
const place = (box = area): fc.Arbitrary<Point> =>
  fc
    .tuple(fc.double({ min: 0, max: 1, noNaN: true }), fc.double({ min: 0, max: 1, noNaN: true }))
    .map(([s, t]) => ({ x: box.x0 + s * (box.x1 - box.x0), y: box.y0 + t * (box.y1 - box.y0) }));

it('lays rows from the top, from the left for a right hand and from the right for a left one', () => {
  const corners = (hand: 'right' | 'left') =>
    layZones({ x0: 0, y0: 0, x1: 300, y1: 400 }, [], hand).map(({ letter, box }) => [letter, box.x0, box.y0]);
  expect(corners('right')).toEqual([
    ['Z1', 0, 0],
    ['Z2', 150, 0],
    ['Z3', 0, 200],
    ['Z4', 150, 200],
  ]);
  expect(corners('left').map(([, x, y]) => [x, y])).toEqual([
    [150, 0],
    [0, 0],
    [150, 200],
    [0, 200],
  ]);
});

it('keeps a small sheet in one zone', () => {
  expect(layZones({ x0: 5, y0: 5, x1: 8, y1: 8 }, [], 'right')).toEqual([
    { letter: 'Z1', box: { x0: 5, y0: 5, x1: 8, y1: 8 } },
  ]);
});

it('covers the area side by side, with each place in one zone and 40 at most in each', () => {
  // Crowded in one spot besides, as fine dots are.
  const spot = { x0: 200, y0: 300, x1: 204, y1: 303 };
  const places = fc.tuple(fc.array(place(), { maxLength: 300 }), fc.array(place(spot), { maxLength: 300 }));
  fc.assert(
    fc.property(places, fc.constantFrom('right' as const, 'left' as const), ([wide, narrow], hand) => {
      const all = [...wide, ...narrow].filter(
        (p, k, list) => list.findIndex((q) => Math.hypot(p.x - q.x, p.y - q.y) < 1.5) === k,
      );
      const zones = layZones(area, all, hand);
      expect(zones.map(({ letter }) => letter)).toEqual(zones.map((_, k) => `Z${k + 1}`));
      const size = zones.reduce((sum, { box }) => sum + (box.x1 - box.x0) * (box.y1 - box.y0), 0);
      expect(size).toBeCloseTo((area.x1 - area.x0) * (area.y1 - area.y0), 4);
      const counts = new Map(zones.map((zone) => [zone, 0]));
      for (const p of all) {
        const zone = zoneOf(zones, p);
        counts.set(zone, (counts.get(zone) ?? 0) + 1);
        const { x0, y0, x1, y1 } = zone.box;
        expect(p.x >= x0 && p.x <= x1 && p.y >= y0 && p.y <= y1).toBe(true);
      }
      expect(Math.max(...counts.values())).toBeLessThanOrEqual(ZONE_OPENINGS);
      for (const { box } of zones) {
        expect(box.x1 - box.x0).toBeLessThanOrEqual(1.05 * ZONE_MM.width + 1e-9);
        expect(box.y1 - box.y0).toBeLessThanOrEqual(1.05 * ZONE_MM.height + 1e-9);
      }
    }),
    { numRuns: 60 },
  );
});

it('halves across the longer side, and takes the halves in working order', () => {
  const dots = Array.from({ length: 41 }, (_, k) => ({ x: 1 + k * 3.6, y: 20 }));
  const box = { x0: 0, y0: 0, x1: 150, y1: 40 };
  expect(layZones(box, dots.slice(0, 40), 'right')).toHaveLength(1);
  expect(layZones(box, dots, 'right').map((z) => z.box.x0)).toEqual([0, 75]);
  expect(layZones(box, dots, 'left').map((z) => z.box.x0)).toEqual([75, 0]);
});
