import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boxesOverlap, boxOf } from './boxes.js';
import { distance } from './points.js';
import { SquareIndex } from './square-index.js';

const number = fc.integer({ min: -50000, max: 50000 }).map((v) => v / 1000);
const point = fc.record({ x: number, y: number });
const box = fc.tuple(point, point).map((ends) => boxOf(ends));
const SIDE = 7;

describe('SquareIndex', () => {
  it('finds every place within a side', () => {
    fc.assert(
      fc.property(fc.array(point), point, (places, at) => {
        const index = new SquareIndex<number>(SIDE);
        places.forEach((p, k) => {
          index.add(k, p);
        });
        const found = new Set(index.around(at));
        places.forEach((p, k) => {
          if (distance(p, at) <= SIDE) expect(found.has(k)).toBe(true);
          if (found.has(k)) expect(distance(p, at)).toBeLessThan(3 * SIDE);
        });
      }),
    );
  });

  it('finds every box that a box may touch, once', () => {
    fc.assert(
      fc.property(fc.array(box), box, (boxes, asked) => {
        const index = new SquareIndex<number>(SIDE);
        boxes.forEach((b, k) => {
          index.addBox(k, b);
        });
        const found = index.near(asked);
        expect(new Set(found).size).toBe(found.length);
        boxes.forEach((b, k) => {
          if (boxesOverlap(b, asked)) expect(found).toContain(k);
        });
        expect(index.some(asked, (k) => boxesOverlap(boxes[k], asked))).toBe(boxes.some((b) => boxesOverlap(b, asked)));
      }),
    );
  });

  it('gives up what is taken away, and that alone', () => {
    const index = new SquareIndex<string>(SIDE);
    index.add('a', { x: 1, y: 1 });
    index.add('b', { x: 2, y: 2 });
    index.remove('a', { x: 1, y: 1 });
    index.remove('a', { x: 30, y: 1 });
    expect(index.at({ x: 3, y: 3 })).toEqual(['b']);
    expect(index.at({ x: -1, y: 3 })).toEqual([]);
  });
});
