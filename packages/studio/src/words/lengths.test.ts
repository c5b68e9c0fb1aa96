import { InputError, parseLength } from '@okuri/core';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { lengthList, lengthText, lengthValue, lengthWords } from './lengths';

it.each([
  ['9 7/8in', 'mm', 250.825],
  ['25 cm', 'mm', 250],
  ['250', 'mm', 250],
  ['9 7/8', 'in', 250.825],
  ['9½', 'in', 241.3],
  ['250 mm', 'in', 250],
  ['9 7/8"', 'mm', 250.825],
] as const)('takes %s in a window of %s', (text, units, mm) => {
  expect(parseLength(lengthValue(text, units))).toBeCloseTo(mm, 9);
});

it.each(['', 'broad', '2,5', '-3', '5 ells'])('refuses %j with a sentence', (text) => {
  expect(() => lengthValue(text, 'mm')).toThrow(InputError);
});

it.each([
  [250, 'mm', '250 mm'],
  [250.825, 'in', '9 7/8 in'],
  // 250 mm are 9.8425 in, and 9 27/32 in are 250.03 mm.
  [250, 'in', '9 27/32 in'],
] as const)('tells %d mm in %s as paper does', (mm, units, text) => {
  expect(lengthWords(mm, units)).toBe(text);
});

it('reads back what it shows, to a hundredth of a mm', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 0, max: 12_000, noNaN: true }),
      fc.constantFrom('mm' as const, 'in' as const),
      (mm, units) => {
        expect(Math.abs(parseLength(lengthValue(lengthText(mm, units), units)) - mm)).toBeLessThan(0.013);
      },
    ),
  );
});

it('takes a list of lengths, and none', () => {
  expect(lengthList('2, 2.5mm; 1/8in,', 'mm')).toEqual(['2mm', '2.5mm', '1/8in']);
  expect(lengthList(' ', 'mm')).toEqual([]);
  expect(() => lengthList('2, thick', 'mm')).toThrow(InputError);
});
