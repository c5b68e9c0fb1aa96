import { InputError } from '@okuri/core';
import sharp, { type Sharp } from 'sharp';
import { describe, expect, it } from 'vitest';
import { decodeScan } from './decode.js';
import { jpegWithSegment, pngWithChunk, tiffBlock } from './fields.test-help.js';
import { isScan } from './format.js';
import { MAX_SCAN_PIXELS } from './size.js';

const [WIDTH, HEIGHT] = [48, 32];
/** An F-like picture: no two of its eight orientations look alike. Steps of 8 pixels, so that JPEG keeps their middles. */
const CELLS = [
  [0, 40, 80, 120, 160, 200],
  [255, 20, 255, 60, 255, 100],
  [30, 255, 255, 70, 255, 255],
  [10, 255, 90, 255, 255, 255],
];
const CELL = 8;
const grey8 = Uint8Array.from({ length: WIDTH * HEIGHT }, (_, k) => cellAt(k % WIDTH, Math.floor(k / WIDTH)));
const grey16 = Uint16Array.from(grey8, (v) => v * 257 - (v > 0 ? 13 : 0));

function cellAt(x: number, y: number): number {
  return CELLS[Math.floor(y / CELL)][Math.floor(x / CELL)];
}

const raw = (values: Uint8Array | Uint16Array, channels: 1 | 2 | 3 | 4 = 1, width = WIDTH, height = HEIGHT) =>
  sharp(values, { raw: { width, height, channels } });
const grey = () => raw(grey8).toColourspace('b-w');
const decode = (bytes: Uint8Array, more = {}) => decodeScan(bytes, { name: 'a.png', ...more });
const buffer = async (picture: Sharp) => new Uint8Array(await picture.toBuffer());

/** The largest difference to the expected grey in the middles of all cells, where no compression reaches over from the next. */
function worst(image: { values: Uint8Array | Uint16Array; width: number }, expected: (x: number, y: number) => number) {
  let far = 0;
  const height = image.values.length / image.width;
  for (let y = CELL / 2; y < height; y += CELL) {
    for (let x = CELL / 2; x < image.width; x += CELL) {
      far = Math.max(far, Math.abs(image.values[y * image.width + x] - expected(x, y)));
    }
  }
  return far;
}

describe('formats and bits', () => {
  const cases: [string, () => Sharp, number][] = [
    ['grey PNG', () => grey().png(), 0],
    ['PNG of colours', () => raw(grey8).toColourspace('srgb').png(), 0],
    ['PNG with a palette', () => raw(grey8).png({ palette: true, dither: 0 }), 3],
    ['JPEG', () => grey().jpeg({ quality: 95 }), 4],
    ['progressive JPEG of colours', () => raw(grey8).toColourspace('srgb').jpeg({ progressive: true, quality: 95 }), 4],
    ['TIFF by LZW', () => grey().tiff({ compression: 'lzw' }), 0],
    [
      'TIFF in tiles, deflated',
      () => grey().tiff({ compression: 'deflate', tile: true, tileWidth: 16, tileHeight: 16 }),
      0,
    ],
    ['big TIFF', () => grey().tiff({ compression: 'none', bigtiff: true }), 0],
    ['lossless WebP', () => raw(grey8).webp({ lossless: true }), 0],
  ];
  it.each(cases)('reads a %s as it was', async (_, make, most) => {
    const scan = await decode(await buffer(make()));
    expect([scan.image.width, scan.image.height, scan.image.white, scan.bits]).toEqual([WIDTH, HEIGHT, 255, 8]);
    expect(worst(scan.image, cellAt)).toBeLessThanOrEqual(most);
    expect([scan.turned, scan.reduced, scan.remarks]).toEqual([false, null, []]);
  });

  it.each<[string, () => Sharp]>([
    ['PNG', () => raw(grey16).toColourspace('grey16').png()],
    ['TIFF', () => raw(grey16).toColourspace('grey16').tiff({ compression: 'none' })],
    ['PNG of colours', () => raw(threeOf(grey16), 3).toColourspace('rgb16').png()],
  ])('keeps all 16 bits of a %s', async (_, make) => {
    const { image, bits } = await decode(await buffer(make()));
    expect([image.white, bits]).toEqual([65535, 16]);
    expect(Array.from(image.values)).toEqual(Array.from(grey16));
  });

  it.each<[string, (p: Sharp) => Sharp]>([
    ['TIFF', (p) => p.tiff({ compression: 'none' })],
    ['JPEG', (p) => p.jpeg({ quality: 100 })],
  ])('reads a %s of four inks: white as white, and darker as darker', async (_, as) => {
    const steps = Uint8Array.from({ length: 256 * 32 }, (_, k) => 255 - 32 * Math.floor((k % 256) / 32));
    const { image } = await decode(await buffer(as(raw(steps, 1, 256, 32).toColourspace('cmyk'))));
    const seen = Array.from({ length: 8 }, (_, k) => image.values[16 * 256 + 32 * k + 16]);
    expect(seen[0]).toBe(255);
    for (let k = 1; k < 8; k++) expect(seen[k]).toBeLessThan(seen[k - 1] - 10);
  });

  it.each([1, 2, 4] as const)('reads %i bits a pixel, black and white either way round', async (bitdepth) => {
    const lines = Uint8Array.from(grey8, (v) => (v > 127 ? 255 : 0));
    for (const miniswhite of [false, true]) {
      const scan = await decode(
        await buffer(raw(lines).toColourspace('b-w').tiff({ bitdepth, miniswhite, compression: 'none' })),
      );
      expect(Array.from(scan.image.values)).toEqual(Array.from(lines));
    }
  });

  it('reads fax compression', async () => {
    const lines = Uint8Array.from(grey8, (v) => (v > 127 ? 255 : 0));
    const made = raw(lines).toColourspace('b-w').tiff({ bitdepth: 1, compression: 'ccittfax4' });
    expect(Array.from((await decode(await buffer(made))).image.values)).toEqual(Array.from(lines));
  });

  it('lays what is see-through on white', async () => {
    const four = (values: Uint8Array | Uint16Array, white: number) => {
      const out = new (values.constructor as Uint16ArrayConstructor)(values.length * 4).fill(0);
      values.forEach((_, k) => {
        out[4 * k + 3] = k % 2 === 0 ? 0 : Math.round(white * 0.4);
      });
      return out;
    };
    const eight = (await decode(await buffer(raw(four(grey8, 255), 4).png()))).image.values;
    expect([eight[0], eight[1]]).toEqual([255, 153]);
    const sixteen = (await decode(await buffer(raw(four(grey16, 65535), 4).toColourspace('rgb16').png()))).image.values;
    expect([sixteen[0], sixteen[1]]).toEqual([65535, 39321]);
  });
});

function threeOf(values: Uint16Array): Uint16Array {
  return Uint16Array.from({ length: values.length * 3 }, (_, k) => values[Math.floor(k / 3)]);
}

describe('colours', () => {
  // IEC 61966-2-1: light of the three primaries by ITU-R BT.709, and the curve between light and number.
  const light = (v: number) => (v / 255 <= 0.04045 ? v / 255 / 12.92 : ((v / 255 + 0.055) / 1.055) ** 2.4);
  const number = (l: number) => 255 * (l <= 0.0031308 ? 12.92 * l : 1.055 * l ** (1 / 2.4) - 0.055);
  const luminance = ([r, g, b]: number[]) => number(0.2126 * light(r) + 0.7152 * light(g) + 0.0722 * light(b));
  it.each([[[200, 20, 20]], [[20, 160, 30]], [[20, 60, 220]], [[240, 220, 40]], [[90, 90, 90]]])(
    '%j becomes the grey of equal luminance, and is seen through glass',
    async (rgb) => {
      const values = Uint8Array.from({ length: WIDTH * HEIGHT * 3 }, (_, k) => rgb[k % 3]);
      const bytes = await buffer(raw(values, 3).png());
      expect(Math.abs((await decode(bytes)).image.values[0] - luminance(rgb))).toBeLessThanOrEqual(1);
      for (const [k, glass] of (['red', 'green', 'blue'] as const).entries()) {
        expect((await decode(bytes, { glass })).image.values[0]).toBe(rgb[k]);
      }
    },
  );
});

describe('orientation', () => {
  /** Where a place of the upright picture lies in the stored one, and whether it stands on its side (Exif 2.32, 4.6.5, table of Orientation). */
  const stored: Record<number, (x: number, y: number, w: number, h: number) => [number, number]> = {
    1: (x, y) => [x, y],
    2: (x, y, w) => [w - 1 - x, y],
    3: (x, y, w, h) => [w - 1 - x, h - 1 - y],
    4: (x, y, _, h) => [x, h - 1 - y],
    // Row 0 of the stored picture is the left side of the upright one (5, 8: from its top, from its bottom), or its right side (6, 7).
    5: (x, y) => [y, x],
    6: (x, y, _, h) => [y, h - 1 - x],
    7: (x, y, w, h) => [w - 1 - y, h - 1 - x],
    8: (x, y, w) => [w - 1 - y, x],
  };
  const formats = [
    ['PNG', (p: Sharp) => p.png()],
    ['JPEG', (p: Sharp) => p.jpeg({ quality: 95 })],
    ['TIFF', (p: Sharp) => p.tiff({ compression: 'lzw' })],
    ['WebP', (p: Sharp) => p.webp({ lossless: true })],
  ] as const;
  it.each(formats)('turns a %s upright, whichever of the eight it is', async (_, as) => {
    for (let orientation = 1; orientation <= 8; orientation++) {
      const scan = await decode(await buffer(as(grey().withMetadata({ orientation }))));
      const onSide = orientation >= 5;
      expect([scan.image.width, scan.image.height]).toEqual(onSide ? [HEIGHT, WIDTH] : [WIDTH, HEIGHT]);
      expect(scan.turned).toBe(orientation > 1);
      const expected = (x: number, y: number) => cellAt(...stored[orientation](x, y, WIDTH, HEIGHT));
      expect(worst(scan.image, expected)).toBeLessThanOrEqual(4);
    }
  });

  it('changes the resolution across for that down', async () => {
    for (const [orientation, across] of [
      [1, 8],
      [3, 8],
      [6, 4],
    ]) {
      const bytes = await buffer(grey().withMetadata({ orientation }).tiff({ compression: 'none', xres: 8, yres: 4 }));
      const { resolution } = await decode(bytes);
      expect(resolution?.across).toBeCloseTo(across, 6);
      expect(resolution?.down).toBeCloseTo(12 - across, 6);
    }
  });
});

describe('resolution', () => {
  const dpi = async (bytes: Uint8Array) => {
    const { resolution } = await decode(bytes);
    return resolution && [resolution.across * 25.4, resolution.down * 25.4].map((v) => Math.round(v * 100) / 100);
  };
  const jfif = (units: number, x: number, y: number) =>
    Uint8Array.from([0x4a, 0x46, 0x49, 0x46, 0, 1, 2, units, x >> 8, x & 255, y >> 8, y & 255, 0, 0]);
  /** A JPEG without any header of its own but the given one. */
  const jpeg = async (marker: number, data: Uint8Array) =>
    jpegWithSegment(await buffer(grey().jpeg({ quality: 95 })), marker, data);

  it.each(['png', 'jpeg', 'tiff'] as const)(
    'is nothing where a %s states none, and what it states else',
    async (as) => {
      expect(
        await dpi(await buffer(as === 'tiff' ? grey().tiff({ resolutionUnit: 'inch' }) : grey()[as]())),
      ).toBeNull();
      for (const density of [150, 300, 600]) {
        const found = (await dpi(await buffer(grey().withMetadata({ density })[as]()))) ?? [];
        expect(found).toHaveLength(2);
        // A PNG holds whole pixels a metre.
        for (const v of found) expect(Math.abs(v - density)).toBeLessThan(0.02);
      }
    },
  );

  it('of a PNG is in pixels a metre, or a mere shape of pixels', async () => {
    const phys = (x: number, y: number, unit: number) => {
      const data = new Uint8Array(9);
      new DataView(data.buffer).setUint32(0, x);
      new DataView(data.buffer).setUint32(4, y);
      data[8] = unit;
      return data;
    };
    const bytes = await buffer(grey().png());
    expect(await dpi(pngWithChunk(bytes, 'pHYs', phys(11811, 23622, 1)))).toEqual([300, 600]);
    // 72 dots an inch that are stated are just that.
    expect(await dpi(pngWithChunk(bytes, 'pHYs', phys(2835, 2835, 1)))).toEqual([72.01, 72.01]);
    expect(await dpi(pngWithChunk(bytes, 'pHYs', phys(300, 300, 0)))).toBeNull();
    expect((await decode(pngWithChunk(bytes, 'pHYs', phys(1, 1, 1)))).remarks).toEqual([
      "it states 0 by 0 dpi, which can't be",
    ]);
  });

  it('of a JPEG is in dots an inch or a centimetre, or a mere shape of pixels', async () => {
    expect(await dpi(await jpeg(0xe0, jfif(1, 300, 200)))).toEqual([300, 200]);
    expect(await dpi(await jpeg(0xe0, jfif(2, 118, 118)))).toEqual([299.72, 299.72]);
    expect(await dpi(await jpeg(0xe0, jfif(1, 72, 72)))).toEqual([72, 72]);
    expect(await dpi(await jpeg(0xe0, jfif(0, 1, 1)))).toBeNull();
  });

  it('of an Exif block counts, but for the 72 that stands there for "unknown", and for what a camera says', async () => {
    const exif = (fields: [number, number][], sub: [number, number][] = []) =>
      Uint8Array.from([...'Exif\0\0'].map((c) => c.charCodeAt(0)).concat([...tiffBlock(fields, sub)]));
    const inches = (x: number, y: number): [number, number][] => [
      [282, x],
      [283, y],
      [296, 2],
    ];
    expect(await dpi(await jpeg(0xe1, exif(inches(300, 150))))).toEqual([300, 150]);
    expect(await dpi(await jpeg(0xe1, exif(inches(72, 72))))).toBeNull();
    expect(
      await dpi(
        await jpeg(
          0xe1,
          exif([
            [282, 118],
            [283, 118],
            [296, 3],
          ]),
        ),
      ),
    ).toEqual([299.72, 299.72]);
    const photograph = await decode(await jpeg(0xe1, exif(inches(300, 300), [[0x920a, 35]])));
    expect(photograph.resolution).toBeNull();
    expect(photograph.remarks).toEqual([
      "it is a camera's photograph, whose 300 by 300 dpi say nothing of the drawing's size",
    ]);
    const webp = await buffer(grey().withMetadata({ density: 300 }).webp());
    expect(await dpi(webp)).toEqual([300, 300]);
    expect(await dpi(await buffer(grey().webp()))).toBeNull();
  });
});

describe('what can not be read', () => {
  const noise = Uint8Array.from({ length: 200 * 200 }, (_, k) => (k * 7919) % 251);
  const picture = () => raw(noise, 1, 200, 200).toColourspace('b-w');

  it.each<[string, () => Sharp]>([
    ['PNG', () => picture().png()],
    ['JPEG', () => picture().jpeg()],
    ['TIFF', () => picture().tiff({ compression: 'lzw' })],
    ['WebP', () => picture().webp()],
  ])('a %s that is cut short, wherever', async (_, make) => {
    const bytes = await buffer(make());
    for (const share of [0.1, 0.5, 0.9]) {
      const cut = bytes.subarray(0, Math.round(bytes.length * share));
      await expect(decode(cut)).rejects.toThrow(InputError);
      await expect(decode(cut)).rejects.toThrow(/^a\.png is broken or cut short \(.*\): scan or save it again\.$/);
    }
  });

  it('files that are none', async () => {
    const text = (s: string) => new TextEncoder().encode(s);
    await expect(decode(new Uint8Array())).rejects.toThrow('a.png is empty');
    await expect(decode(text('Dear friend'))).rejects.toThrow('a.png is no picture that can be read: save');
    await expect(decode(text('GIF89a…'))).rejects.toThrow('a.png is a GIF: save');
    await expect(decode(text('%PDF-1.7'))).rejects.toThrow('a.png is a PDF: save');
    await expect(decode(Uint8Array.from([0, 0, 0, 24, ...text('ftypheic')]))).rejects.toThrow('HEIC');
    expect([isScan(text('<svg/>')), isScan(await buffer(grey().png()))]).toEqual([false, true]);
  });

  it('too many pixels, by the header alone, and too few', async () => {
    const bytes = await buffer(grey().png());
    const huge = Uint8Array.from(bytes);
    new DataView(huge.buffer).setUint32(16, 20_000);
    new DataView(huge.buffer).setUint32(20, 20_000);
    await expect(decode(pngWithChunk(huge, null))).rejects.toThrow(
      'a.png has 400 million pixels (20000 by 20000): at most 300 million are read; scan it at a lower resolution',
    );
    expect(20_000 ** 2).toBeGreaterThan(MAX_SCAN_PIXELS);
    await expect(decode(await buffer(raw(Uint8Array.of(0), 1, 1, 1).png()))).rejects.toThrow(
      '1 by 1 pixels: too small',
    );
  });

  it('numbers that are no greys of 8 or 16 bits', async () => {
    const floats = raw(grey8).toColourspace('scrgb').tiff({ compression: 'none' });
    const bytes = await buffer(floats);
    const { depth } = await sharp(bytes).metadata();
    if (depth === 'float') await expect(decode(bytes)).rejects.toThrow('another kind than 8 or 16 bits');
    else expect(depth).toBe('uchar');
  });
});

it('reads the first of several pages, and says so', async () => {
  const two = await buffer(
    sharp(new Uint8Array(64 * 128).fill(9, 0, 64 * 64), {
      raw: { width: 64, height: 128, channels: 1, pageHeight: 64 },
    })
      .toColourspace('b-w')
      .tiff({ compression: 'lzw' }),
  );
  const scan = await decode(two);
  expect([scan.image.width, scan.image.height, scan.image.values[0]]).toEqual([64, 64, 9]);
  expect(scan.remarks).toEqual(['it has 2 pages, of which the first is read']);
});

it('reduces a large picture by a whole factor, by the mean, and its resolution along', async () => {
  const bytes = await buffer(grey().withMetadata({ density: 600 }).png());
  const scan = await decode(bytes, { maxPixels: (WIDTH * HEIGHT) / 4 });
  expect([scan.image.width, scan.image.height, scan.reduced]).toEqual([WIDTH / 2, HEIGHT / 2, 2]);
  expect((scan.resolution?.across ?? 0) * 25.4).toBeCloseTo(300, 1);
  expect(scan.image.values[0]).toBe(cellAt(0, 0));
  expect(scan.remarks).toHaveLength(1);
});
