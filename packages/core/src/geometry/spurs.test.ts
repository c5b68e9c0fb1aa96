import { expect, it } from 'vitest';
import { ringArea } from './grid.js';
import { withoutSpurs } from './spurs.js';

const free = () => false;
const ring = (...places: readonly (readonly [number, number])[]) => places.map(([x, y]) => ({ x, y, z: 0 }));
const square = [
  [0, 0],
  [1000, 0],
  [1000, 1000],
  [0, 1000],
] as const;

it('keeps a ring without spurs as the very same', () => {
  const whole = ring(...square);
  expect(withoutSpurs(whole, 50, free)).toBe(whole);
  const wedge = ring([0, 0], [1000, 100], [0, 200]);
  expect(withoutSpurs(wedge, 50, free)).toBe(wedge);
});

it.each([
  ['outwards', 5000],
  ['inwards', 100],
] as const)('takes off a spur %s', (_way, tip) => {
  const spur = ring(...square.slice(0, 2), [1000, 400], [tip, 410], [1000, 420], ...square.slice(2));
  const cleaned = withoutSpurs(spur, 50, free);
  expect(cleaned.some(({ x }) => x === tip)).toBe(false);
  expect(Math.abs(ringArea(cleaned) - 1e6)).toBeLessThan(2e4);
});

it('takes off a spur with corners on its way, wherever the ring begins', () => {
  const there = [
    [1000, 500],
    [2000, 510],
    [3000, 530],
    [4000, 520],
  ] as const;
  const back = [
    [3500, 531],
    [2500, 525],
    [1500, 512],
    [1000, 505],
  ] as const;
  const places = [square[0], square[1], ...there, ...back, square[2], square[3]];
  for (let k = 0; k < places.length; k++) {
    const cleaned = withoutSpurs(ring(...places.slice(k), ...places.slice(0, k)), 50, free);
    expect(Math.max(...cleaned.map(({ x }) => x))).toBe(1000);
    expect(Math.abs(ringArea(cleaned) - 1e6)).toBeLessThan(2e4);
  }
});

it('shortens a sharp tip to where it is wide enough, and leaves fixed corners', () => {
  const tip = ring([0, -500], [10_000, 0], [9000, -10], [0, 500]);
  expect(withoutSpurs(tip, 50, free)).toHaveLength(3);
  expect(withoutSpurs(tip, 50, ({ x }) => x === 10_000)).toBe(tip);
});

it('leaves nothing of a ring that is nowhere wider', () => {
  expect(withoutSpurs(ring([0, 0], [1000, 0], [2000, 10], [1000, 20]), 50, free).length).toBeLessThan(3);
});
