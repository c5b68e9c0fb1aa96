import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InputError } from '../units/input-error.js';
import { fractionalPart, fractionText, MAX_DENOMINATOR, parseFraction, reduceFraction } from './fraction.js';

describe('parseFraction', () => {
  it.each([
    ['1/3', 1, 3, null],
    ['2/4', 1, 2, null],
    [' 2 / 3 ', 2, 3, null],
    ['0', 0, 1, null],
    ['0/5', 0, 1, null],
    ['0.5', 1, 2, null],
    ['.25', 1, 4, null],
    ['25%', 1, 4, null],
    ['half', 1, 2, null],
    ['a third', 1, 3, null],
    ['Two-Thirds', 2, 3, null],
    ['63/64', 63, 64, null],
    ['4/3', 1, 3, '4/3'],
    ['-1/3', 2, 3, '-1/3'],
    ['1', 0, 1, '1'],
    ['1.5', 1, 2, '1.5'],
    ['0.333', 1, 3, '0.333'],
    ['0.67', 2, 3, '0.67'],
    ['33.3%', 1, 3, '33.3%'],
  ])('reads %j', (text, p, q, changedFrom) => {
    expect(parseFraction(text)).toEqual({ fraction: { p, q }, changedFrom });
  });

  it.each([
    ['', /can't be read/],
    ['1/0', /divides by zero/],
    ['1/65', /at most 64/],
    ['0.0001', /at most 64/],
    ['0,5', /comma/],
    ['NaN', /can't be read/],
    ['1e3', /can't be read/],
    ['1/2/3', /can't be read/],
    ['99999999999999999999/3', /can't be read/],
  ])('refuses %j', (text, message) => {
    expect(() => parseFraction(text)).toThrow(InputError);
    expect(() => parseFraction(text)).toThrow(message);
  });

  it('keeps the value but for whole units, for every fraction in use', () => {
    fc.assert(
      fc.property(fc.integer({ min: -500, max: 500 }), fc.integer({ min: 1, max: MAX_DENOMINATOR }), (p, q) => {
        const { fraction, changedFrom } = parseFraction(`${p}/${q}`);
        const value = fraction.p / fraction.q;
        expect(value).toBeGreaterThanOrEqual(0);
        expect(value).toBeLessThan(1);
        const units = p / q - value;
        expect(Math.abs(units - Math.round(units))).toBeLessThan(1e-12);
        expect(changedFrom === null).toBe(p >= 0 && p < q);
      }),
    );
  });
});

describe('reduceFraction, fractionalPart, fractionText', () => {
  it('reduces and keeps the sign above', () => {
    expect(reduceFraction(6, -4)).toEqual({ p: -3, q: 2 });
    expect(reduceFraction(0, -4)).toEqual({ p: 0, q: 1 });
    expect(() => reduceFraction(1, 0)).toThrow(RangeError);
    expect(() => reduceFraction(0.5, 2)).toThrow(RangeError);
  });

  it('takes whole units away', () => {
    expect(fractionalPart({ p: 7, q: 3 })).toEqual({ p: 1, q: 3 });
    expect(fractionalPart({ p: -1, q: 3 })).toEqual({ p: 2, q: 3 });
    expect(fractionalPart({ p: 6, q: 3 })).toEqual({ p: 0, q: 1 });
  });

  it('writes', () => {
    expect(fractionText({ p: 1, q: 3 })).toBe('1/3');
    expect(fractionText({ p: 0, q: 1 })).toBe('0');
  });
});
