import { InputError } from '@okuri/core';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { numberWriter } from './numbers.js';

describe('numberWriter', () => {
  it('writes plain decimals that read back to half the last digit', () => {
    fc.assert(
      fc.property(fc.double({ min: -1e9, max: 1e9, noNaN: true }), fc.integer({ min: 0, max: 6 }), (value, digits) => {
        const text = numberWriter(digits)(value);
        expect(text).toMatch(new RegExp(`^-?\\d+(\\.\\d{1,${Math.max(1, digits)}})?$`));
        expect(text).not.toBe('-0');
        // The last term is what a double of this size can't tell apart.
        expect(Math.abs(Number(text) - value)).toBeLessThanOrEqual(0.5 * 10 ** -digits + Math.abs(value) * 2 ** -52);
      }),
    );
  });

  it.each([Number.NaN, Infinity, -Infinity, 2e9])('refuses %d', (value) => {
    expect(() => numberWriter(4)(value)).toThrow(InputError);
  });
});
