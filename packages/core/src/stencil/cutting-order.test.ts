import { expect, it } from 'vitest';
import { boxContour } from '../geometry/contour.js';
import { cuttingOrder, type OrderedOpening } from './cutting-order.js';

const area = { x0: 0, y0: 0, x1: 300, y1: 200 };
function opening(x: number, y: number, size: number, more: Partial<OrderedOpening> = {}): OrderedOpening {
  return {
    firstCut: [boxContour({ x0: x, y0: y, x1: x + size, y1: y + size })],
    secondCut: [],
    areaMm2: size * size,
    labelAt: { x: x + size / 2, y: y + size / 2 },
    tool: 'knife',
    punchMm: null,
    inner: false,
    last: false,
    ...more,
  };
}
const held = { firstCut: [], secondCut: [boxContour({ x0: 280, y0: 20, x1: 285, y1: 25 })] };

it('goes zone after zone: punched, inner, small, large, and what joins zones last', () => {
  const list = [
    opening(10, 10, 30),
    opening(50, 10, 5),
    opening(130, 60, 30),
    opening(80, 120, 4, { tool: 'punch' }),
    opening(20, 180, 20, { inner: true, areaMm2: 400 }),
    opening(200, 10, 5),
    opening(280, 20, 5, held),
  ];
  const { zones, order, letters } = cuttingOrder(list, { area, hand: 'right' });
  expect(order).toEqual([3, 4, 1, 0, 2, 5, 6]);
  expect(letters).toEqual(['Z1', 'Z1', 'Z1', 'Z1', 'Z1', 'Z2', 'Z2']);
  expect(zones.map((z) => z.secondCut)).toEqual([[], [6]]);
  expect(zones.flatMap((z) => z.firstCut).toSorted((a, b) => a - b)).toEqual([0, 1, 2, 3, 4, 5]);
});

it('goes along rows from the left for a right hand, from the right for a left one', () => {
  const list = [opening(100, 12, 5), opening(20, 20, 5), opening(20, 100, 5), opening(200, 15, 5)];
  expect(cuttingOrder(list, { area, hand: 'right' }).order).toEqual([1, 0, 2, 3]);
  expect(cuttingOrder(list, { area, hand: 'left' }).order).toEqual([3, 0, 1, 2]);
});

it('goes punch by punch, so that each is taken up once', () => {
  const punch = (punchMm: number): Partial<OrderedOpening> => ({ tool: 'punch', punchMm });
  const list = [
    opening(10, 10, 5, punch(5)),
    opening(20, 10, 3, punch(3)),
    opening(30, 90, 5, punch(5)),
    opening(40, 90, 3, punch(3)),
  ];
  expect(cuttingOrder(list, { area, hand: 'right' }).order).toEqual([1, 3, 0, 2]);
});

it('orders nothing', () => {
  const { zones, order } = cuttingOrder([], { area, hand: 'right' });
  expect(order).toEqual([]);
  expect(zones).toHaveLength(2);
});

it('leaves what hangs on a weak place for last', () => {
  const list = [opening(10, 10, 30, { last: true }), opening(50, 10, 30), opening(130, 60, 30)];
  const { zones } = cuttingOrder(list, { area, hand: 'right' });
  const zone = zones.find(({ firstCut }) => firstCut.includes(0));
  expect(zone?.firstCut.length).toBeGreaterThan(1);
  expect(zone?.firstCut[zone.firstCut.length - 1]).toBe(0);
});
