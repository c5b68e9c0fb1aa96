import { applyEdits, modify, parse } from 'jsonc-parser';

/** A path to a key of the job file, such as `['cloth', 'width']`. */
export type KeyPath = readonly (string | number)[];

/** The job file's text with one value put in place, or taken out with `undefined`; all else stays as it was written. */
export function withKey(jobText: string, path: KeyPath, value: unknown): string {
  const edits = modify(jobText, [...path], value, {
    formattingOptions: { insertSpaces: true, tabSize: 2, eol: '\n' },
  });
  return applyEdits(jobText, edits);
}

/** The value of a key as it stands in the job file; undefined where it is left to its default. */
export function keyOf(jobText: string, path: KeyPath): unknown {
  let value: unknown = parse(jobText);
  for (const step of path) {
    if (typeof value !== 'object' || value === null) return undefined;
    value = (value as Record<string | number, unknown>)[step];
  }
  return value;
}

/** A job file for a drawing that was just dropped: nothing but what it is called. All else is left to its defaults. */
export function newJobFor(motifName: string): string {
  const title = motifName.replace(/\.[^.]*$/, '');
  return `${JSON.stringify({ okuri: 1, title, motif: motifName, repeat: 'straight' }, null, 2)}\n`;
}
