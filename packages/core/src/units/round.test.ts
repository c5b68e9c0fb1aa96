import { expect, it } from 'vitest';
import { rounded } from './round.js';

it('rounds to decimals and knows no -0', () => {
  expect(rounded(1.23456)).toBe(1.2346);
  expect(rounded(1.23456, 1)).toBe(1.2);
  expect(rounded(12_345.6, 0)).toBe(12_346);
  expect(Object.is(rounded(-0.00001), 0)).toBe(true);
});
