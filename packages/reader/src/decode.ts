import { InputError } from '@okuri/core';
import { MAX_BYTES } from './caps.js';

/** First bytes of other kinds of files, and what to say of them. */
const OTHER_KINDS: readonly (readonly [readonly number[], string])[] = [
  [[0x1f, 0x8b], 'a compressed drawing (SVGZ): save it as plain SVG'],
  [[0x89, 0x50, 0x4e, 0x47], 'a PNG picture: trace it in a drawing program and save the outlines as SVG'],
  [[0xff, 0xd8, 0xff], 'a JPEG picture: trace it in a drawing program and save the outlines as SVG'],
  [[0x47, 0x49, 0x46, 0x38], 'a GIF picture: trace it in a drawing program and save the outlines as SVG'],
  [[0x25, 0x50, 0x44, 0x46], 'a PDF file: save the drawing as SVG'],
  [[0x25, 0x21, 0x50, 0x53], 'a PostScript file: save the drawing as SVG'],
  [[0x50, 0x4b, 0x03, 0x04], 'a ZIP archive: unpack it first'],
];

/**
 * The text of a drawing's bytes. Byte order marks, UTF-16 and the encoding named in the XML declaration are followed; a
 * string is taken as it is, less its byte order mark.
 *
 * Throws `InputError` for empty or oversized input, bytes that don't fit their encoding, and files of another kind.
 */
export function decodeSource(source: string | Uint8Array): string {
  if (source.length > MAX_BYTES) {
    throw new InputError(
      `The drawing is ${Math.round(source.length / 1048576)} MB; the most that is read is ${MAX_BYTES / 1048576} MB: ` +
        'simplify its paths or take raster images out of it.',
    );
  }
  const text = typeof source === 'string' ? source : decodeBytes(source);
  const clean = text.charCodeAt(0) === 0xfeff ? text.slice(1) : text;
  if (clean.trim() === '') throw new InputError('The drawing is empty: there is no SVG in it.');
  return clean;
}

function decodeBytes(bytes: Uint8Array): string {
  for (const [magic, said] of OTHER_KINDS) {
    if (magic.every((value, k) => bytes[k] === value)) throw new InputError(`This is not an SVG drawing but ${said}.`);
  }
  const label = encodingOf(bytes);
  let decoder: TextDecoder;
  try {
    decoder = new TextDecoder(label, { fatal: true });
  } catch {
    throw new InputError(`The drawing says that it is written in "${label}", which can't be read: save it as UTF-8.`);
  }
  try {
    return decoder.decode(bytes);
  } catch {
    throw new InputError(`The drawing holds bytes that are not ${label.toUpperCase()} text: save it as SVG in UTF-8.`);
  }
}

function encodingOf(bytes: Uint8Array): string {
  const [a, b, c, d] = bytes;
  if (a === 0xef && b === 0xbb && c === 0xbf) return 'utf-8';
  if ((a === 0xff && b === 0xfe && c === 0 && d === 0) || (a === 0 && b === 0 && c === 0xfe && d === 0xff))
    return 'utf-32';
  if (a === 0xff && b === 0xfe) return 'utf-16le';
  if (a === 0xfe && b === 0xff) return 'utf-16be';
  if (a === 0x3c && b === 0) return 'utf-16le';
  if (a === 0 && b === 0x3c) return 'utf-16be';
  const head = String.fromCharCode(...bytes.subarray(0, 200));
  const named = /^\s*<\?xml[^>]*?\sencoding\s*=\s*["']([A-Za-z0-9._-]+)["']/.exec(head)?.[1]?.toLowerCase();
  // A file whose bytes show one-byte characters can't be UTF-16, whatever it says.
  return named === undefined || named.startsWith('utf-16') ? 'utf-8' : named;
}
