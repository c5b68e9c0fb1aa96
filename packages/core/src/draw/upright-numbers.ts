import type { SheetOpening } from '../stencil/types.js';

/** Characters that read as characters when the sheet lies upside down, in the bundled font. */
const TURNED: ReadonlyMap<string, string> = new Map([
  ...'018HINOSXZlosxz·-–/'.split('').map((c) => [c, c] as const),
  ...['69', '96', 'MW', 'WM', 'dp', 'pd', 'bq', 'qb', 'nu', 'un', '()', ')('].map(
    (pair) => [pair[0], pair[1]] as const,
  ),
]);

/** How a text reads upside down; null where it does not read as a text at all. */
export function turnedText(text: string): string | null {
  let turned = '';
  for (const character of text) {
    const other = TURNED.get(character);
    if (other === undefined) return null;
    turned = other + turned;
  }
  return turned;
}

/** Those of the texts that read as another one of them upside down. */
export function turnedPairs(texts: Iterable<string>): Set<string> {
  const all = new Set(texts);
  return new Set(
    [...all].filter((text) => {
      const turned = turnedText(text);
      return turned !== null && turned !== text && all.has(turned);
    }),
  );
}

/** Found once for the openings of a sheet, however many of their numbers are written. */
const known = new WeakMap<readonly SheetOpening[], ReadonlySet<string>>();

function pairsOf(openings: readonly SheetOpening[]): ReadonlySet<string> {
  let pairs = known.get(openings);
  if (pairs === undefined) {
    pairs = turnedPairs(openings.map(({ number }) => `${number}`));
    known.set(openings, pairs);
  }
  return pairs;
}

/**
 * An opening's number as the drawings and lists of its sheet write it: `67`, and with a full stop, which stands at its foot, where the sheet upside down would show the number of another of its
 * openings: `68.` and `89.`
 */
export function uprightNumber(number: number, openings: readonly SheetOpening[]): string {
  return withStop(`${number}`, pairsOf(openings));
}

/** True where numbers of a sheet have full stops. */
export function hasStoppedNumbers(openings: readonly SheetOpening[]): boolean {
  return pairsOf(openings).size > 0;
}

/** A text with a full stop where it is one of the pairs. */
export function withStop(text: string, pairs: ReadonlySet<string>): string {
  return pairs.has(text) ? `${text}.` : text;
}
