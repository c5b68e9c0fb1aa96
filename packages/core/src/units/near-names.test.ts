import { describe, expect, it } from 'vitest';
import { editDistance, nearNames } from './near-names.js';

describe('editDistance', () => {
  // The textbook pairs (from memory).
  it.each([
    ['kitten', 'sitting', 3],
    ['saturday', 'sunday', 3],
    ['', 'abc', 3],
    ['abc', 'abc', 0],
  ])('%s, %s', (a, b, distance) => {
    expect(editDistance(a, b)).toBe(distance);
    expect(editDistance(b, a)).toBe(distance);
  });
});

describe('nearNames', () => {
  it('lists the nearest first, and none that is far', () => {
    expect(nearNames('lettre', ['Legal', 'Letter', 'Lettres'])).toEqual(['Lettres', 'Letter']);
    expect(nearNames('zzz', ['Legal'])).toEqual([]);
  });
});
