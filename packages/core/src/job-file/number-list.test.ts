import fc from 'fast-check';
import { expect, it } from 'vitest';
import { InputError } from '../units/input-error.js';
import { numbersText, parseNumbers } from './number-list.js';

it('reads numbers and ranges in any order and with any marks between', () => {
  expect(parseNumbers('24, 1-3; 2 7–8')).toEqual([1, 2, 3, 7, 8, 24]);
  expect(parseNumbers(' 3 - 5 ,')).toEqual([3, 4, 5]);
  expect(parseNumbers('')).toEqual([]);
});

it('refuses what is no number', () => {
  for (const text of ['x', '0', '5-3', '1-', '-4', '1.5', '1-2-3', '1000001']) {
    expect(() => parseNumbers(text), text).toThrow(InputError);
  }
});

it('writes what it reads', () => {
  expect(numbersText([1, 2, 4, 5, 6, 9])).toBe('1, 2, 4-6, 9');
  fc.assert(
    fc.property(fc.uniqueArray(fc.integer({ min: 1, max: 80 })), (list) => {
      const sorted = list.toSorted((a, b) => a - b);
      expect(parseNumbers(numbersText(sorted))).toEqual(sorted);
    }),
  );
});
