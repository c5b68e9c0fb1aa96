import { MM_PER_INCH } from '@okuri/core/inside';
import type { ScanFormat } from './format.js';
import { readTiffBlock, type TiffFields } from './tiff-fields.js';

const MM_PER_METRE = 1_000;
const MM_PER_CM = 10;

/** Pixels a millimetre, along the rows and along the columns of a picture. */
export interface Resolution {
  readonly across: number;
  readonly down: number;
}

/** What a picture's own fields say of its size on paper. Nothing is taken for granted: a decoder's "72 dpi" may be a mere default. */
export interface StatedFields {
  /** As stored, before the picture is turned upright; null where none is stated. */
  readonly resolution: Resolution | null;
  /** The fields are those of a camera (an exposure or a focal length): what it states as resolution says nothing of a drawing's size. */
  readonly photograph: boolean;
  /** How the picture has to be turned or mirrored to stand upright: 1 to 8 as TIFF 6.0 section 8 and Exif 2.32 number it, 1 where nothing is stated. */
  readonly orientation: number;
}

const NOTHING: StatedFields = { resolution: null, photograph: false, orientation: 1 };

/** Reads what a scan states of its size. Broken files give what could be read. */
export function readStatedFields(bytes: Uint8Array, format: ScanFormat): StatedFields {
  switch (format) {
    case 'png':
      return ofPng(bytes);
    case 'jpeg':
      return ofJpeg(bytes);
    case 'webp':
      return ofWebp(bytes);
    case 'tiff': {
      const block = readTiffBlock(bytes);
      if (block === null) return NOTHING;
      return {
        resolution: ofTags(block.first),
        photograph: isPhotograph(bytes),
        orientation: orientationOf(block.first),
      };
    }
  }
}

/** PNG specification 11.3.4.3 (`pHYs`) and its `eXIf` chunk: chunks of length, name, data and checksum after a signature of 8 bytes. */
function ofPng(bytes: Uint8Array): StatedFields {
  const view = viewOf(bytes);
  let own: Resolution | null = null;
  let exif = NOTHING;
  for (let at = 8; at + 12 <= bytes.length; ) {
    const length = view.getUint32(at);
    const data = bytes.subarray(at + 8, at + 8 + length);
    const name = latin(bytes, at + 4, 4);
    // Unit 1 is the metre; 0 states no more than how high a pixel is for its width.
    if (name === 'pHYs' && data.length === 9 && data[8] === 1) {
      own = { across: view.getUint32(at + 8) / MM_PER_METRE, down: view.getUint32(at + 12) / MM_PER_METRE };
    }
    if (name === 'eXIf') exif = ofExif(data);
    at += 12 + length;
  }
  return { ...exif, resolution: own ?? exif.resolution };
}

/** ITU-T T.81 annex B (markers), JFIF 1.02 (units and densities), Exif 2.32 section 4.7.2 (`APP1`). */
function ofJpeg(bytes: Uint8Array): StatedFields {
  const view = viewOf(bytes);
  let jfif: Resolution | null = null;
  let exif = NOTHING;
  for (let at = 2; at + 4 <= bytes.length && bytes[at] === 0xff; ) {
    const marker = bytes[at + 1];
    if (marker === 0xff) {
      at++;
      continue;
    }
    if (marker === START_OF_SCAN || marker === END_OF_IMAGE) break;
    const length = view.getUint16(at + 2);
    const data = bytes.subarray(at + 4, at + 2 + length);
    if (marker === APP0 && latin(data, 0, 5) === 'JFIF\0' && data.length >= 12) {
      const per = { 1: MM_PER_INCH, 2: MM_PER_CM }[data[7]];
      const [x, y] = [view.getUint16(at + 12), view.getUint16(at + 14)];
      if (per !== undefined) jfif = { across: x / per, down: y / per };
    }
    if (marker === APP1 && latin(data, 0, 4) === 'Exif') exif = ofExif(data);
    at += 2 + length;
  }
  return { ...exif, resolution: exif.resolution ?? jfif };
}

const START_OF_SCAN = 0xda;
const END_OF_IMAGE = 0xd9;
const APP0 = 0xe0;
const APP1 = 0xe1;

/** WebP container specification: chunks of name, length and data, padded to even length. */
function ofWebp(bytes: Uint8Array): StatedFields {
  const view = viewOf(bytes);
  for (let at = 12; at + 8 <= bytes.length; ) {
    const length = view.getUint32(at + 4, true);
    if (latin(bytes, at, 4) === 'EXIF') return ofExif(bytes.subarray(at + 8, at + 8 + length));
    at += 8 + length + (length % 2);
  }
  return NOTHING;
}

/** An Exif block, with or without its six letters before it. "When the image resolution is unknown, 72 [dpi] is designated" (Exif 2.32, 4.6.5). */
function ofExif(data: Uint8Array): StatedFields {
  const block = latin(data, 0, 4) === 'Exif' ? data.subarray(6) : data;
  const tiff = readTiffBlock(block);
  if (tiff === null) return NOTHING;
  const stated = ofTags(tiff.first);
  const unknown = stated !== null && isUnknownDpi(stated.across) && isUnknownDpi(stated.down);
  return {
    resolution: unknown ? null : stated,
    photograph: isPhotograph(block),
    orientation: orientationOf(tiff.first),
  };
}

const EXIF_UNKNOWN_DPI = 72;

function isUnknownDpi(pixelsPerMm: number): boolean {
  return Math.abs(pixelsPerMm * MM_PER_INCH - EXIF_UNKNOWN_DPI) < 1e-6;
}

/** Tags of TIFF 6.0 section 8 and of Exif 2.32 tables 4, 7 and 8. */
const ORIENTATION = 274;
const X_RESOLUTION = 282;
const Y_RESOLUTION = 283;
const RESOLUTION_UNIT = 296;
const EXIF_DIRECTORY = 0x8769;
const EXPOSURE_TIME = 0x829a;
const FOCAL_LENGTH = 0x920a;

/** The unit is the inch where none is given (TIFF 6.0 section 8); unit 1 states no more than how high a pixel is for its width. */
function ofTags(fields: TiffFields): Resolution | null {
  const [x] = fields.get(X_RESOLUTION) ?? [];
  const [y = x] = fields.get(Y_RESOLUTION) ?? [];
  const per = { 2: MM_PER_INCH, 3: MM_PER_CM }[fields.get(RESOLUTION_UNIT)?.[0] ?? 2];
  if (x === undefined || per === undefined) return null;
  return { across: x / per, down: y / per };
}

function orientationOf(fields: TiffFields): number {
  const [stated = 1] = fields.get(ORIENTATION) ?? [];
  return stated >= 1 && stated <= 8 ? stated : 1;
}

function isPhotograph(block: Uint8Array): boolean {
  const tiff = readTiffBlock(block);
  const [offset] = tiff?.first.get(EXIF_DIRECTORY) ?? [];
  if (tiff === null || offset === undefined) return false;
  const exif = tiff.at(offset);
  return exif.has(EXPOSURE_TIME) || exif.has(FOCAL_LENGTH);
}

function viewOf(bytes: Uint8Array): DataView {
  return new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
}

function latin(bytes: Uint8Array, at: number, length: number): string {
  return String.fromCharCode(...bytes.subarray(at, at + length));
}
