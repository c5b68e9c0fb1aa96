import { describe, expect, it } from 'vitest';
import { contoursBox } from '../geometry/contour.js';
import { readable } from './label-box.js';
import { labelFont } from './label-font.test-help.js';
import { barLength, scaleBar } from './scale-bar.js';
import { fitText, textWidthMm, wrapAtMost, wrapText } from './text.js';

const font = labelFont();

describe('a bar that shows a length of the sheet', () => {
  it.each([
    // Room, scale, length shown: 50 only where it is at most 60 mm on the page, else the longest of 20, 10, 5, 2, 1 that fits.
    [100, 1, 50],
    [100, 1.2, 50],
    [100, 1.21, 20],
    [45, 1, 20],
    [100, 0.3, 50],
    [30, 2, 10],
    [9, 2, 2],
    [1, 4, 1],
  ])('in %d mm of room at a scale of %d is %d mm', (roomMm, scale, mm) => {
    expect(barLength(roomMm, scale)).toBe(mm);
  });

  it('is as long as it says, ends where it is asked to, and has its length left of it and clear of it', () => {
    for (const scale of [0.4, 1, 2.5]) {
      const [bar, words] = scaleBar({ right: 180, y: 50, roomMm: 80 }, scale, font);
      if (bar?.kind !== 'path' || words?.kind !== 'text') throw new RangeError('got no bar with words');
      const mm = barLength(80, scale);
      expect(words.text).toBe(`${mm} mm`);
      const box = contoursBox(bar.contours);
      expect(box?.x1).toBe(180);
      expect((box?.x1 ?? 0) - (box?.x0 ?? 0)).toBeCloseTo(mm * scale, 9);
      // Its ticks stand as far above the line as below.
      expect(((box?.y0 ?? 0) + (box?.y1 ?? 0)) / 2).toBeCloseTo(50, 9);
      const wordsEnd = words.x + textWidthMm(words.text, words, font);
      expect((box?.x0 ?? 0) - wordsEnd).toBeCloseTo(2, 6);
    }
  });
});

it('a text in at most so many lines keeps its first ones whole and cuts the last', () => {
  const style = { sizeMm: 3 };
  const text = 'one two three four five six seven eight nine ten eleven twelve thirteen fourteen';
  const whole = wrapText(text, 30, style, font);
  expect(whole.length).toBeGreaterThan(3);
  expect(wrapAtMost(text, 30, { ...style, most: whole.length }, font)).toEqual(whole);
  for (let most = 1; most < whole.length; most++) {
    const cut = wrapAtMost(text, 30, { ...style, most }, font);
    expect(cut).toHaveLength(most);
    expect(cut.slice(0, -1)).toEqual(whole.slice(0, most - 1));
    expect(cut[most - 1]).toBe(fitText(whole.slice(most - 1).join(' '), 30, style, font));
    for (const line of cut) expect(textWidthMm(line, style, font)).toBeLessThanOrEqual(30 + 1e-6);
  }
});

it('a text is never turned upside down', () => {
  const turns = [-270, -180, -135, -90, -45, 0, 30, 89, 90, 91, 135, 180, 225, 270, 359, 360];
  const expected = [-90, 0, 45, -90, -45, 0, 30, 89, -90, -89, -45, 0, 45, -90, -1, 0];
  expect(turns.map(readable)).toEqual(expected);
});
