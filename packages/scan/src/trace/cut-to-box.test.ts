import { boxContour, circleContour } from '@okuri/core';
import { contourArea, reverseContour } from '@okuri/core/inside';
import { describe, expect, it } from 'vitest';
import { cutToBox } from './cut-to-box.js';

const BOX = { x0: 0, y0: 0, x1: 100, y1: 60 };
const areaOf = (contours: Parameters<typeof cutToBox>[0]) =>
  contours.reduce((sum, contour) => sum + contourArea(contour), 0);

describe('traced areas cut at the sides of a box', () => {
  it('keep their curves: of a ring remains what closed forms of circular segments say', () => {
    const at = { x: 3, y: 30 };
    const cut = cutToBox([circleContour(at, 20), reverseContour(circleContour(at, 8))], BOX, 0);
    const within = (r: number) =>
      Math.PI * r * r - (r * r * Math.acos(at.x / r) - at.x * Math.sqrt(r * r - at.x * at.x));
    // Circles of four cubics are off by 0.03 % of their radius at most.
    expect(areaOf(cut) / (within(20) - within(8))).toBeCloseTo(1, 3);
    const chord = Math.sqrt(400 - 9);
    const ends = cut.flatMap(({ coords }) =>
      Array.from({ length: (coords.length - 2) / 6 }, (_, k) => [coords[6 * k], coords[6 * k + 1]]),
    );
    for (const y of [30 - chord, 30 + chord]) {
      expect(Math.min(...ends.map(([x, endY]) => Math.hypot(x, endY - y)))).toBeLessThan(0.01);
    }
    // Eight arcs, two straight sides, and at each of the four cut ends a short cubic or two: flattened they would be hundreds.
    expect(ends.length).toBeLessThanOrEqual(18);
  });

  it('are left as they are inside, left out outside and where next to nothing of them is in', () => {
    const inner = boxContour({ x0: 10, y0: 10, x1: 20, y1: 20 });
    const outer = boxContour({ x0: 110, y0: 10, x1: 120, y1: 20 });
    const grazing = boxContour({ x0: 99.99, y0: 30, x1: 120, y1: 40 });
    const cut = cutToBox([inner, outer, grazing], BOX, 0.5);
    expect(cut).toEqual([inner]);
    expect(cut[0]).toBe(inner);
  });
});
