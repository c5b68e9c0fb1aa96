import { boxContour, type Drawing } from '@okuri/core';
import { PNG } from 'pngjs';
import { describe, expect, it } from 'vitest';
import { encodePng, toPng } from './encode.js';
import type { Pixels } from './options.js';

/** Type and body of every chunk (PNG 1.2, 3.2). */
function chunks(png: Uint8Array): { type: string; body: Buffer }[] {
  const bytes = Buffer.from(png);
  const found: { type: string; body: Buffer }[] = [];
  for (let at = 8; at < bytes.length; ) {
    const length = bytes.readUInt32BE(at);
    found.push({ type: bytes.toString('latin1', at + 4, at + 8), body: bytes.subarray(at + 8, at + 8 + length) });
    at += 12 + length;
  }
  return found;
}

function pixelsPerMetre(png: Uint8Array): [number, number, number] {
  const body = chunks(png).find(({ type }) => type === 'pHYs')?.body;
  return [body!.readUInt32BE(0), body!.readUInt32BE(4), body![8]];
}

const RGB: Pixels = {
  data: Uint8Array.from([1, 2, 3, 40, 50, 60, 200, 100, 0, 255, 255, 255, 0, 0, 0, 9, 8, 7]),
  width: 3,
  height: 2,
  channels: 3,
  resolution: { x: 4, y: 4.004 },
};

describe('encodePng', () => {
  // PNG 1.2, 4.2.4.2: pixels for a metre, unit 1. 300 dpi = 11811, 96 dpi = 3780, 600 dpi = 23622, 72 dpi = 2835, 150 dpi = 5906.
  it.each([
    [72, 2835],
    [96, 3780],
    [150, 5906],
    [300, 11811],
    [600, 23622],
  ])('writes %d dpi as %d pixels a metre', async (dpi, perMetre) => {
    const png = await encodePng(RGB, { pixelsPerMm: dpi / 25.4 });
    expect(pixelsPerMetre(png)).toEqual([perMetre, perMetre, 1]);
    expect(chunks(png).filter(({ type }) => type === 'pHYs')).toHaveLength(1);
  });

  it('writes the pixels with their own size, across and along', async () => {
    const png = await encodePng(RGB);
    expect(pixelsPerMetre(png)).toEqual([4000, 4004, 1]);
    // pngjs checks every checksum.
    const read = PNG.sync.read(Buffer.from(png), { checkCRC: true });
    expect([read.width, read.height]).toEqual([3, 2]);
    expect([...read.data].filter((_, k) => k % 4 !== 3)).toEqual([...RGB.data]);
  });

  it('writes one channel as a palette from one colour to the other', async () => {
    const data = Uint8Array.from({ length: 256 }, (_, k) => k);
    const png = await encodePng({
      data,
      width: 16,
      height: 16,
      channels: 1,
      colours: ['#000000', '#ff8040'],
      resolution: { x: 1, y: 1 },
    });
    expect(chunks(png).map(({ type }) => type)).toEqual(
      expect.arrayContaining(['IHDR', 'PLTE', 'pHYs', 'IDAT', 'IEND']),
    );
    expect(chunks(png)[0].body[9]).toBe(3);
    const read = PNG.sync.read(Buffer.from(png), { checkCRC: true });
    for (const k of [0, 1, 128, 254, 255]) {
      expect([...read.data.subarray(4 * k, 4 * k + 4)]).toEqual([
        k,
        Math.round((k * 128) / 255),
        Math.round((k * 64) / 255),
        255,
      ]);
    }
  });
});

describe('toPng', () => {
  it('gives the same bytes each time', async () => {
    const drawing: Drawing = {
      title: 'Box',
      date: '2024-05-01',
      groups: {},
      pages: [
        {
          name: 'box',
          widthMm: 25.4,
          heightMm: 50.8,
          items: [
            { kind: 'path', contours: [boxContour({ x0: 2, y0: 2, x1: 20, y1: 40 })], fill: '#0072b2' },
            { kind: 'text', text: 'A1', x: 12, y: 30, sizeMm: 8, colour: '#d55e00', anchor: 'middle' },
          ],
        },
      ],
    };
    const options = { pixelsPerMm: 300 / 25.4 };
    const png = await toPng(drawing, 0, options);
    expect(Buffer.from(png).equals(Buffer.from(await toPng(drawing, 0, options)))).toBe(true);
    const read = PNG.sync.read(Buffer.from(png));
    expect([read.width, read.height]).toEqual([300, 600]);
    expect(pixelsPerMetre(png)).toEqual([11811, 11811, 1]);
  });
});
