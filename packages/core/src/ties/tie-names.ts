import type { TieKind } from '../strength/types.js';

const LETTER: Readonly<Record<TieKind, string>> = { printed: 'T', release: 'R' };

/** What a tie is called everywhere: `T3` one that stays, `R3` one that is cut away again. Of the ties of an ink each has a number of its own. */
export function tieName(number: number, kind: TieKind): string {
  return `${LETTER[kind]}${number}`;
}

/** The number of a tie's name: 12 for `T12` and `R12`; 0 for anything else. */
export function tieNumber(name: string): number {
  const digits = /^[TR]([1-9]\d{0,5})$/.exec(name)?.[1];
  return digits === undefined ? 0 : Number(digits);
}
