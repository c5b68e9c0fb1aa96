import { describe, expect, it } from 'vitest';
import { boxContour, circleContour } from '../geometry/contour.js';
import { alongOutline } from './along-outline.js';

const { coords } = boxContour({ x0: 0, y0: 0, x1: 10, y1: 4 });

describe('the shorter way along an outline', () => {
  it('is that on a box, either way round and over its start', () => {
    expect(alongOutline(coords, 0.25, 0.75, 100)).toBeCloseTo(5, 9);
    expect(alongOutline(coords, 0.75, 0.25, 100)).toBeCloseTo(5, 9);
    expect(alongOutline(coords, 0.9, 1.25, 100)).toBeCloseTo(2, 9);
    expect(alongOutline(coords, 3.75, 0.2, 100)).toBeCloseTo(3, 9);
    expect(alongOutline(coords, 0, 2, 100)).toBeCloseTo(14, 9);
    expect(alongOutline(coords, 1.5, 1.5, 100)).toBe(0);
    // The end of the last side is the start.
    expect(alongOutline(coords, 4, 0.1, 100)).toBeCloseTo(1, 9);
  });

  it('is infinite beyond what is asked for', () => {
    expect(alongOutline(coords, 0.25, 0.75, 4.9)).toBe(Infinity);
    expect(alongOutline(coords, 0, 2, 13)).toBe(Infinity);
  });

  it('is a little too long on a bent curve', () => {
    const around = circleContour({ x: 0, y: 0 }, 5).coords;
    const half = alongOutline(around, 0, 2, 100);
    expect(half).toBeGreaterThan(Math.PI * 5 * (2 / 4) * 0.99);
    expect(half).toBeLessThan(Math.PI * 5 * 1.1);
  });
});
