import type { ScanFormat } from './format.js';
import type { Sides } from './size.js';

/**
 * The sides of a picture as its header states them, before it is turned upright: known before anything is decoded. Null where the header is cut short, and for
 * TIFF, whose directory may lie anywhere.
 */
export function pictureSides(bytes: Uint8Array, format: ScanFormat): Sides | null {
  switch (format) {
    case 'png':
      return ofPng(bytes);
    case 'jpeg':
      return ofJpeg(bytes);
    case 'webp':
      return ofWebp(bytes);
    case 'tiff':
      return null;
  }
}

/** PNG specification 11.2.2: `IHDR` comes first. */
function ofPng(bytes: Uint8Array): Sides | null {
  if (bytes.length < 24) return null;
  const view = viewOf(bytes);
  return { width: view.getUint32(16), height: view.getUint32(20) };
}

/** ITU-T T.81 B.2.2: height and width stand in the frame header, whose marker is C0 to CF but for C4 (Huffman tables), C8 and CC (arithmetic conditioning). */
function ofJpeg(bytes: Uint8Array): Sides | null {
  const view = viewOf(bytes);
  for (let at = 2; at + 9 <= bytes.length && bytes[at] === 0xff; ) {
    const marker = bytes[at + 1];
    if (marker === 0xff) {
      at++;
      continue;
    }
    if (marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker)) {
      return { width: view.getUint16(at + 7), height: view.getUint16(at + 5) };
    }
    at += 2 + view.getUint16(at + 2);
  }
  return null;
}

/** WebP container specification (`VP8X`), RFC 6386 section 9.1 (`VP8 `), WebP lossless bitstream specification section 3 (`VP8L`). */
function ofWebp(bytes: Uint8Array): Sides | null {
  if (bytes.length < 30) return null;
  const view = viewOf(bytes);
  const threeBytes = (at: number): number => view.getUint16(at, true) + 65_536 * bytes[at + 2];
  switch (String.fromCharCode(...bytes.subarray(12, 16))) {
    case 'VP8X':
      return { width: 1 + threeBytes(24), height: 1 + threeBytes(27) };
    case 'VP8 ':
      return { width: view.getUint16(26, true) & 0x3fff, height: view.getUint16(28, true) & 0x3fff };
    case 'VP8L': {
      const bits = view.getUint32(21, true);
      return { width: 1 + (bits & 0x3fff), height: 1 + ((bits >>> 14) & 0x3fff) };
    }
    default:
      return null;
  }
}

function viewOf(bytes: Uint8Array): DataView {
  return new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
}
