import { expect, it } from 'vitest';
import { boxContour, circleContour, polyline, reverseContour } from '../geometry/contour.js';
import { toolOf } from './tools.js';

const at = { x: 31.7, y: 12.3 };
const ngon = (n: number, radius: number) =>
  polyline(
    Array.from({ length: n }, (_, k) => ({
      x: at.x + radius * Math.cos((2 * Math.PI * k) / n),
      y: at.y + radius * Math.sin((2 * Math.PI * k) / n),
    })),
    { closed: true },
  );
const box = (width: number, height: number) => boxContour({ x0: 5, y0: 7, x1: 5 + width, y1: 7 + height });

it.each([
  [1, 1],
  [0.75, 1],
  [1.2, 1],
  [1.4, 1.5],
  [2.2, 2],
  [2.4, 2.5],
  [2.8, 3],
  [2.9, 3],
  [4.25, 4],
  [5, 5],
])('punches a hole of %d mm with the punch of %d mm', (diameter, punch) => {
  const found = toolOf([circleContour(at, diameter / 2)]);
  expect(found).toMatchObject({ tool: 'punch', punchMm: punch });
  expect(found.cutLengthMm).toBeCloseTo(Math.PI * diameter, 4);
});

it('cuts holes with the knife that no punch fits', () => {
  for (const diameter of [0.5, 5.4, 20]) {
    expect(toolOf([circleContour(at, diameter / 2)])).toMatchObject({ tool: 'knife', punchMm: null });
  }
});

it('knows the punches at hand, and no others', () => {
  const of = (diameter: number, punchesMm: readonly number[]) =>
    toolOf([circleContour(at, diameter / 2)], { punchesMm });
  expect(of(2.4, [2, 2.5, 3])).toMatchObject({ tool: 'punch', punchMm: 2.5 });
  expect(of(2.4, [2, 3])).toMatchObject({ tool: 'knife', punchMm: null });
  expect(of(2.3, [2, 3])).toMatchObject({ tool: 'punch', punchMm: 2 });
  expect(of(3.1, [3.175])).toMatchObject({ tool: 'punch', punchMm: 3.175 });
  expect(of(19.8, [20])).toMatchObject({ tool: 'punch', punchMm: 20 });
  expect(of(2.4, [])).toMatchObject({ tool: 'knife', punchMm: null });
});

it('takes nothing for round that is not', () => {
  for (const corners of [3, 4, 6, 8]) expect(toolOf([ngon(corners, 1.5)]).tool).toBe('knife');
  expect(toolOf([ngon(40, 1.5)])).toMatchObject({ tool: 'punch', punchMm: 3 });
  const oval = circleContour(at, 1.5).coords.map((v, k) => (k % 2 === 0 ? at.x + (v - at.x) * 1.25 : v));
  expect(toolOf([{ closed: true, coords: oval }]).tool).toBe('knife');
  // A ring has an island: a punch would take it out too.
  const ring = [circleContour(at, 2), reverseContour(circleContour(at, 1))];
  expect(toolOf(ring).tool).toBe('knife');
  expect(toolOf(ring).cutLengthMm).toBeCloseTo(6 * Math.PI, 4);
});

it('cuts straight runs of more than 30 mm along a ruler, however many parts they are drawn in', () => {
  expect(toolOf([box(30.5, 4)]).tool).toBe('ruler');
  expect(toolOf([box(29.5, 4)]).tool).toBe('knife');
  const parts = polyline(
    [
      ...Array.from({ length: 9 }, (_, k) => ({ x: 20 - 5 * k, y: 0 })),
      { x: -20, y: 5 },
      { x: 25, y: 5 },
      { x: 25, y: 0 },
    ],
    { closed: true },
  );
  // The run goes on past the first corner.
  expect(toolOf([parts]).tool).toBe('ruler');
  expect(toolOf([circleContour(at, 60)]).tool).toBe('knife');
  expect(toolOf([ngon(360, 60)]).tool).toBe('knife');
});

it('leaves out what is not cut', () => {
  const uncut = [{ from: { x: 5, y: 7 }, to: { x: 45, y: 7 } }];
  const found = toolOf([box(40, 10)], { uncut });
  expect(found.cutLengthMm).toBeCloseTo(60, 6);
  expect(found.tool).toBe('ruler');
  const both = [...uncut, { from: { x: 45, y: 17 }, to: { x: 5, y: 17 } }];
  expect(toolOf([box(40, 10)], { uncut: both })).toMatchObject({ tool: 'knife' });
  expect(toolOf([box(40, 10)], { uncut: both }).cutLengthMm).toBeCloseTo(20, 6);
});

it('has no length without outlines', () => {
  expect(toolOf([])).toEqual({ tool: 'knife', punchMm: null, cutLengthMm: 0 });
});

it('gives no hole to a punch that is out of round one way alone, however it lies', () => {
  const oval = (rx: number, ry: number) =>
    polyline(
      Array.from({ length: 48 }, (_, k) => ({
        x: at.x + rx * Math.cos((2 * Math.PI * k) / 48),
        y: at.y + ry * Math.sin((2 * Math.PI * k) / 48),
      })),
      { closed: true },
    );
  for (const [rx, ry] of [
    [2.3, 1.75],
    [1.75, 2.3],
  ]) {
    expect(toolOf([oval(rx, ry)]).punchMm).toBeNull();
  }
  // Corners that crowd on one side don't move the middle of a round hole.
  const shares = [
    ...Array.from({ length: 60 }, (_, k) => k / 120),
    ...Array.from({ length: 30 }, (_, k) => 0.5 + k / 60),
  ];
  const crowded = (quarter: number) =>
    polyline(
      shares.map((t) => ({
        x: at.x + 2 * Math.cos(2 * Math.PI * (t + quarter)),
        y: at.y + 2 * Math.sin(2 * Math.PI * (t + quarter)),
      })),
      { closed: true },
    );
  for (const quarter of [0, 0.25, 0.5, 0.75]) expect(toolOf([crowded(quarter)]).punchMm).toBe(4);
});
