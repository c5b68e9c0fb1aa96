import { expect, it } from 'vitest';
import { counted, listText, percentText, shareText } from './words.js';

it('counts one thing and several', () => {
  expect([0, 1, 2].map((n) => counted(n, 'page'))).toEqual(['0 pages', '1 page', '2 pages']);
  expect(counted(3, 'pass', 'passes')).toBe('3 passes');
});

it('lists names', () => {
  expect([[], ['A'], ['A', 'B'], ['A', 'B', 'C']].map(listText)).toEqual(['', 'A', 'A and B', 'A, B and C']);
});

it('writes per cent without needless noughts', () => {
  expect([1.5, 2, -0.001, 0.1234].map((percent) => percentText(percent))).toEqual(['1.5 %', '2 %', '0 %', '0.12 %']);
  expect(percentText(0.1234, 3)).toBe('0.123 %');
  expect([0, 0.374, 1].map(shareText)).toEqual(['0 %', '37 %', '100 %']);
});
