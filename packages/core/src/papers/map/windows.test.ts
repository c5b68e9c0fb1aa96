import fc from 'fast-check';
import { expect, it } from 'vitest';
import { layMap, MAP_PAGES_MAX, type MapLayoutOptions } from './windows.js';

const ROOM = { x0: 8, y0: 20, x1: 202, y1: 240 };
const options = (field: MapLayoutOptions['field']): MapLayoutOptions => ({
  field,
  origin: { x: 0, y: 0 },
  room: ROOM,
  leastMm: { width: 10, height: 8 },
  besideMm: 21,
  aboveMm: 6,
});

it('shows all of the cloth once, on the page, with room for every number', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 50, max: 3_000, noNaN: true }),
      fc.double({ min: 50, max: 30_000, noNaN: true }),
      fc.double({ min: 60, max: 900, noNaN: true }),
      fc.double({ min: 60, max: 900, noNaN: true }),
      (width, length, widthMm, heightMm) => {
        const extent = { x0: -widthMm / 3, y0: -heightMm / 2, x1: width + widthMm / 2, y1: length + heightMm / 3 };
        const { scale, pages, numbered } = layMap(extent, options({ widthMm, heightMm }));
        let area = 0;
        for (const windows of pages) {
          windows.forEach(({ shows, at }, k) => {
            area += (shows.x1 - shows.x0) * (shows.y1 - shows.y0);
            const [right, bottom] = [at.x + scale * (shows.x1 - shows.x0), at.y + scale * (shows.y1 - shows.y0)];
            expect(at.x).toBeGreaterThanOrEqual(ROOM.x0 + 21 - 1e-6);
            expect(at.y).toBeGreaterThanOrEqual(ROOM.y0 + 6 - 1e-6);
            expect(right).toBeLessThanOrEqual(ROOM.x1 + 1e-6);
            expect(bottom).toBeLessThanOrEqual(ROOM.y1 + 1e-6);
            // Windows of a page lie side by side, apart by what stands beside them.
            const next = windows[k + 1];
            if (next !== undefined) expect(next.at.x).toBeGreaterThanOrEqual(right + 21 - 1e-6);
          });
        }
        expect(area).toBeCloseTo((extent.x1 - extent.x0) * (extent.y1 - extent.y0), 3);
        expect(pages.length).toBeLessThanOrEqual(MAP_PAGES_MAX);
        if (numbered) {
          expect(scale * widthMm).toBeGreaterThanOrEqual(Math.min(10, widthMm / 2) - 1e-9);
          expect(scale * heightMm).toBeGreaterThanOrEqual(Math.min(8, heightMm / 2) - 1e-9);
        } else expect(pages).toHaveLength(1);
      },
    ),
  );
});

it('cuts a long cloth between rows', () => {
  const { pages } = layMap({ x0: 0, y0: 0, x1: 1000, y1: 12_000 }, options({ widthMm: 250, heightMm: 400 }));
  const windows = pages.flat();
  expect(windows.length).toBeGreaterThan(1);
  for (const { shows } of windows.slice(1)) expect(shows.y0 % 400).toBe(0);
});

it('cuts a wide cloth between columns too', () => {
  const { pages, numbered } = layMap({ x0: 0, y0: 0, x1: 3000, y1: 3000 }, options({ widthMm: 60, heightMm: 60 }));
  expect(numbered).toBe(true);
  expect(new Set(pages.flat().map(({ shows }) => shows.x0)).size).toBeGreaterThan(1);
});

it('gives up numbers before it gives more pages than anyone hangs up', () => {
  const { pages, numbered } = layMap({ x0: 0, y0: 0, x1: 5000, y1: 200_000 }, options({ widthMm: 20, heightMm: 20 }));
  expect(numbered).toBe(false);
  expect(pages).toHaveLength(1);
});
