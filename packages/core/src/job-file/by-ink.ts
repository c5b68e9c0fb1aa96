import type { Ink } from '../motif/types.js';
import type { FieldReader } from './field-reader.js';

type ReadName = (path: string, name: string, reader: FieldReader) => string;

/** Reads the name of a sheet: its ink, and ` B` after it for the second of two sheets that print one ink together. */
export const readSheetName: ReadName = (path, name, reader) => {
  const [, ink, part] = /^(.*?)(\s+b)?$/is.exec(name.trim()) ?? [];
  return `${reader.colour(path, ink)}${part === undefined ? '' : ' B'}`;
};

const readInk: ReadName = (path, name, reader) => reader.colour(path, name);

/** A record whose keys are inks, written in any way that a colour may be; `readName` may take more than an ink. */
export function byInk<T, U>(
  written: Readonly<Record<string, T>>,
  key: string,
  reader: FieldReader,
  read: (value: T, path: string) => U,
  readName: ReadName = readInk,
): Record<Ink, U> {
  const seen = new Set<Ink>();
  const entries = Object.entries(written).map(([name, value]): [Ink, U] => {
    const path = `${key}.${name}`;
    const ink = readName(path, name, reader);
    // The later of two spellings of one ink would push out the earlier.
    if (seen.has(ink)) reader.at(path, 'is an ink that stands here already in another spelling: put the two together.');
    seen.add(ink);
    return [ink, read(value, path)];
  });
  return Object.fromEntries(entries);
}
