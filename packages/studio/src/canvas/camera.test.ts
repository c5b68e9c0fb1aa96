import fc from 'fast-check';
import { expect, it } from 'vitest';
import { type Camera, fitBox, panBy, seen, toPlane, toWindow, zoomAbout } from './camera';

const window = { width: 900, height: 700 };
const coordinate = fc.double({ min: -5000, max: 5000, noNaN: true });
const place = fc.record({
  x: fc.double({ min: 0, max: 900, noNaN: true }),
  y: fc.double({ min: 0, max: 700, noNaN: true }),
});
const camera: fc.Arbitrary<Camera> = fc.record({
  at: fc.record({ x: coordinate, y: coordinate }),
  pxPerMm: fc.double({ min: 0.01, max: 100, noNaN: true }),
});

it('keeps what lies under the pointer there, near or far', () => {
  fc.assert(
    fc.property(camera, place, fc.double({ min: 0.1, max: 10, noNaN: true }), (from, pointer, factor) => {
      const under = toPlane(from, pointer, window);
      const after = toWindow(zoomAbout(from, factor, pointer, window), under, window);
      expect(Math.hypot(after.x - pointer.x, after.y - pointer.y)).toBeLessThan(1e-6);
    }),
  );
});

it('moves with the hand', () => {
  fc.assert(
    fc.property(camera, place, fc.integer({ min: -500, max: 500 }), (from, pointer, dx) => {
      const under = toPlane(from, pointer, window);
      const after = toWindow(panBy(from, dx, -dx), under, window);
      expect(after.x).toBeCloseTo(pointer.x + dx, 6);
      expect(after.y).toBeCloseTo(pointer.y - dx, 6);
    }),
  );
});

it('shows the whole of a box', () => {
  fc.assert(
    fc.property(coordinate, coordinate, fc.double({ min: 10, max: 12_000, noNaN: true }), (x0, y0, side) => {
      const box = { x0, y0, x1: x0 + side, y1: y0 + 3 * side };
      const view = seen(fitBox(box, window), window);
      expect(view.x0).toBeLessThan(box.x0);
      expect(view.y0).toBeLessThan(box.y0);
      expect(view.x1).toBeGreaterThan(box.x1);
      expect(view.y1).toBeGreaterThan(box.y1);
    }),
  );
});
