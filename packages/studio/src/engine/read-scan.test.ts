import { type Job, readJob } from '@okuri/core';
import sharp from 'sharp';
import { expect, it } from 'vitest';
import type { PictureScan } from '../scan/decode-picture';
import { PLAIN_SCAN } from '../scan/settings';
import type { ArtworkFile } from '../state/project';
import { ScaleWanted, scanReader } from './read-scan';

const SIDE = 160;

async function scan(density: number | null): Promise<ArtworkFile> {
  const square = { input: Buffer.from(`<svg width="80" height="80"><rect width="80" height="80"/></svg>`) };
  const picture = sharp({ create: { width: SIDE, height: SIDE, channels: 3, background: '#fff' } }).composite([square]);
  const made = (density === null ? picture : picture.withMetadata({ density })).png();
  return { name: 'square.png', bytes: new Uint8Array(await made.toBuffer()) };
}

/** sharp in the browser's place; every decoding is counted. */
function decoder() {
  const decoded: string[] = [];
  const decode = async (file: ArtworkFile): Promise<PictureScan> => {
    decoded.push(file.name);
    const values = new Uint8Array(await sharp(file.bytes).toColourspace('b-w').raw().toBuffer());
    const image = { width: SIDE, height: SIDE, values, white: 255 as const };
    const { density } = await sharp(file.bytes).metadata();
    const perMm = density === undefined ? null : density / 25.4;
    const resolution = perMm === null ? null : { across: perMm, down: perMm };
    return { name: file.name, image, sides: image, factor: 1, resolution, remarks: [] };
  };
  return { decode, decoded };
}

const job = (more = ''): Job =>
  readJob(`{ "okuri": 1, "motif": "square.png", "repeat": "straight"${more} }`, { file: 'a job' }).job;

it('decodes a scan once, and traces it once for every way it is asked for', async () => {
  const { decode, decoded } = decoder();
  const reader = scanReader(await scan(200), decode);
  const stages: string[] = [];
  const plain = await reader.read(job(), PLAIN_SCAN, (stage) => stages.push(stage));
  expect(plain.motif.frame.widthMm).toBeCloseTo((SIDE * 25.4) / 200, 1);
  expect(stages).toContain('tracing the scan');
  const other = await reader.read(job(), { ...PLAIN_SCAN, scale: { from: 'resolution', dpi: 100 } });
  expect(other.motif.frame.widthMm).toBeCloseTo((SIDE * 25.4) / 100, 6);
  // The width of the unit makes no other trace where the scale is known.
  expect(await reader.read(job(', "width": "30mm"'), PLAIN_SCAN)).toBe(plain);
  expect(decoded).toEqual(['square.png']);
  // Another thread that is told of them traces nothing.
  const fresh = scanReader(await scan(200), () => Promise.reject(new Error('decoded once more')));
  fresh.remember([plain, other]);
  expect(await fresh.read(job(), PLAIN_SCAN)).toBe(plain);
});

it.each([
  [72, 72],
  [96, 96],
])(
  'asks for the scale where a file states %s dpi, but for a job that says how wide the unit is',
  async (dpi, stated) => {
    const reader = scanReader(await scan(dpi), decoder().decode);
    const asked = await reader.read(job(), PLAIN_SCAN).catch((error) => error);
    expect(asked).toBeInstanceOf(ScaleWanted);
    expect(asked.asked).toEqual({ widthPx: SIDE, heightPx: SIDE, statedDpi: stated });
    expect(asked.message).toMatch(/^square\.png states .*[.]$/);
    await expect(reader.read(job(', "width": "50mm"'), PLAIN_SCAN)).resolves.toBeDefined();
  },
);
