import { describe, expect, it } from 'vitest';
import { slipOf } from './suspect.js';

describe('a slip of the hand', () => {
  const slip = (readMm: number, mm: number, errorMm = 0.5) =>
    slipOf({ span: 'top', readMm, mm, changeMm: mm - readMm, errorMm });

  it('is a whole inch or ten mm, either way, up to three of them', () => {
    expect([1, 2, 3, 4].map((n) => slip(600, 600 + n * 25.4))).toEqual([
      'whole-inch',
      'whole-inch',
      'whole-inch',
      null,
    ]);
    expect([1, 2, 3, 4].map((n) => slip(600, 600 - n * 10))).toEqual(['ten-mm', 'ten-mm', 'ten-mm', null]);
    expect(slip(600, 600 - 25.4)).toBe('whole-inch');
    expect(slip(600, 610.6)).toBeNull();
    expect(slip(600, 610.4)).toBe('ten-mm');
  });

  it('is two digits exchanged, decimals kept', () => {
    expect(slip(546.25, 456.25, 0.01)).toBe('swapped-digits');
    expect(slip(546.25, 564.25, 0.01)).toBe('swapped-digits');
    // Lost decimals are no exchange.
    expect(slip(546.25, 456, 0.01)).toBeNull();
    expect(slip(546.25, 645.25, 0.01)).toBeNull();
  });
});
