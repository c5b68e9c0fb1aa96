import { inflateSync } from 'node:zlib';

/** A stream of a PDF: what stands before it in its dictionary, and its bytes without compression. */
export interface PdfStream {
  readonly dictionary: string;
  readonly bytes: Buffer;
}

/**
 * Every stream of a PDF in the order of the file (ISO 32000-1, 7.3.8), inflated where its dictionary says so. For files with plain
 * cross-reference tables, whose lengths stand in the dictionaries.
 */
export function pdfStreams(pdf: Uint8Array): PdfStream[] {
  const file = Buffer.from(pdf);
  const text = file.toString('latin1');
  const streams: PdfStream[] = [];
  for (const match of text.matchAll(/<<((?:(?!endobj)[\s\S])*?)>>\s*stream\r?\n/g)) {
    const length = Number(/\/Length (\d+)/.exec(match[1])?.[1]);
    if (Number.isNaN(length)) throw new RangeError(`got a stream without a plain length: ${match[1]}`);
    const start = match.index + match[0].length;
    const raw = file.subarray(start, start + length);
    const bytes = match[1].includes('/FlateDecode') ? inflateSync(raw) : raw;
    streams.push({ dictionary: match[1].replace(/\/Length1? \d+/g, '').trim(), bytes });
  }
  return streams;
}

/** How two streams of page contents differ: null where operators are the same and numbers lie within `tolerance` of each other. */
export function streamDifference(a: Buffer, b: Buffer, tolerance: number): string | null {
  if (a.equals(b)) return null;
  const [one, other] = [a, b].map((bytes) => bytes.toString('latin1').split(/\s+/));
  if (one.length !== other.length) return `${one.length} words against ${other.length}`;
  const at = one.findIndex((word, k) => {
    if (word === other[k]) return false;
    return !(Math.abs(Number(word) - Number(other[k])) <= tolerance);
  });
  return at < 0 ? null : `word ${at}: ${one[at]} against ${other[at]}`;
}
