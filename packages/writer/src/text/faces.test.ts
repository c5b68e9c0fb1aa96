import type { TextItem } from '@okuri/core';
import { describe, expect, it } from 'vitest';
import { bundledFace, fontMetrics, REPLACEMENT_CODE_POINT } from './faces.js';
import { layoutText } from './layout.js';

describe('fontMetrics', () => {
  it('agrees with the font library, character by character', () => {
    const metrics = fontMetrics();
    for (const bold of [false, true]) {
      const { font } = bundledFace(bold);
      const face = bold ? metrics.bold : metrics.regular;
      expect(face.advances.size).toBeGreaterThan(5000);
      for (const codePoint of [...face.advances.keys()].filter((_, k) => k % 50 === 0)) {
        expect(face.advances.get(codePoint)).toBe(font.glyphForCodePoint(codePoint).advanceWidth);
      }
    }
    expect(metrics.regular.unitsPerEm).toBe(2048);
    expect(metrics.regular.capHeight).toBe(1493);
    expect(fontMetrics()).toBe(metrics);
  });

  it('has the replacement character and lacks what the font lacks', () => {
    const { advances } = fontMetrics().regular;
    expect(advances.has(REPLACEMENT_CODE_POINT)).toBe(true);
    // No DejaVu face has Chinese characters.
    expect(advances.has(0x7d04)).toBe(false);
  });
});

describe('layoutText', () => {
  const item: TextItem = { kind: 'text', text: 'AV fi', x: 10, y: 20, sizeMm: 5, colour: '#000000' };

  it('is as long as its advances, without kerning or ligatures', () => {
    const { advances, unitsPerEm } = fontMetrics().regular;
    const sum = [...item.text].reduce((all, c) => all + advances.get(c.codePointAt(0)!)!, 0);
    const layout = layoutText(item);
    expect(layout.width).toBeCloseTo((sum * 5) / unitsPerEm, 9);
    expect(layout.glyphs).toHaveLength(5);
  });

  it('puts the anchor in its place under any turn', () => {
    const { width } = layoutText(item);
    expect(layoutText({ ...item, anchor: 'end', turn: 90 }).matrix).toEqual([0, 1, -1, 0, 10, 20 - width]);
    const [a, b, , , e, f] = layoutText({ ...item, anchor: 'middle', turn: 30 }).matrix;
    expect(e + (a * width) / 2).toBeCloseTo(10, 9);
    expect(f + (b * width) / 2).toBeCloseTo(20, 9);
  });

  it('replaces what the font lacks', () => {
    expect(layoutText({ ...item, text: 'a約' }).glyphs.map((g) => g.codePoint)).toEqual([0x61, REPLACEMENT_CODE_POINT]);
  });

  it('refuses sizes that are not lengths', () => {
    expect(() => layoutText({ ...item, sizeMm: 0 })).toThrow(/above zero/);
  });
});
