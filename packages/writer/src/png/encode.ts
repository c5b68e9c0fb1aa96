import type { Drawing } from '@okuri/core';
import sharp from 'sharp';
import { colourChannels } from '../shared/colours.js';
import { withHeader } from './chunks.js';
import type { PixelOptions, Pixels, Resolution } from './options.js';
import { renderPixels } from './pixels.js';

/**
 * Level 6 without adaptive filters: measured on cloth, level 9 takes five times as long for a fifth less, level 1 is hardly faster,
 * and filters make flat colours larger.
 */
const PNG_SETTINGS = { compressionLevel: 6, adaptiveFiltering: false, palette: false } as const;

/**
 * Pixels as a PNG file. One channel of two colours becomes a palette of 256 steps from one to the other. The physical pixel size (pHYs)
 * is that of the pixels themselves unless another is given.
 */
export async function encodePng(pixels: Pixels, options: Partial<PixelOptions> = {}): Promise<Uint8Array> {
  const { data, width, height, channels, colours } = pixels;
  const resolution: Resolution =
    options.pixelsPerMm === undefined ? pixels.resolution : { x: options.pixelsPerMm, y: options.pixelsPerMm };
  const image = sharp(data, { raw: { width, height, channels }, limitInputPixels: false });
  const png = await (channels === 1 ? image.toColourspace('b-w') : image).png(PNG_SETTINGS).toBuffer();
  return withHeader(png, {
    // PNG counts pixels for a metre.
    pixelsPerMetre: [Math.round(resolution.x * 1000), Math.round(resolution.y * 1000)],
    ...(colours !== undefined && { palette: blend(colours) }),
  });
}

/** One page of a drawing as a PNG file: `encodePng` of `renderPixels`, and their errors. */
export async function toPng(drawing: Drawing, pageIndex: number, options: PixelOptions): Promise<Uint8Array> {
  return encodePng(await renderPixels(drawing, pageIndex, options));
}

function blend([first, second]: readonly [string, string]): Uint8Array {
  const a = colourChannels(first);
  const b = colourChannels(second);
  const palette = new Uint8Array(256 * 3);
  for (let k = 0; k < 256; k++) {
    for (let c = 0; c < 3; c++) palette[3 * k + c] = Math.round(a[c] + ((b[c] - a[c]) * k) / 255);
  }
  return palette;
}
