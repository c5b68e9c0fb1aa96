import { InputError } from '@okuri/core';
import sharp from 'sharp';
import { expect, it } from 'vitest';
import { isPicture, measuredResolution, scanSource } from './scan-source';

// Written by sharp 0.35.5.
const white = (width = 90, height = 40) => sharp({ create: { width, height, channels: 3, background: '#fff' } });
const file = async (name: string, made: ReturnType<typeof white>) => ({
  name,
  bytes: new Uint8Array(await made.toBuffer()),
});

it('tells size and resolution of a scan as it stands upright', async () => {
  const jpeg = await file('a.jpg', white().withMetadata({ density: 300, orientation: 6 }).jpeg());
  const source = scanSource(jpeg);
  expect(source).toMatchObject({ format: 'jpeg', sides: { width: 40, height: 90 } });
  expect(source.resolution?.across).toBeCloseTo(300 / 25.4, 6);
  const png = scanSource(await file('a.png', white().withMetadata({ density: 200 }).png()));
  // PNG states whole pixels a metre.
  expect(png.resolution?.down).toBeCloseTo(200 / 25.4, 2);
});

it('takes 72 and 96 dpi for what nobody measured', async () => {
  for (const [density, isMeasured] of [
    [72, false],
    [96, false],
    [150, true],
  ] as const) {
    const source = scanSource(await file('a.png', white().withMetadata({ density }).png()));
    expect(measuredResolution(source) !== null, `${density} dpi`).toBe(isMeasured);
  }
});

it('refuses in a sentence what no browser decodes', async () => {
  const png = await file('long.png', white(90, 40).png());
  const large = Uint8Array.from(png.bytes);
  new DataView(large.buffer).setUint32(16, 30_000);
  new DataView(large.buffer).setUint32(20, 20_000);
  const refused: readonly [{ name: string; bytes: Uint8Array }, RegExp][] = [
    [await file('old.tif', white().tiff()), /^old\.tif is a TIFF, .*okuri trace old\.tif -o old\.svg/],
    [await file('small.webp', white(15, 40).webp()), /^small\.webp is 15 by 40 pixels: too small/],
    [{ name: 'long.png', bytes: large }, /^long\.png has 600 million pixels .*at most 300 million/],
    [{ name: 'cut.png', bytes: png.bytes.subarray(0, 20) }, /^cut\.png is broken or cut short/],
    [
      { name: 'a.gif', bytes: new TextEncoder().encode('GIF89a and no more of it') },
      /^a\.gif is a GIF: save .* PNG, JPEG or WebP/,
    ],
    [{ name: 'none.png', bytes: new Uint8Array() }, /^none\.png is empty/],
  ];
  for (const [picture, words] of refused) {
    expect(isPicture(picture), picture.name).toBe(true);
    const look = () => scanSource(picture);
    expect(look, picture.name).toThrow(InputError);
    expect(look, picture.name).toThrow(words);
  }
  expect(isPicture({ name: 'motif.svg', bytes: new TextEncoder().encode('<svg/>') })).toBe(false);
});
