import { boxCorners, type Homography } from '@okuri/core/inside';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { FoundDot } from '../types.js';
import { applyHomography, composeHomography } from './homography.js';
import { fourOuterDots } from './outer-dots.js';

const dot = (x: number, y: number, diameter = 12): FoundDot => ({ at: { x, y }, diameter, roundness: 0.99 });
const SHEET = { widthMm: 240, heightMm: 320 };
/** At 4 px/mm, 100 px in. */
const RECTANGLE = boxCorners({ x0: 100, y0: 100, x1: 1060, y1: 1380 }).map(({ x, y }) => dot(x, y));

/** A camera 1600 px above the middle of these places, its focal length 1600 px, tilted by 30°: K [r1 r2 t], back to a picture of 1200 × 1500. */
const SLANT = ((): Homography => {
  const [c, s, f] = [Math.cos(Math.PI / 6), Math.sin(Math.PI / 6), 1600];
  const centred: Homography = [1, 0, -580, 0, 1, -740, 0, 0, 1];
  return composeHomography([f, 600 * s, 600 * f, 0, f * c + 750 * s, 750 * f, 0, s, f], centred);
})();
const slanting = (dots: readonly FoundDot[]) => dots.map((d) => ({ ...d, at: applyHomography(SLANT, d.at) }));
const inside = fc.record({ x: fc.integer({ min: 130, max: 1030 }), y: fc.integer({ min: 130, max: 1350 }) });

describe('the four outer dots', () => {
  it('are named as seen, whichever way the picture is turned by less than 45°', () => {
    for (const deg of [-40, -10, 0, 25, 44]) {
      const [c, s] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)];
      const turned = RECTANGLE.map((d) => dot(c * d.at.x - s * d.at.y, s * d.at.x + c * d.at.y));
      expect(fourOuterDots([turned[2], turned[0], turned[3], turned[1]])).toEqual(turned);
    }
  });

  it('are told from round berries within, straight or slanting', () => {
    fc.assert(
      fc.property(fc.array(inside, { maxLength: 40 }), (berries) => {
        const dots = [...berries.map(({ x, y }) => dot(x, y)), ...RECTANGLE];
        expect(fourOuterDots(dots, SHEET)).toEqual(RECTANGLE);
        expect(fourOuterDots(dots)).toEqual(RECTANGLE);
        expect(fourOuterDots(slanting(dots), SHEET)).toEqual(slanting(RECTANGLE));
      }),
      { numRuns: 20 },
    );
  });

  it('that keep the given distances are told from marks outside', () => {
    const dots = [...RECTANGLE, dot(30, 60), dot(1150, 1440), dot(600, 40)];
    expect(fourOuterDots(dots, SHEET)).toEqual(RECTANGLE);
    // Without the distances the outermost are taken.
    expect(fourOuterDots(dots)).toEqual([dots[4], dots[1], dots[5], dots[3]]);
  });

  it('are refused where two fours cross', () => {
    const cross = [
      ...boxCorners({ x0: 100, y0: 400, x1: 1060, y1: 1000 }),
      ...boxCorners({ x0: 400, y0: 100, x1: 760, y1: 1300 }),
    ].map(({ x, y }) => dot(x, y));
    expect(() => fourOuterDots(cross)).toThrow(
      '8 round dots were found in the picture, and two choices of four are as good',
    );
  });

  it('are refused where there are none', () => {
    expect(() => fourOuterDots([])).toThrow('none was found in the picture: draw filled dots');
    expect(() => fourOuterDots(RECTANGLE.slice(0, 3))).toThrow(
      '3 were found in the picture (at 100,100 1060,100 1060,1380 px)',
    );
    expect(() => fourOuterDots(RECTANGLE.slice(0, 1))).toThrow('1 was found');
    const row = [0, 1, 2, 3].map((k) => dot(100 * k, 50));
    expect(() => fourOuterDots(row)).toThrow('no four of them stand like the corners of a rectangle: check');
    expect(() => fourOuterDots(RECTANGLE, { widthMm: 900, heightMm: 300 })).toThrow(
      'a rectangle 900 mm across and 300 mm down',
    );
    // One four times as large.
    expect(() => fourOuterDots([...RECTANGLE.slice(0, 3), dot(100, 1380, 48)])).toThrow('no four of them');
  });
});
