import { type GreyImage, InputError } from '@okuri/core';
import { describe, expect, it } from 'vitest';
import { discShare, normalNumbers, pictureOf } from '../scale/drawn-pictures.test-help.js';
import { classMiddle, otsuThreshold } from './histogram.js';
import { inkLevel } from './ink-level.js';

describe('the level of ink', () => {
  it("agrees with a worked example of Otsu's threshold", () => {
    // A. Greensted, Otsu Thresholding, The Lab Book Pages (2010): six greys, of which 3 to 5 are foreground. From memory.
    expect(otsuThreshold(Float64Array.of(8, 7, 2, 6, 9, 4))).toBe(2);
    expect(otsuThreshold(Float64Array.of(0, 0, 9, 0))).toBe(-1);
    expect(otsuThreshold(Float64Array.of(4, 0, 0, 0, 0, 4))).toBe(2);
  });

  it('finds the middle of a class beside a long tail', () => {
    expect(classMiddle(Float64Array.of(2, 30, 60, 30, 9, 9, 9, 9, 9, 9), 0, 9)).toBe(2);
    expect(classMiddle(Float64Array.of(0, 0, 0), 0, 2)).toBe(-1);
  });

  it('lies halfway on a rendering in black and white, at 8 and 16 bits', () => {
    const image = pictureOf(60, 60, (x, y) => 1 - discShare(x, y, { x: 30.2, y: 29.7, r: 12 }));
    const { noise, ...greys } = inkLevel(image);
    expect(greys).toEqual({ level: 0.5, paper: 1, ink: 0 });
    expect(noise).toBeLessThan(0.001);
    const deep: GreyImage = { ...image, values: Uint16Array.from(image.values, (v) => 257 * v), white: 65535 };
    expect(inkLevel(deep).level).toBe(0.5);
  });

  it('lies halfway between grey ink and paper, measures their noise, and moves with the offset', () => {
    const gauss = normalNumbers(11);
    const image = pictureOf(
      400,
      300,
      (x, y) => 0.85 - 0.6 * discShare(x, y, { x: 200, y: 150, r: 100 }) + 0.03 * gauss(),
    );
    const found = inkLevel(image);
    expect(found.paper).toBeCloseTo(0.85, 2);
    expect(found.ink).toBeCloseTo(0.25, 2);
    expect(found.level).toBeCloseTo(0.55, 2);
    // Immerkær's estimate errs by some percents.
    expect(Math.abs(found.noise / 0.03 - 1)).toBeLessThan(0.05);
    expect(inkLevel(image, { offset: 0.25 }).level - found.level).toBeCloseTo(0.25 * (found.paper - found.ink), 9);
    expect(inkLevel(image, { offset: -0.4 }).level).toBeLessThan(found.level);
    expect(() => inkLevel(image, { offset: 0.5 })).toThrow(RangeError);
  });

  it('sees a small drawing on noisy paper, where the whole histogram is of paper', () => {
    const gauss = normalNumbers(5);
    const image = pictureOf(
      700,
      500,
      (x, y) => 0.8 - 0.6 * discShare(x, y, { x: 100.3, y: 80.2, r: 3 }) + 0.02 * gauss(),
    );
    const found = inkLevel(image);
    expect(Math.abs(found.paper - 0.8)).toBeLessThan(0.01);
    expect(Math.abs(found.ink - 0.2)).toBeLessThan(0.1);
  });

  it('says when there is nothing to see', () => {
    const gauss = normalNumbers(9);
    expect(() => inkLevel(pictureOf(50, 50, () => 1))).toThrow(InputError);
    expect(() => inkLevel(pictureOf(200, 200, () => 0.8 + 0.03 * gauss()))).toThrow(/nothing darker than its paper/);
    expect(() => inkLevel(pictureOf(200, 200, () => 0.1 + 0.02 * gauss()))).toThrow(/dark all over/);
    // What shows through from the back of the sheet is no drawing.
    expect(() => inkLevel(pictureOf(90, 90, (x) => (x < 40 ? 0.85 : 0.93)))).toThrow(InputError);
  });

  it('looks only at what it is told to', () => {
    const image = pictureOf(80, 40, (x, y) => (x >= 40 ? 0.4 : 0.9 - 0.8 * discShare(x, y, { x: 20, y: 20, r: 9 })));
    const within = Uint8Array.from(image.values, (_, k) => (k % 80 < 40 ? 255 : 0));
    expect(inkLevel(image, { within }).level).toBeCloseTo(0.5, 2);
  });
});
