import { type GreyImage, InputError } from '@okuri/core';
import {
  FULL_SCAN_PIXELS,
  greyOfRgba,
  type Resolution,
  reducedRemarks,
  reduceGrey,
  reducingFactor,
  type Sides,
} from '@okuri/reader/scan-fields';
import type { ArtworkFile } from '../state/project';
import { type ScanSource, scanSource } from './scan-source';

/** A picture as grey values, upright. */
export interface PictureScan {
  readonly name: string;
  readonly image: GreyImage;
  /** At its full size, px. */
  readonly sides: Sides;
  /** By how many the sides were divided; 1 for a picture at its full size. */
  readonly factor: number;
  /** Pixels a mm of the picture at its full size; null where the file states none that can be believed. */
  readonly resolution: Resolution | null;
  readonly remarks: readonly string[];
}

/** Pixels are fetched from the browser in squares of this side: a canvas has its largest size, and four bytes a pixel are much for all at once. */
const PIECE_PX = 2_048;

/** A scan as grey values by the browser's own decoder: turned upright as the file says, laid on white where it is see-through, 8 bits. */
export async function decodePicture(file: ArtworkFile): Promise<PictureScan> {
  const source = scanSource(file);
  const picture = await bitmapOf(file, source);
  try {
    const { width, height } = picture;
    const values = greyValues(picture, file.name);
    // A browser may leave a picture as it is stored that this header would turn, or the other way round.
    const turned = width !== source.sides.width;
    const { resolution } = source;
    const factor = reducingFactor(picture, FULL_SCAN_PIXELS);
    const kept = factor === 1 ? { values, width, height } : reduceGrey(values, { width, height, factor });
    return {
      name: file.name,
      image: { ...kept, white: 255 },
      sides: { width, height },
      factor,
      resolution: resolution && turned ? { across: resolution.down, down: resolution.across } : resolution,
      remarks: [...source.remarks, ...reducedRemarks({ width, height }, factor)],
    };
  } finally {
    picture.close();
  }
}

async function bitmapOf({ name, bytes }: ArtworkFile, { format, sides }: ScanSource): Promise<ImageBitmap> {
  try {
    return await createImageBitmap(new Blob([bytes as BlobPart], { type: `image/${format}` }));
  } catch {
    const million = Math.round((sides.width * sides.height) / 1e6);
    // A browser gives no reason. Small pictures fit into any.
    if (million < LARGE_MILLION) throw new InputError(`${name} is broken or cut short: scan or save it again.`);
    throw new InputError(
      `${name} has ${million} million pixels, and this browser can’t unfold it: scan it at a lower resolution, or trace it with the command, okuri trace.`,
    );
  }
}

const LARGE_MILLION = 50;

function greyValues(picture: ImageBitmap, name: string): Uint8Array<ArrayBuffer> {
  const { width, height } = picture;
  const values = new Uint8Array(width * height);
  const canvas = new OffscreenCanvas(Math.min(PIECE_PX, width), Math.min(PIECE_PX, height));
  const context = canvas.getContext('2d', { willReadFrequently: true });
  if (context === null)
    throw new InputError(`This browser gives no canvas for ${name}: close other windows, and try once more.`);
  context.globalCompositeOperation = 'copy';
  const row = new Uint8Array(PIECE_PX);
  for (let top = 0; top < height; top += PIECE_PX) {
    for (let left = 0; left < width; left += PIECE_PX) {
      const [wide, high] = [Math.min(PIECE_PX, width - left), Math.min(PIECE_PX, height - top)];
      context.drawImage(picture, left, top, wide, high, 0, 0, wide, high);
      const { data } = context.getImageData(0, 0, wide, high);
      for (let j = 0; j < high; j++) {
        greyOfRgba(data.subarray(4 * j * wide, 4 * (j + 1) * wide), row);
        values.set(row.subarray(0, wide), (top + j) * width + left);
      }
    }
  }
  return values;
}
