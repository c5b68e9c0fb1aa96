import { type GreyImage, InputError } from '@okuri/core';
import type { Metadata, Sharp, SharpOptions } from 'sharp';
import type { Resolution } from './fields.js';
import { notAScan, type ScanFormat, scanFormat } from './format.js';
import { reduceGrey } from './reduce.js';
import { checkSides, FULL_SCAN_PIXELS, reducedRemarks, reducingFactor } from './size.js';
import { statedResolution } from './stated-resolution.js';

/** A scan as grey values, upright. */
export interface Scan {
  readonly image: GreyImage;
  /** Of `image`: after turning and reducing. Null where the file states none that can be believed. */
  readonly resolution: Resolution | null;
  readonly format: ScanFormat;
  /** Bits of the grey values kept. */
  readonly bits: 8 | 16;
  /** Whether the file said that it has to be turned or mirrored to stand upright, and it was. */
  readonly turned: boolean;
  /** By how many the sides were divided; null for a picture at its full size. */
  readonly reduced: number | null;
  /** What a person should know, in sentences. */
  readonly remarks: readonly string[];
}

/** The colour through which a drawing is looked at: lines of that colour vanish, others darken. */
export type Glass = 'red' | 'green' | 'blue';

export interface DecodeOptions {
  /** The file's name, for refusals. */
  readonly name: string;
  /** Pictures with more pixels are reduced by a whole factor. Default `FULL_SCAN_PIXELS`. */
  readonly maxPixels?: number;
  /** Default: by luminance, as the eye sees brightness. */
  readonly glass?: Glass | null;
}

/**
 * A scanned or photographed drawing as grey values: PNG, JPEG, TIFF or WebP, turned upright as the file says, laid on white where it is see-through, 16 bits
 * kept as such. Throws an `InputError` for anything else, for broken files, and for more than `MAX_SCAN_PIXELS`, which is judged by the header alone.
 */
export async function decodeScan(bytes: Uint8Array, options: DecodeOptions): Promise<Scan> {
  const { name, maxPixels = FULL_SCAN_PIXELS, glass = null } = options;
  const format = scanFormat(bytes);
  if (format === null) throw new InputError(notAScan(bytes, name));
  const { default: sharp } = await import('sharp');
  const open = () => sharp(bytes, OPEN);
  const header = await naming(name, () => open().metadata());
  checkHeader(header, name);
  const bits = header.depth === 'ushort' ? 16 : 8;
  const grey = await greyValues(open, header, { bits, glass, name });
  const factor = reducingFactor(grey, maxPixels);
  const kept = factor === 1 ? grey : reduceGrey(grey.values, { ...grey, factor });
  const stated = statedResolution(bytes, format, header.orientation ?? 1);
  return {
    image: { width: kept.width, height: kept.height, values: kept.values, white: bits === 16 ? 65535 : 255 },
    resolution: stated.resolution && {
      across: stated.resolution.across / factor,
      down: stated.resolution.down / factor,
    },
    format,
    bits,
    turned: (header.orientation ?? 1) > 1,
    reduced: factor === 1 ? null : factor,
    remarks: [...pagesRemark(header), ...stated.remarks, ...reducedRemarks(header, factor)],
  };
}

/** Own caps stand in place of the library's; only the first page is read; broken pixels are a fault, odd fields are none. */
const OPEN: SharpOptions = { limitInputPixels: false, page: 0, pages: 1, failOn: 'error', sequentialRead: true };

function checkHeader(header: Metadata, name: string): void {
  const { depth } = header;
  checkSides(header, name);
  if (depth !== 'uchar' && depth !== 'ushort') {
    throw new InputError(
      `${name} holds numbers of another kind than 8 or 16 bits a pixel (${depth}): save it as 8 bits.`,
    );
  }
}

interface Grey {
  readonly values: Uint8Array | Uint16Array;
  readonly width: number;
  readonly height: number;
}

async function greyValues(
  open: () => Sharp,
  { hasAlpha, space }: Metadata,
  { bits, glass, name }: { readonly bits: 8 | 16; readonly glass: Glass | null; readonly name: string },
): Promise<Grey> {
  // A picture without colours looks alike through every glass.
  const through = glass === null || GREY_SPACES.includes(space) ? null : glass;
  const grey = await rawValues(open().autoOrient(), { bits, channel: through, name });
  if (!hasAlpha) return grey;
  // The library's own way of laying a picture on white rounds the white of 16 bits; and it blends before grey is taken.
  const { values: cover } = await rawValues(open().autoOrient(), { bits, channel: 'alpha', name });
  const white = bits === 16 ? 65535 : 255;
  const { values } = grey;
  for (let k = 0; k < values.length; k++) {
    values[k] = Math.round((values[k] * cover[k] + white * (white - cover[k])) / white);
  }
  return grey;
}

/** Colour spaces of pictures that have no colours, as the library names them. */
const GREY_SPACES: readonly string[] = ['b-w', 'grey16'];

/** One channel of a picture, or its grey. The luminance is that of sRGB (IEC 61966-2-1): weighed by light, then brought back to the scale of the file, so that greys stay as they are. */
async function rawValues(
  picture: Sharp,
  { bits, channel, name }: { readonly bits: 8 | 16; readonly channel: Glass | 'alpha' | null; readonly name: string },
): Promise<Grey> {
  const [grey, colours] = bits === 16 ? ['grey16', 'rgb16'] : ['b-w', 'srgb'];
  const one =
    channel === null
      ? picture.removeAlpha().toColourspace(grey)
      : picture.toColourspace(colours).extractChannel(channel);
  const { data, info } = await naming(name, () =>
    one.raw({ depth: bits === 16 ? 'ushort' : 'uchar' }).toBuffer({ resolveWithObject: true }),
  );
  const { width, height, channels } = info;
  if (channels !== 1) throw new Error(`got ${channels} channels, expected one of grey`);
  const values = bits === 8 ? new Uint8Array(data.buffer, data.byteOffset, width * height) : words(data);
  return { values, width, height };
}

function words(data: Buffer): Uint16Array {
  if (data.byteOffset % 2 === 0) return new Uint16Array(data.buffer, data.byteOffset, data.length / 2);
  return new Uint16Array(Uint8Array.from(data).buffer);
}

function pagesRemark({ pages = 1, format }: Metadata): string[] {
  if (pages < 2) return [];
  return [`it has ${pages} ${format === 'webp' ? 'pictures' : 'pages'}, of which the first is read`];
}

async function naming<T>(name: string, work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    // What the libraries say of a broken file tells a person nothing; the first line may help a technician.
    const [reason] = error instanceof Error ? error.message.split('\n') : [String(error)];
    throw new InputError(`${name} is broken or cut short (${reason}): scan or save it again.`);
  }
}
