import type { Ink } from '../motif/types.js';
import { parseNumbers } from './number-list.js';
import { ONE_STENCIL } from './practice.js';
import type { FilledJobFile } from './schema.js';
import type { Job } from './types.js';
import type { Values } from './values.js';

/** Numbers by ink; the same number twice on one sheet would name two openings. */
export function readNumbers(raw: FilledJobFile['numbers'], values: Values): Job['numbers'] {
  return byInk(raw ?? {}, 'numbers', values, (list, path) => {
    const seen = new Set<number>();
    return list.map(([number, x, y, areaMm2]) => {
      if (seen.has(number)) values.at(path, `has the number ${number} twice: leave "numbers" out to number anew.`);
      seen.add(number);
      return { number, x, y, areaMm2 };
    });
  });
}

/** What is done, by ink; written as one list it stands under `ONE_STENCIL`. */
export function readDone(raw: FilledJobFile['done'], values: Values): Job['done'] {
  if (raw === undefined) return {};
  if (typeof raw === 'string') {
    const numbers = values.parsed('done', raw, parseNumbers);
    return numbers.length > 0 ? { [ONE_STENCIL]: numbers } : {};
  }
  return byInk(raw, 'done', values, (list, path) => values.parsed(path, list, parseNumbers));
}

/** A record whose keys are inks, written in any way that a colour may be. */
function byInk<T, U>(
  raw: Readonly<Record<string, T>>,
  key: string,
  values: Values,
  read: (value: T, path: string) => U,
): Record<Ink, U> {
  const entries = Object.entries(raw).map(([ink, value]): [Ink, U] => [
    values.colour(`${key}.${ink}`, ink),
    read(value, `${key}.${ink}`),
  ]);
  return Object.fromEntries(entries);
}
