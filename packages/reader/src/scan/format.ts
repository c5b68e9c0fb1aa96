/** Kinds of picture files that are read as scans. */
export type ScanFormat = 'png' | 'jpeg' | 'tiff' | 'webp';

/**
 * How files begin, as hexadecimal bytes; a dot stands for any half byte. PNG specification 5.2; ITU-T T.81 B.1.1 (start of image and the first byte of a
 * further marker); TIFF 6.0 section 2 and BigTIFF's version 43, in both orders of bytes; WebP container, "RIFF file format".
 */
const STARTS: readonly (readonly [ScanFormat, RegExp])[] = [
  ['png', /^89504e470d0a1a0a/],
  ['jpeg', /^ffd8ff/],
  ['tiff', /^(?:49492a00|4d4d002a|49492b00|4d4d002b)/],
  ['webp', /^52494646.{8}57454250/],
];

/** Kinds of files that people take for a scan and that are none: their names, and how they begin. */
const OTHERS: readonly (readonly [string, RegExp])[] = [
  ['a GIF', /^47494638/],
  ['a BMP', /^424d.{8}0000/],
  ['a HEIC or AVIF photograph', /^.{8}66747970(?:68656963|68656978|68657663|6d696631|6d736631|61766966)/],
  ['a JPEG XL', /^(?:ff0a|0000000c4a584c20)/],
  ['a JPEG 2000', /^0000000c6a502020/],
  ['a Photoshop file', /^38425053/],
  ['a PDF', /^25504446/],
];

/** Bytes that tell one kind from another. */
const HEAD_BYTES = 16;

/** The kind of a scan by its first bytes; null for what is none. */
export function scanFormat(bytes: Uint8Array): ScanFormat | null {
  const head = headOf(bytes);
  return STARTS.find(([, start]) => start.test(head))?.[0] ?? null;
}

/** Whether a file is a scan (PNG, JPEG, TIFF, WebP), by its first bytes. */
export function isScan(bytes: Uint8Array): boolean {
  return scanFormat(bytes) !== null;
}

/** What a file is that is no scan, with its article (`a GIF`); null where that is not known. */
export function otherFormat(bytes: Uint8Array): string | null {
  const head = headOf(bytes);
  return OTHERS.find(([, start]) => start.test(head))?.[0] ?? null;
}

/** Why a file is no scan, and what to do. */
export function notAScan(bytes: Uint8Array, name: string): string {
  if (bytes.length === 0) return `${name} is empty: name the file that holds the scan.`;
  const other = otherFormat(bytes);
  return `${name} is ${other ?? 'no picture that can be read'}: save the scan as PNG, TIFF, JPEG or WebP and name that.`;
}

function headOf(bytes: Uint8Array): string {
  return [...bytes.subarray(0, HEAD_BYTES)].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}
