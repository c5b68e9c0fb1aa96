import { describe, expect, it } from 'vitest';
import { boxContour, circleContour, reverseContour } from '../geometry/contour.js';
import { drawnMarks, isBlank } from './drawn-marks.js';
import type { Item } from './types.js';

const line = { colour: '#000000', widthMm: 0.2 };
const window = { x0: 40, y0: 40, x1: 60, y1: 60 };
const around = boxContour({ x0: 0, y0: 0, x1: 100, y1: 100 });
const blank = (...items: Item[]) => isBlank(drawnMarks(items), window);

describe('isBlank', () => {
  it('tells an outline that passes from one that runs around', () => {
    expect(blank()).toBe(true);
    expect(blank({ kind: 'path', contours: [around], line })).toBe(true);
    expect(blank({ kind: 'path', contours: [circleContour({ x: 50, y: 30 }, 11)], line })).toBe(false);
    expect(blank({ kind: 'path', contours: [circleContour({ x: 50, y: 50 }, 2)], line })).toBe(false);
    expect(
      blank({ kind: 'layer', id: 'l', label: 'L', items: [{ kind: 'path', contours: [boxContour(window)], line }] }),
    ).toBe(false);
  });

  it('sees a fill that covers the window, but not white, a hole, or what has neither fill nor line', () => {
    expect(blank({ kind: 'path', contours: [around], fill: '#faecd0' })).toBe(false);
    expect(blank({ kind: 'path', contours: [around], fill: '#ffffff' })).toBe(true);
    const hole = reverseContour(boxContour({ x0: 20, y0: 20, x1: 80, y1: 80 }));
    expect(blank({ kind: 'path', contours: [around, hole], fill: '#faecd0' })).toBe(true);
    expect(blank({ kind: 'path', contours: [circleContour({ x: 50, y: 50 }, 2)] })).toBe(true);
  });

  it('sees a text', () => {
    const text = { kind: 'text', text: 'A', x: 50, y: 50, sizeMm: 3, colour: '#000000' } as const;
    expect(blank(text)).toBe(false);
    expect(blank({ ...text, x: 90 })).toBe(true);
  });

  it('refuses placed groups', () => {
    expect(() => drawnMarks([{ kind: 'place', group: 'g', at: [] }])).toThrow(RangeError);
  });
});
