import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { circleContour, contourArea } from './contour.js';
import { fillArea } from './fill.js';
import { makeGrid } from './grid.js';
import { contourLength } from './length.js';
import { retraceRing } from './retrace.js';
import { strokeArea } from './stroke.js';
import type { Contour } from './types.js';

const grid = makeGrid(100, 100);

function retraced(contour: Contour): Contour[] {
  const area = fillArea([contour], 'nonzero', grid);
  return area.paths.map((ring) => retraceRing(ring, area.book, grid).contour);
}

/** The farthest that a handle lies from the ends of its curve, beside that curve's own length: a line thrown wide has a long handle. */
function longestReach(contours: readonly Contour[]): number {
  let most = 0;
  for (const { coords } of contours) {
    for (let o = 0; o + 7 < coords.length; o += 6) {
      const piece = { closed: false, coords: coords.slice(o, o + 8) };
      const reach = Math.max(
        Math.hypot(piece.coords[2] - piece.coords[0], piece.coords[3] - piece.coords[1]),
        Math.hypot(piece.coords[4] - piece.coords[6], piece.coords[5] - piece.coords[7]),
      );
      most = Math.max(most, reach - contourLength(piece));
    }
  }
  return most;
}

/** A teardrop with a tip above, its end beside its start by `gap` and an extra piece in the tip where `middle` says so. */
function teardrop(gap: number, middle: boolean): Contour {
  const tip = middle ? [50, 10, 50 + gap, 10, 50 + gap, 10] : [];
  return {
    closed: true,
    coords: Float64Array.from([50, 10, ...tip, 80, 40, 80, 80, 50, 80, 20, 80, 20, 40, 50 + gap, 10]),
  };
}

describe('retraced rings', () => {
  it.each([0, 1e-9, 1e-7, 1e-6, 1e-5, 1e-4, 2e-4, 5e-4])(
    'throw no line wide where an end misses its start by %d mm',
    (gap) => {
      for (const middle of [false, true]) {
        const [outline] = retraced(teardrop(gap, middle));
        expect(contourLength(outline)).toBeCloseTo(contourLength(teardrop(0, false)), 2);
        expect(contourArea(outline)).toBeCloseTo(contourArea(teardrop(0, false)), 1);
        expect(longestReach([outline])).toBeLessThan(0.01);
      }
    },
  );

  it('have the length of the outline that was drawn, whatever rounding does at its nodes', () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.tuple(fc.integer({ min: -9, max: -3 }), fc.double({ min: 0, max: 6.28, noNaN: true }), fc.boolean()),
          {
            minLength: 8,
            maxLength: 8,
          },
        ),
        (jolts) => {
          const circle = circleContour({ x: 50, y: 50 }, 30);
          const coords: number[] = [circle.coords[0], circle.coords[1]];
          jolts.forEach(([power, turn, straight], k) => {
            const piece = circle.coords.subarray(2 + 6 * k, 8 + 6 * k);
            coords.push(...piece);
            const [x, y] = [piece[4], piece[5]];
            const to = { x: x + 10 ** power * Math.cos(turn), y: y + 10 ** power * Math.sin(turn) };
            coords.push(...(straight ? [x, y, to.x, to.y] : [to.x, to.y, x, y]), to.x, to.y);
          });
          const outlines = retraced({ closed: true, coords: Float64Array.from(coords) });
          const length = outlines.reduce((sum, outline) => sum + contourLength(outline), 0);
          expect(Math.abs(length - 60 * Math.PI)).toBeLessThan(0.05);
          expect(longestReach(outlines)).toBeLessThan(0.01);
        },
      ),
    );
  });

  it('of strokes have no spike where a closing side is only rounding', () => {
    const pen = {
      cap: 'butt',
      join: 'miter',
      miterLimit: 4,
      dash: [],
      dashOffset: 0,
      pen: [1, 0, 0, 1, 0, 0],
    } as const;
    for (const gap of [1e-12, 1e-9, 1e-6, 1e-5]) {
      const coords = Float64Array.from(circleContour({ x: 50, y: 50 }, 20).coords);
      coords[coords.length - 2] += gap;
      coords[coords.length - 1] -= gap / 3;
      const area = strokeArea([{ closed: true, coords }], { ...pen, width: 6 }, grid);
      const outlines = area.paths.map((ring) => retraceRing(ring, area.book, grid).contour);
      const sum = outlines.reduce((total, outline) => total + contourArea(outline), 0);
      // A ring between the radii 17 and 23.
      expect(sum).toBeCloseTo(Math.PI * (23 ** 2 - 17 ** 2), 1);
      expect(Math.abs(outlines.reduce((total, o) => total + contourLength(o), 0) - 80 * Math.PI)).toBeLessThan(0.02);
    }
  });
});
