import type { Sheet } from '@okuri/core';

/** The stencil that is looked at: the one that was chosen, as long as there are so many. */
export function stencilIndex(sheets: readonly Sheet[], chosen: number): number {
  return Math.min(chosen, Math.max(0, sheets.length - 1));
}

/** How a stencil is called where there are several: `1 of 2, #204060, printed first`. */
export function stencilName({ index, count, ink, part }: Pick<Sheet, 'index' | 'count' | 'ink' | 'part'>): string {
  return `${index} of ${count}, ${ink}${part === null ? '' : `, printed ${part === 'A' ? 'first' : 'second'}`}`;
}

/** How many units a sheet holds; null where it is one. */
export function unitsWords({ across, down }: Pick<Sheet, 'across' | 'down'>): string | null {
  return across * down === 1 ? null : `${across} across and ${down} down: ${across * down} units on this sheet`;
}
