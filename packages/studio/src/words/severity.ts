import type { Severity } from '@okuri/core';

/** How a finding's weight is shown: a word and a sign of its own shape, so that colour says nothing alone. */
export const SEVERITY_WORDS: Readonly<
  Record<Severity, { readonly word: string; readonly many: string; readonly sign: string }>
> = {
  stop: { word: 'Stop', many: 'Stops: can’t be printed so', sign: '■' },
  fix: { word: 'Mend', many: 'To mend: will show or tear', sign: '▲' },
  look: { word: 'Look', many: 'To look at: only you can tell', sign: '◆' },
  note: { word: 'Note', many: 'Good to know', sign: '●' },
};
