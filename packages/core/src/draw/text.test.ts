import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sampleFont } from '../papers/guide/sample-font.test-help.js';
import { fitText, missingCharacters, textWidthMm, wrapText } from './text.js';

const font = sampleFont();
const style = { sizeMm: 4 };

describe('textWidthMm', () => {
  it('adds the advances', () => {
    expect(textWidthMm('abi', style, font)).toBeCloseTo(5, 12);
    expect(textWidthMm('abi', { sizeMm: 4, bold: true }, font)).toBeCloseTo(10, 12);
    expect(textWidthMm('', style, font)).toBe(0);
  });

  it('counts a missing character, of one code unit or two, as one replacement', () => {
    expect(textWidthMm('é', style, font)).toBeCloseTo(4, 12);
    expect(textWidthMm('𝄞', style, font)).toBeCloseTo(4, 12);
  });
});

describe('fitText', () => {
  it('leaves what fits exactly', () => {
    expect(fitText('abcd', 8, style, font)).toBe('abcd');
  });

  it('shortens with an ellipsis, without a space before it', () => {
    expect(fitText('ab cdef', 8, style, font)).toBe('ab…');
    expect(fitText('abcdef', 8, style, font)).toBe('abc…');
  });

  it('gives nothing where nothing fits', () => {
    expect(fitText('abcdef', 3, style, font)).toBe('');
  });
});

describe('wrapText', () => {
  it('breaks at spaces and keeps line breaks', () => {
    expect(wrapText('aa bb cc\ndd', 10, style, font)).toEqual(['aa bb', 'cc', 'dd']);
    expect(wrapText('aa\n\nbb', 10, style, font)).toEqual(['aa', '', 'bb']);
  });

  it('breaks a long word between characters', () => {
    expect(wrapText('x abcdefg', 6, style, font)).toEqual(['x', 'abc', 'def', 'g']);
  });

  it('gives no line for blank text', () => {
    expect(wrapText(' \n ', 10, style, font)).toEqual([]);
  });

  it('loses no character but spaces, and keeps every line within its width', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 60 }), fc.double({ min: 2, max: 40, noNaN: true }), (text, widthMm) => {
        const lines = wrapText(text, widthMm, style, font);
        expect(lines.join('').replaceAll(/\s/g, '')).toBe(text.replaceAll(/\s/g, ''));
        for (const line of lines) {
          if ([...line].length > 1) expect(textWidthMm(line, style, font)).toBeLessThanOrEqual(widthMm + 1e-6);
        }
      }),
    );
  });
});

describe('missingCharacters', () => {
  it('names each once, in order', () => {
    expect(missingCharacters('a送りé送\n', font)).toEqual(['送', 'り', 'é']);
    expect(missingCharacters('plain', font)).toEqual([]);
  });
});
