import type { Contour, GreyImage } from '@okuri/core';
import { MM_PER_INCH } from '@okuri/core/inside';
import type { PictureScale } from '@okuri/scan';
import { Resvg } from '@resvg/resvg-js';
import sharp from 'sharp';

/** Shapes are rendered this fine once and averaged down: a renderer's own pixels are off by up to an eighth of a pixel. */
const FINE_DPI = 2400;

/** A rendering (resvg) of outlines in black, fine enough to make scans of. */
export interface FineRendering {
  readonly sidePx: number;
  /** 0 … 255 of ink. */
  readonly ink: Uint8Array;
}

export function renderFine(contours: readonly Contour[], sideMm: number): FineRendering {
  // A whole number of pixels at 200, 300 and 600 dpi.
  const sidePx = 24 * Math.ceil((sideMm * FINE_DPI) / (24 * MM_PER_INCH));
  const side = (sidePx * MM_PER_INCH) / FINE_DPI;
  const d = contours.map(({ coords }) => {
    let text = `M${coords[0]} ${coords[1]}`;
    for (let k = 2; k < coords.length; k += 6) text += `C${coords.subarray(k, k + 6).join(' ')}`;
    return `${text}Z`;
  });
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${side} ${side}" width="${side}" height="${side}"><path d="${d.join('')}"/></svg>`;
  const pixels = new Resvg(svg, { fitTo: { mode: 'width', value: sidePx } }).render().pixels;
  const ink = new Uint8Array(sidePx * sidePx);
  for (let k = 0; k < ink.length; k++) ink[k] = pixels[4 * k + 3];
  return { sidePx, ink };
}

/** The rendering as a scanner sees it: every pixel the mean over its square, black on white. */
export function scanOf({ sidePx, ink }: FineRendering, dpi: number): GreyImage {
  const by = FINE_DPI / dpi;
  const side = sidePx / by;
  const sums = new Float64Array(side * side);
  for (let y = 0, k = 0; y < sidePx; y++) {
    const row = Math.floor(y / by) * side;
    for (let x = 0; x < sidePx; x++, k++) sums[row + Math.floor(x / by)] += ink[k];
  }
  return {
    width: side,
    height: side,
    values: Uint8Array.from(sums, (s) => Math.round(255 - s / (by * by))),
    white: 255,
  };
}

/** Scale of a scan as its file would say it. */
export function scaleOf(dpi: number): PictureScale {
  const mm = MM_PER_INCH / dpi;
  return {
    toMm: [mm, 0, 0, 0, mm, 0, 0, 0, 1],
    from: 'file',
    pixelsPerMm: 1 / mm,
    perspective: false,
    words: `${dpi} dpi`,
  };
}

/** What scanning does to a picture. */
export type Wear = 'clean' | 'noise' | 'blur' | 'jpeg';

/** Noise of a standard deviation of 10 in 255 over grey ink and paper, a blur of one pixel, or JPEG of quality 75. */
export async function worn(image: GreyImage, wear: Wear): Promise<GreyImage> {
  const { width, height, values } = image;
  const raw = { raw: { width, height, channels: 1 as const } };
  if (wear === 'noise') {
    const gauss = gaussian(7);
    const noisy = Uint8ClampedArray.from(values, (v) => 40 + (180 * v) / 255 + 10 * gauss());
    return { ...image, values: new Uint8Array(noisy.buffer) };
  }
  if (wear === 'blur') return greyOf(await sharp(values, raw).blur(1).raw().toBuffer(), image);
  if (wear === 'jpeg') {
    const file = await sharp(values, raw).jpeg({ quality: 75 }).toBuffer();
    return greyOf(await sharp(file).greyscale().raw().toBuffer(), image);
  }
  return image;
}

function greyOf(buffer: Buffer, { width, height, white }: GreyImage): GreyImage {
  const channels = buffer.length / (width * height);
  const values = new Uint8Array(width * height);
  for (let k = 0; k < values.length; k++) values[k] = buffer[k * channels];
  return { width, height, values, white };
}

/** Normal numbers (Box and Muller 1958) from a linear congruence (Numerical Recipes, 2nd ed., §7.1): the same in every run. */
export function gaussian(seed: number): () => number {
  let state = seed;
  const next = (): number => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return (state + 0.5) / 2 ** 32;
  };
  return () => Math.sqrt(-2 * Math.log(next())) * Math.cos(2 * Math.PI * next());
}
