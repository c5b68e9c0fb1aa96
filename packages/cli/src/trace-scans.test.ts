import type { Scan } from '@okuri/reader/scan';
import type { ScaleRequest } from '@okuri/scan';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { scaleOf, traceScans } from './trace-scans.js';

const REDUCED: Scan & { name: string } = {
  name: 'large.tif',
  image: { width: 500, height: 400, values: new Uint8Array(200_000), white: 255 },
  resolution: { across: 10, down: 10 },
  format: 'tiff',
  bits: 8,
  turned: false,
  reduced: 2,
  remarks: [],
};
const remedy = () => 'say it.';
const of = (scale: ScaleRequest | null, more = {}) => scaleOf(REDUCED, { scale, remedy, ...more });

describe('the scale of a picture that was reduced to a half', () => {
  it('is asked for in pixels and dots of the file', () => {
    const inch = (dpi: number) => ({ across: dpi, down: dpi, unit: 'inch' as const });
    expect(of({ from: 'resolution', resolution: inch(600) })).toEqual({ from: 'resolution', resolution: inch(300) });
    const points = [
      { x: 10, y: 20 },
      { x: 900, y: 20 },
    ];
    expect(of({ from: 'ruler', points, lengthMm: 50 })).toMatchObject({
      points: [
        { x: 5, y: 10 },
        { x: 450, y: 10 },
      ],
    });
    const dots = { from: 'dots', widthMm: 50, heightMm: 40 } as const;
    expect(of(dots)).toBe(dots);
  });

  it('is what the file states, reduced already, or follows from the width', () => {
    expect(of(null)).toEqual({ from: 'file', resolution: { across: 254, down: 254, unit: 'inch' } });
    expect(scaleOf({ ...REDUCED, resolution: null }, { scale: null, widthMm: 100, remedy })).toEqual({
      from: 'resolution',
      resolution: { across: 5, down: 5, unit: 'mm' },
    });
    expect(() => scaleOf({ ...REDUCED, resolution: null }, { scale: null, remedy })).toThrow(
      /^it states no resolution .*: say it\.$/,
    );
    const remarks = ["it states 1 by 1 dpi, which can't be"];
    expect(() => scaleOf({ ...REDUCED, resolution: null, remarks }, { scale: null, remedy })).toThrow(
      '(it states 1 by 1 dpi',
    );
  });
});

it('joins only what has one resolution, and by no places', async () => {
  const file = async (name: string, across: number, down = across) => ({
    name,
    bytes: await sharp(new Uint8Array(300 * 300).fill(255), { raw: { width: 300, height: 300, channels: 1 } })
      .toColourspace('b-w')
      .tiff({ xres: across, yres: down })
      .toBuffer(),
  });
  const progress = { show() {}, clear() {} };
  const run = async (files: Awaited<ReturnType<typeof file>>[], scale: ScaleRequest | null = null) =>
    traceScans(files, { scale, remedy }, progress);
  await expect(run([await file('a.tif', 8), await file('b.tif', 12)])).rejects.toThrow(
    'a.tif has 203 dpi and b.tif 305 dpi: scan all parts with one resolution.',
  );
  await expect(run([await file('a.tif', 8), await file('b.tif', 8, 9)])).rejects.toThrow('b.tif has 203 by 229 dpi');
  await expect(run([await file('a.tif', 1), await file('b.tif', 8)])).rejects.toThrow('a.tif: it states no resolution');
  const points = [0, 1, 2, 3].map((k) => ({ x: 10 * k, y: k * k }));
  const places: ScaleRequest = { from: 'points', points, widthMm: 50, heightMm: 50 };
  await expect(run([await file('a.tif', 8), await file('b.tif', 8)], places)).rejects.toThrow('leave out --points');
});
