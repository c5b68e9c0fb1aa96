import type { Point, Sheet } from '@okuri/core';
import type { FlatRing } from '@okuri/core/inside';
import { distanceField } from './distance-field.js';
import { cellMiddle, maskFrame, paintRings } from './mask.js';

/** Places of a sheet at which a print of its first cut is dark, and such at which it is light. Sheet mm. */
export interface CheckPoints {
  /** Evenly strewn, whichever part of the lists is taken from the front. */
  readonly dark: readonly Point[];
  readonly light: readonly Point[];
}

/** Cells in which the plan is looked at, mm, and the most of them. */
const CELL_MM = 0.5;
const MAX_CELLS = 1e6;

/** At most so many places of either kind. */
const POINTS_MAX = 1500;

/** Places this far from an edge are taken, mm: neither spread nor a slip turns them; where that is too much, the half of all places that lie deepest. */
const CLEAR_MM = 1;
const DEEP_SHARE = 0.5;

/** Step of the golden ratio: the fractional parts of its multiples are strewn evenly however many are taken (Weyl 1916). */
const GOLDEN = (Math.sqrt(5) - 1) / 2;

/** The check points of a sheet's first cut, within the part of the field before the hold line. */
export function checkPoints(sheet: Sheet, rings: ReadonlyMap<number, readonly FlatRing[]>): CheckPoints {
  const { field, heldRight, heldBottom } = sheet;
  const part = { ...field, x1: heldRight?.x0 ?? field.x1, y1: heldBottom?.y0 ?? field.y1 };
  const frame = maskFrame(part, { cellMm: CELL_MM, maxCells: MAX_CELLS });
  const plan = new Uint8Array(frame.columns * frame.rows);
  for (const own of rings.values()) paintRings(plan, frame, { rings: own, value: 1 });
  const points = (value: number): Point[] => {
    const depth = distanceField(frame, (cell) => plan[cell] !== value);
    const cells: number[] = [];
    for (let cell = 0; cell < plan.length; cell++) if (plan[cell] === value) cells.push(cell);
    const deep = cells.map((cell) => depth[cell]).sort((a, b) => b - a);
    const least = Math.min(CLEAR_MM / frame.cellMm, deep[Math.floor(DEEP_SHARE * deep.length)] ?? 0);
    const kept = cells.filter((cell) => depth[cell] >= least);
    return strewn(kept, POINTS_MAX).map((cell) => cellMiddle(frame, cell));
  };
  return { dark: points(1), light: points(0) };
}

/** At most `most` of a list, in an order in which every part from its front is spread over the whole. */
function strewn<T>(list: readonly T[], most: number): T[] {
  const taken = new Set<number>();
  for (let k = 0; taken.size < Math.min(most, list.length) && k < 4 * most; k++) {
    taken.add(Math.floor(((k * GOLDEN) % 1) * list.length));
  }
  return [...taken].map((k) => list[k]);
}
