import { InputError } from '@okuri/core';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { offsetText, readOffset } from './offsets';

it.each([
  ['0.4', 'mm', 0.4],
  ['-0.2mm', 'mm', -0.2],
  ['− 0.2 mm', 'in', -0.2],
  ['+1/64in', 'mm', 25.4 / 64],
  ['-1/64', 'in', -25.4 / 64],
  ['-0', 'mm', 0],
  ['', 'mm', null],
  ['none', 'in', null],
] as const)('reads %j in a window of %s', (text, units, mm) => {
  const read = readOffset(text, units);
  if (mm === null) expect(read).toBeNull();
  else expect(read).toBeCloseTo(mm, 9);
  expect(Object.is(read, -0)).toBe(false);
});

it.each(['broad', '--1', '0,4', '7 ells', '11', '-1in'])('refuses %j with a sentence', (text) => {
  expect(() => readOffset(text, 'mm')).toThrow(InputError);
});

it('reads back what it shows, to a hundredth of a mm', () => {
  fc.assert(
    fc.property(
      fc.double({ min: -9.9, max: 9.9, noNaN: true }),
      fc.constantFrom('mm' as const, 'in' as const),
      (mm, units) => {
        expect(Math.abs((readOffset(offsetText(mm, units), units) as number) - mm)).toBeLessThan(0.013);
      },
    ),
  );
});
