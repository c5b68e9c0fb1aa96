import type { Drawing, Item } from '@okuri/core';
import sharp from 'sharp';
import { itemsToSvg } from '../svg/to-svg.js';
import type { Resolution } from './options.js';

/** A rectangle of whole pixels on a page's picture. */
export interface PixelBox {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** The renderer behind sharp refuses pictures of more than 32,767 pixels a side; taller and wider ones are drawn in parts. */
const LARGEST_PART = 16_384;

/** Red, green, blue, alpha (not premultiplied) of each pixel of the box: what the general renderer makes of the items. */
export async function renderBox(
  drawing: Drawing,
  items: readonly Item[],
  box: PixelBox,
  resolution: Resolution,
): Promise<Uint8Array> {
  if (box.width <= LARGEST_PART && box.height <= LARGEST_PART) return renderPart(drawing, items, box, resolution);
  const whole = new Uint8Array(box.width * box.height * 4);
  for (let y = 0; y < box.height; y += LARGEST_PART) {
    for (let x = 0; x < box.width; x += LARGEST_PART) {
      const width = Math.min(LARGEST_PART, box.width - x);
      const height = Math.min(LARGEST_PART, box.height - y);
      const part = await renderPart(drawing, items, { x: box.x + x, y: box.y + y, width, height }, resolution);
      for (let row = 0; row < height; row++) {
        whole.set(part.subarray(row * width * 4, (row + 1) * width * 4), ((y + row) * box.width + x) * 4);
      }
    }
  }
  return whole;
}

async function renderPart(
  drawing: Drawing,
  items: readonly Item[],
  { x, y, width, height }: PixelBox,
  resolution: Resolution,
): Promise<Uint8Array> {
  const svg = itemsToSvg(drawing, items, {
    xMm: x / resolution.x,
    yMm: y / resolution.y,
    widthMm: width / resolution.x,
    heightMm: height / resolution.y,
    widthPx: width,
    heightPx: height,
  });
  const { data, info } = await sharp(Buffer.from(svg), { unlimited: true, limitInputPixels: false, density: 72 })
    .raw()
    .toBuffer({ resolveWithObject: true });
  if (info.width !== width || info.height !== height || info.channels !== 4) {
    throw new Error(
      `The renderer gave ${info.width} × ${info.height} × ${info.channels} for ${width} × ${height} × 4.`,
    );
  }
  return data;
}
