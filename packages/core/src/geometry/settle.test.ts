import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { circleContour, contourArea, contoursBox, isStraight, polyline, segmentCount } from './contour.js';
import { closedCoords, SAME_PLACE_MM, settledContour } from './settle.js';
import type { Contour } from './types.js';

const path = (...coords: number[]): Contour => ({ closed: true, coords: Float64Array.from(coords) });
const open = (contour: Contour): Contour => ({ ...contour, closed: false });

/** A circle whose end misses its start by `gap`, and which then closes by a straight side. */
function nearlyClosed(gap: number): Contour {
  const coords = Float64Array.from(circleContour({ x: 50, y: 50 }, 20).coords);
  coords[coords.length - 2] += gap;
  return { closed: true, coords };
}

describe('settled contours', () => {
  it.each([1e-12, 1e-9, 1e-6, 1e-5, 1e-4])(
    'end on their start where they miss it by %d mm, with no side between',
    (gap) => {
      const { coords } = settledContour(nearlyClosed(gap));
      expect(segmentCount({ closed: true, coords })).toBe(8);
      expect([coords.at(-2), coords.at(-1)]).toEqual([coords[0], coords[1]]);
      expect(closedCoords(nearlyClosed(gap).coords)).toEqual(coords);
    },
  );

  it('are closed by a side where the ends are two places', () => {
    expect(closedCoords(nearlyClosed(0.01).coords)).toHaveLength(2 + 6 * 9);
  });

  it('stay open where they are open, however near the ends are', () => {
    const coords = nearlyClosed(1e-9).coords;
    expect(settledContour(open({ closed: true, coords })).coords).toEqual(coords);
  });

  it('lose a piece that goes nowhere, wherever it stands, and keep the directions about it', () => {
    const [x, y] = [20 + 1e-7, 1e-7];
    const bent = path(0, 0, 5, -5, 15, -5, 20, 0, 20, 0, x, y, x, y, x + 5, y + 5, 20, 15, 20, 20, 0, 20, 0, 20, 0, 0);
    const { coords } = settledContour(bent);
    expect(coords).toHaveLength(bent.coords.length - 6);
    expect(Array.from(coords.subarray(6, 10))).toEqual([20, 0, 25, 5]);
  });

  it('keep straight sides straight', () => {
    const places = [
      [0, 0],
      [60, 0],
      [60.00004, 0.00003],
      [60, 40],
      [0, 40],
      [0.00005, -0.00005],
    ];
    const points = places.map(([x, y]) => ({ x, y }));
    for (const contour of [polyline(points, { closed: true }), polyline(points, { closed: false })]) {
      const { coords } = settledContour({ ...contour, closed: true });
      expect(coords).toHaveLength(2 + 6 * 4);
      for (let o = 0; o + 7 < coords.length; o += 6) expect(isStraight(coords, o)).toBe(true);
    }
  });

  it('are the same object where nothing is to be settled', () => {
    const circle = circleContour({ x: 0, y: 0 }, 3);
    expect(settledContour(circle)).toBe(circle);
  });

  it('of a dot have no piece, and a loop that comes back to its start keeps its one', () => {
    expect(settledContour(path(5, 5, 5, 5, 5, 5, 5.00001, 5)).coords).toHaveLength(2);
    expect(settledContour(path(5, 5, 15, 5, 5, 15, 5, 5)).coords).toHaveLength(8);
  });

  it('follow a chain of pieces shorter than the tolerance as far as it leads', () => {
    const count = 5000;
    const points = Array.from({ length: count + 1 }, (_, k) => {
      const a = (Math.PI * k) / count;
      return { x: 10 + 0.1 * Math.cos(a), y: 10 + 0.1 * Math.sin(a) };
    });
    const half = settledContour(polyline(points, { closed: true }));
    expect(contourArea(half)).toBeCloseTo((Math.PI * 0.01) / 2, 5);
    expect(segmentCount(half)).toBeLessThan(count / 2);
  });

  it('move nothing farther than the tolerance, of any contour with pieces too short', () => {
    const place = fc.tuple(fc.double({ min: 0, max: 50, noNaN: true }), fc.double({ min: 0, max: 50, noNaN: true }));
    fc.assert(
      fc.property(
        fc.array(fc.tuple(place, fc.integer({ min: 0, max: 3 })), { minLength: 3, maxLength: 12 }),
        (nodes) => {
          // Every node may be followed by copies of itself that rounding has moved.
          const points = nodes.flatMap(([[x, y], copies]) =>
            Array.from({ length: copies + 1 }, (_, k) => ({ x: x + k * 3e-6, y: y - k * 3e-6 })),
          );
          const before = polyline(points, { closed: true });
          const after = settledContour(before);
          const [a, b] = [contoursBox([before]), contoursBox([after])];
          if (a === null || b === null) return;
          for (const side of ['x0', 'y0', 'x1', 'y1'] as const)
            expect(Math.abs(a[side] - b[side])).toBeLessThan(SAME_PLACE_MM);
          expect(Math.abs(contourArea(after) - contourArea(before))).toBeLessThan(SAME_PLACE_MM * 1200);
          expect(settledContour(after)).toBe(after);
        },
      ),
    );
  });
});
