import { describe, expect, it } from 'vitest';
import { COLOURS, GREY, lineStyle, MEANING_WORDS, type Meaning, PAPER, RULE_GREY, WASTE_TINT } from './palette.js';

const MEANINGS = Object.keys(MEANING_WORDS) as Meaning[];

describe('COLOURS', () => {
  it('are those of Okabe & Ito, Color Universal Design, 2008', () => {
    expect(Object.values(COLOURS)).toEqual([
      '#000000',
      '#e69f00',
      '#56b4e9',
      '#009e73',
      '#f0e442',
      '#0072b2',
      '#d55e00',
      '#cc79a7',
    ]);
  });
});

describe('lineStyle', () => {
  it('tells every meaning by its line alone: no two have the same width and dashes', () => {
    const shapes = MEANINGS.map((m) => {
      const { widthMm, dashMm = [] } = lineStyle(m);
      return `${widthMm} ${dashMm.join(' ')}`;
    });
    // A stop is told from all else by its ticks; it shares its width with no other solid line.
    expect(new Set(shapes).size).toBe(MEANINGS.length);
  });

  it('keeps solid black for the first cut', () => {
    const black = MEANINGS.filter((m) => lineStyle(m).colour === COLOURS.black);
    expect(black).toEqual(['first-cut']);
    expect(lineStyle('first-cut').dashMm).toBeUndefined();
  });

  it('has the widths of the trade: 0.25 mm for the first cut, long dashes of 0.8 mm for the hold line, round dots for the second cut', () => {
    expect(lineStyle('first-cut').widthMm).toBe(0.25);
    expect(lineStyle('hold-line').widthMm).toBe(0.8);
    expect((lineStyle('hold-line').dashMm ?? [])[0]).toBeGreaterThanOrEqual(6);
    const { cap, dashMm = [], widthMm } = lineStyle('second-cut');
    expect(cap).toBe('round');
    expect(dashMm[0]).toBeLessThan(widthMm / 4);
  });

  it('is drawn larger where it will be seen smaller', () => {
    const full = lineStyle('hold-line');
    const reduced = lineStyle('hold-line', { scale: 0.25 });
    expect(reduced.widthMm * 0.25).toBeLessThan(full.widthMm);
    expect(reduced.widthMm).toBeGreaterThan(full.widthMm);
    expect((reduced.dashMm ?? [])[0] / reduced.widthMm).toBeCloseTo((full.dashMm ?? [])[0] / full.widthMm, 9);
  });
});

describe('contrast', () => {
  // Relative luminance and contrast ratio: WCAG 2.2, definitions; 7:1 is its level AAA for text, 4.5:1 level AA.
  it.each([
    ['black on the tinted waste', COLOURS.black, WASTE_TINT, 7],
    ['grey on paper', GREY, PAPER, 7],
    ['blue on paper', COLOURS.blue, PAPER, 4.5],
  ])('%s', (_, ink, ground, least) => {
    expect(contrast(ink, ground)).toBeGreaterThanOrEqual(least);
  });

  it('of the waste against the paper is 20 % black: seen on any printer, and light enough that the outline rules', () => {
    // 20 % black: 255 less a fifth is 204, cc in hexadecimal digits.
    expect(WASTE_TINT).toBe('#cccccc');
    expect(contrast(PAPER, WASTE_TINT)).toBeLessThan(2);
    expect(contrast(COLOURS.black, WASTE_TINT)).toBeGreaterThan(10);
    expect(contrast(PAPER, RULE_GREY)).toBeGreaterThan(1.5);
  });
});

function contrast(a: string, b: string): number {
  const [low, high] = [luminance(a), luminance(b)].sort((p, q) => p - q);
  return (high + 0.05) / (low + 0.05);
}

function luminance(colour: string): number {
  const [r, g, b] = [1, 3, 5].map((k) => {
    const v = Number.parseInt(colour.slice(k, k + 2), 16) / 255;
    return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}
