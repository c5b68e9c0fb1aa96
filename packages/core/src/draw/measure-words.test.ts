import { describe, expect, it } from 'vitest';
import type { Measure } from '../stencil/types.js';
import { groupMeasures, inchErrorWords, measureWords } from './measure-words.js';

const width: Measure = { what: 'width', from: 'A', to: 'B', mm: 420, inches: '16 17/32', inchErrorMm: -0.10625 };

describe('measureWords', () => {
  it('names dots, mm, inches and what the inches lose', () => {
    expect(measureWords(width)).toBe('Width A–B: 420.0 mm = 16 17/32 in (0.11 mm too short)');
  });
});

describe('inchErrorWords', () => {
  it.each([
    [0, 'exact'],
    [0.004, 'exact'],
    [0.25, '0.25 mm too long'],
    [-0.397, '0.40 mm too short'],
  ])('%d', (inchErrorMm, words) => {
    expect(inchErrorWords({ ...width, inchErrorMm })).toBe(words);
  });
});

describe('groupMeasures', () => {
  it('puts equal measures of a kind together and keeps others apart', () => {
    const other = { ...width, from: 'D', to: 'C' };
    const diagonal = { ...width, what: 'diagonal' as const, from: 'A', to: 'C' };
    const longer = { ...width, mm: 421, from: 'E', to: 'F' };
    const groups = groupMeasures([width, diagonal, other, longer]);
    expect(groups.map((g) => [g.first.what, g.between])).toEqual([
      ['width', 'A–B, D–C'],
      ['diagonal', 'A–C'],
      ['width', 'E–F'],
    ]);
  });
});
