import { describe, expect, it } from 'vitest';
import { boxContour } from '../geometry/contour.js';
import type { Box } from '../geometry/types.js';
import { cuttingOrder, type OrderedOpening } from './cutting-order.js';

/** One zone. */
const area = { x0: 0, y0: 0, x1: 120, y1: 160 };

function opening(box: Box, more: Partial<OrderedOpening> = {}): OrderedOpening {
  return {
    firstCut: [boxContour(box)],
    secondCut: [],
    areaMm2: (box.x1 - box.x0) * (box.y1 - box.y0),
    labelAt: {
      x: (Math.max(0, box.x0) + Math.min(120, box.x1)) / 2,
      y: (Math.max(0, box.y0) + Math.min(160, box.y1)) / 2,
    },
    tool: 'knife',
    punchMm: null,
    inner: false,
    last: false,
    ...more,
  };
}
const square = (x: number, y: number, size = 10, more: Partial<OrderedOpening> = {}) =>
  opening({ x0: x, y0: y, x1: x + size, y1: y + size }, more);
const orderOf = (...list: OrderedOpening[]) => cuttingOrder(list, { area, hand: 'right' }).order;

describe('the order in a zone', () => {
  it('leaves for the end what reaches over any of its four sides, and does not mind a knife’s breadth', () => {
    const inside = square(80, 140, 13);
    for (const over of [
      { x0: -5, y0: 20, x1: 30, y1: 40 },
      { x0: 20, y0: -5, x1: 40, y1: 30 },
      { x0: 90, y0: 20, x1: 125, y1: 40 },
      { x0: 20, y0: 130, x1: 40, y1: 165 },
    ]) {
      expect(orderOf(opening(over), inside)).toEqual([1, 0]);
    }
    expect(orderOf(opening({ x0: -0.15, y0: 20, x1: 30, y1: 40 }), inside)).toEqual([0, 1]);
    expect(orderOf(opening({ x0: -0.25, y0: 20, x1: 30, y1: 40 }), inside)).toEqual([1, 0]);
    // What leaves paper hanging comes after it still.
    expect(orderOf(square(10, 10, 10, { last: true }), opening({ x0: -5, y0: 20, x1: 30, y1: 40 }), inside)).toEqual([
      2, 1, 0,
    ]);
  });

  it('takes openings under 150 mm² before larger ones, inner ones before both', () => {
    const large = square(10, 10, 12.3);
    const small = square(60, 60, 12.2);
    expect(orderOf(large, small)).toEqual([1, 0]);
    expect(orderOf(large, square(60, 60, 12.3))).toEqual([0, 1]);
    expect(orderOf(small, square(70, 100, 30, { inner: true }), large)).toEqual([1, 0, 2]);
  });

  it('works rows of 30 mm down, each from the side of the hand that does not hold the knife; alike ones from the top', () => {
    const list = [square(70, 24), square(10, 2), square(40, 31), square(10, 60)];
    expect(cuttingOrder(list, { area, hand: 'right' }).order).toEqual([1, 0, 2, 3]);
    expect(cuttingOrder(list, { area, hand: 'left' }).order).toEqual([0, 1, 2, 3]);
    expect(orderOf(square(50, 14), square(50, 1))).toEqual([1, 0]);
    // A low zone has rows of a quarter of its height.
    const low = { x0: 0, y0: 0, x1: 120, y1: 40 };
    const rows = [square(70, 1, 4), square(10, 12, 4)];
    expect(cuttingOrder(rows, { area: low, hand: 'right' }).order).toEqual([0, 1]);
  });
});
