import { describe, expect, it } from 'vitest';
import { labelFont } from './label-font.test-help.js';
import { textWidthMm } from './text.js';
import { textBlock } from './text-block.js';

const font = labelFont();
const box = { x0: 10, y0: 20, x1: 230, y1: 36 };
const options = { font, sizesMm: [3.2, 2.4, 1.6], columnMm: 110 };

function lines(count: number): { text: string }[] {
  return Array.from({ length: count }, (_, k) => ({ text: `Line ${k + 1}` }));
}

describe('textBlock', () => {
  it('takes the largest size that fits', () => {
    expect(textBlock(lines(3), box, options)[0].sizeMm).toBe(3.2);
    expect(textBlock(lines(9), box, options)[0].sizeMm).toBe(2.4);
  });

  it('stays in its box, columns apart', () => {
    for (const count of [1, 6, 9, 40]) {
      for (const t of textBlock(lines(count), box, options)) {
        expect(t.x).toBeGreaterThanOrEqual(box.x0);
        expect(t.x + textWidthMm(t.text, t, font)).toBeLessThanOrEqual(box.x1);
        expect(t.y - 0.75 * t.sizeMm).toBeGreaterThanOrEqual(box.y0);
        expect(t.y).toBeLessThanOrEqual(box.y1);
      }
    }
  });

  it('keeps a paragraph in one column', () => {
    const long = `${'word '.repeat(60)}end`;
    const set = textBlock([{ text: 'Head' }, { text: long }], { ...box, y1: 60 }, options);
    expect(new Set(set.filter((t) => t.text !== 'Head').map((t) => t.x)).size).toBe(1);
  });

  it('says where the rest is when not even the smallest size fits', () => {
    const set = textBlock(lines(40), box, options);
    expect(set[set.length - 1].text).toBe('… the rest is in the cut guide');
    expect(set.length).toBeLessThan(40);
  });

  it('gives nothing where there is no room', () => {
    expect(textBlock(lines(2), { ...box, y1: 21 }, options)).toEqual([]);
    expect(textBlock(lines(2), { ...box, x1: 10 }, options)).toEqual([]);
    expect(textBlock([], box, options)).toEqual([]);
  });
});
