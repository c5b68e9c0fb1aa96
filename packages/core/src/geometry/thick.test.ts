import { expect, it } from 'vitest';
import { boxPath } from './grid.js';
import { isThick } from './thick.js';

it('tells strips from areas', () => {
  const strip = boxPath({ x0: 0, y0: 0, x1: 100_000, y1: 1_900 });
  expect(isThick([strip], 2_000)).toBe(false);
  expect(isThick([strip], 1_800)).toBe(true);
  expect(isThick([], 1)).toBe(false);
  // A frame is as thick as its sides, however large it is.
  const frame = [
    boxPath({ x0: 0, y0: 0, x1: 90_000, y1: 90_000 }),
    boxPath({ x0: 1_500, y0: 1_500, x1: 88_500, y1: 88_500 }).reverse(),
  ];
  expect(isThick(frame, 1_600)).toBe(false);
  expect(isThick(frame, 1_400)).toBe(true);
});
