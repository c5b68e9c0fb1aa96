import fc from 'fast-check';
import sharp from 'sharp';
import { expect, it } from 'vitest';
import { greyOfRgba } from './grey-of-rgba.js';

const SIDE = 8;
const pixels = fc.uint8Array({ minLength: 4 * SIDE * SIDE, maxLength: 4 * SIDE * SIDE });

// libvips, by sharp 0.35.5: its own way from sRGB to grey.
it('makes the grey of another library, to one value', async () => {
  await fc.assert(
    fc.asyncProperty(pixels, async (rgba) => {
      for (let k = 3; k < rgba.length; k += 4) rgba[k] = 255;
      const grey = new Uint8Array(SIDE * SIDE);
      greyOfRgba(rgba, grey);
      const raw = { raw: { width: SIDE, height: SIDE, channels: 4 as const } };
      const theirs = await sharp(rgba, raw).removeAlpha().toColourspace('b-w').raw().toBuffer();
      expect(Math.max(...grey.map((v, k) => Math.abs(v - theirs[k])))).toBeLessThanOrEqual(1);
    }),
    { numRuns: 30 },
  );
});

it('leaves greys as they are, and lays what is see-through on white', () => {
  const grey = new Uint8Array(258);
  greyOfRgba(
    Uint8Array.from({ length: 1024 }, (_, k) => (k % 4 === 3 ? 255 : k >> 2)),
    grey,
    1,
  );
  expect([...grey]).toEqual([0, ...Array.from({ length: 256 }, (_, v) => v), 0]);
  const laid = new Uint8Array(3);
  greyOfRgba(Uint8Array.of(0, 0, 0, 0, 0, 0, 0, 128, 100, 100, 100, 51), laid);
  expect([...laid]).toEqual([255, 127, 224]);
  expect(() => greyOfRgba(new Uint8Array(8), new Uint8Array(1))).toThrow(RangeError);
});
