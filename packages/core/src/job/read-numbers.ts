import type { Ink } from '../motif/types.js';
import { parseNumbers } from './number-list.js';
import { ONE_STENCIL } from './practice.js';
import type { FilledJobFile } from './schema.js';
import type { Job } from './types.js';
import type { Values } from './values.js';

/** Numbers by ink; the same number twice on one sheet would name two openings. */
export function readNumbers(raw: FilledJobFile['numbers'], values: Values): Job['numbers'] {
  const read = (list: NonNullable<FilledJobFile['numbers']>[string], path: string) => {
    const seen = new Set<number>();
    return list.map(([number, x, y, areaMm2]) => {
      if (seen.has(number)) values.at(path, `has the number ${number} twice: leave "numbers" out to number anew.`);
      seen.add(number);
      return { number, x, y, areaMm2 };
    });
  };
  return byInk(raw ?? {}, 'numbers', values, read, readSheetName);
}

/** What is done, by ink; written as one list it stands under `ONE_STENCIL`. */
export function readDone(raw: FilledJobFile['done'], values: Values): Job['done'] {
  if (raw === undefined) return {};
  if (typeof raw === 'string') {
    const numbers = values.parsed('done', raw, parseNumbers);
    return numbers.length > 0 ? { [ONE_STENCIL]: numbers } : {};
  }
  return byInk(raw, 'done', values, (list, path) => values.parsed(path, list, parseNumbers), readSheetName);
}

/** Reads the name of a sheet: its ink, and ` B` after it for the second of two sheets that print one ink together. */
export function readSheetName(path: string, name: string, values: Values): string {
  const [, ink, part] = /^(.*?)(\s+b)?$/is.exec(name.trim()) ?? [];
  return `${values.colour(path, ink)}${part === undefined ? '' : ' B'}`;
}

function readInk(path: string, name: string, values: Values): Ink {
  return values.colour(path, name);
}

/** A record whose keys are inks, written in any way that a colour may be; `readName` may take more than an ink. */
export function byInk<T, U>(
  raw: Readonly<Record<string, T>>,
  key: string,
  values: Values,
  read: (value: T, path: string) => U,
  readName: (path: string, name: string, values: Values) => string = readInk,
): Record<Ink, U> {
  const seen = new Set<Ink>();
  const entries = Object.entries(raw).map(([name, value]): [Ink, U] => {
    const path = `${key}.${name}`;
    const ink = readName(path, name, values);
    // The later of two spellings of one ink would push out the earlier.
    if (seen.has(ink)) values.at(path, 'is an ink that stands here already in another spelling: put the two together.');
    seen.add(ink);
    return [ink, read(value, path)];
  });
  return Object.fromEntries(entries);
}
