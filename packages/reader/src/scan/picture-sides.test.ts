import sharp from 'sharp';
import { expect, it } from 'vitest';
import { scanFormat } from './format.js';
import { pictureSides } from './picture-sides.js';

// Written by sharp 0.35.5 (libvips with libspng, libjpeg-turbo and libwebp), which knows how large it made them.
const picture = (channels: 3 | 4) =>
  sharp({ create: { width: 173, height: 61, channels, background: { r: 9, g: 200, b: 90, alpha: 0.4 } } });

it.each([
  ['a PNG', picture(3).png()],
  ['a JPEG', picture(3).jpeg()],
  [
    'a progressive JPEG with Exif',
    picture(3)
      .withExif({ IFD0: { Copyright: 'none' } })
      .jpeg({ progressive: true }),
  ],
  ['a lossy WebP', picture(3).webp()],
  ['a lossless WebP', picture(3).webp({ lossless: true })],
  [
    'a WebP with more in it',
    picture(4)
      .withExif({ IFD0: { Copyright: 'none' } })
      .webp(),
  ],
])('reads the sides of %s', async (_, made) => {
  const bytes = new Uint8Array(await made.toBuffer());
  const format = scanFormat(bytes);
  expect(format).not.toBeNull();
  if (format === null) return;
  expect(pictureSides(bytes, format)).toEqual({ width: 173, height: 61 });
  // Cut anywhere it is no fault of the program.
  for (let length = 12; length < Math.min(bytes.length, 300); length++) {
    const cut = pictureSides(bytes.subarray(0, length), format);
    if (cut !== null) expect(cut).toEqual({ width: 173, height: 61 });
  }
});
