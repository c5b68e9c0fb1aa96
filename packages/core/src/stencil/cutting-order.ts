import type { SheetOpening } from './types.js';

/** Rows in which the sheet is worked down, mm: about what a hand reaches without moving the sheet. */
const ROW_MM = 80;
/** Openings smaller than this are cut before larger ones of the same row, mm². */
const SMALL_MM2 = 150;

/**
 * Numbers openings in cutting order: row by row from the upper left, in a row the small ones first and the large ones last, as the paper
 * is strongest while little is cut (common practice, no published source); what is cut only after the proof comes at the end.
 */
export function cuttingOrder(
  openings: readonly Omit<SheetOpening, 'number'>[],
): { readonly opening: SheetOpening; readonly source: number }[] {
  const key = (o: Omit<SheetOpening, 'number'>): number[] => [
    o.firstCut.length > 0 ? 0 : 1,
    Math.floor(o.labelAt.y / ROW_MM),
    o.areaMm2 < SMALL_MM2 ? 0 : 1,
    o.labelAt.x,
    o.labelAt.y,
  ];
  return openings
    .map((opening, source) => ({ opening, source, key: key(opening) }))
    .sort((a, b) => {
      const k = a.key.findIndex((v, n) => v !== b.key[n]);
      return k < 0 ? a.source - b.source : a.key[k] - b.key[k];
    })
    .map(({ opening, source }, n) => ({ opening: { number: n + 1, ...opening }, source }));
}
