import type { Point } from '../geometry/types.js';
import type { Lattice } from '../repeat/types.js';
import type { LaidPlacement } from './placements.js';
import type { Stepping } from './plan-types.js';

/** A field that begins this share of its width before a band still belongs to it: rounding of places. */
const BAND_SLACK = 1e-6;

/**
 * The order in which placements (numbers in the list) are printed in one pass: along the table down one column, back up the next, so that the table is
 * crossed once a column. In a brick, columns are strips of the cloth as wide as a field; stepped straight on, its rows are followed to and fro.
 */
export function walkOrder(
  placements: readonly LaidPlacement[],
  numbers: readonly number[],
  { lattice, stepping }: { lattice: Lattice; stepping: Stepping },
): number[] {
  const rows = lattice.repeat.kind === 'brick' && stepping === 'on';
  const left = numbers.reduce((least, k) => Math.min(least, placements[k].field.x0), Infinity);
  const band = (k: number): number => {
    const { row, field } = placements[k];
    return rows ? row : Math.floor((field.x0 - left) / lattice.widthMm + BAND_SLACK);
  };
  const bands = new Map<number, number[]>();
  for (const k of numbers) {
    const own = bands.get(band(k));
    if (own) own.push(k);
    else bands.set(band(k), [k]);
  }
  const along = (k: number): number => (rows ? placements[k].field.x0 : placements[k].field.y0);
  return [...bands.keys()]
    .sort((a, b) => a - b)
    .flatMap((name, turn) => {
      const line = (bands.get(name) as number[]).sort((a, b) => along(a) - along(b));
      return turn % 2 === 0 ? line : line.reverse();
    });
}

/** How far it is from each placement to the next, all together, mm. */
export function walkLength(placements: readonly LaidPlacement[], order: readonly number[]): number {
  let sum = 0;
  let last: Point | null = null;
  for (const k of order) {
    const { x0: x, y0: y } = placements[k].field;
    if (last) sum += Math.hypot(x - last.x, y - last.y);
    last = { x, y };
  }
  return sum;
}
