import { expect, it } from 'vitest';
import { halvings, tally } from './tally.js';

it('sums whole numbers', () => {
  expect(tally(4)).toBe(10);
});

it('counts halvings', () => {
  expect(halvings(8)).toBe(3);
});
