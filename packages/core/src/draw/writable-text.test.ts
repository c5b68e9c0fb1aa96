import { describe, expect, it } from 'vitest';
import { sampleFont } from '../papers/guide/sample-font.test-help.js';
import type { FaceMetrics, FontMetrics } from './types.js';
import { replacedWords, writableText } from './writable-text.js';

const font = sampleFont();
/** The sample font changed. */
function changed(change: (advances: Map<number, number>) => void): FontMetrics {
  const face = (one: FaceMetrics): FaceMetrics => {
    const advances = new Map(one.advances);
    change(advances);
    return { ...one, advances };
  };
  return { regular: face(font.regular), bold: face(font.bold) };
}

describe('writableText', () => {
  it('leaves alone what the font has', () => {
    expect(writableText('Weir vine 2', font)).toEqual({ text: 'Weir vine 2', replaced: 0 });
  });

  it('replaces each character of another script by one mark, and counts them', () => {
    expect(writableText('型紙 vine', font)).toEqual({ text: '\ufffd\ufffd vine', replaced: 2 });
    expect(writableText('𠮷a', font)).toEqual({ text: '\ufffda', replaced: 1 });
    const poor = changed((advances) => advances.delete(0xfffd));
    expect(writableText('型紙 vine', poor)).toEqual({ text: '?? vine', replaced: 2 });
  });

  it('puts letters and accents together first, and makes one line of several', () => {
    expect(
      writableText(
        'e\u0301te\u0301',
        changed((advances) => advances.set(0xe9, 500)),
      ),
    ).toEqual({ text: 'été', replaced: 0 });
    expect(writableText(' a\n b\t', font).text).toBe('a b');
  });
});

describe('replacedWords', () => {
  it('says how many', () => {
    expect(replacedWords('title', { text: 'vine', replaced: 0 })).toEqual([]);
    expect(replacedWords('title', { text: '?', replaced: 1 })[0]).toContain('1 character of the title');
    expect(replacedWords('title', { text: '\ufffd\ufffd', replaced: 2 })[0]).toBe(
      "2 characters of the title can't be written in this font and show as \ufffd.",
    );
  });
});
