import { transformContour } from '../../geometry/contour.js';
import { apply } from '../../geometry/matrix.js';
import type { Contour, Matrix, Point } from '../../geometry/types.js';
import type { ProofOffset, SheetEnds } from '../../proof/types.js';
import { drySheet } from '../../stencil/dry-sheet.js';
import type { Sheet } from '../../stencil/types.js';

/** What is known of a sheet's ends, in the places of the sheet as it prints. */
export interface KnownEnds {
  readonly ends: SheetEnds;
  readonly offsets: readonly ProofOffset[];
  readonly printed?: readonly Contour[];
}

/**
 * The sheet as it is when its second cut is made: dry. Ends, offsets and the traced print follow it, each place over 1 + movement, across and down by its own. The same
 * things again where the paper does not move.
 */
export function drySecondCut<T extends KnownEnds>(printed: Sheet, known: T): T & { readonly sheet: Sheet } {
  const sheet = drySheet(printed);
  if (sheet === printed) return { ...known, sheet };
  const [sx, sy] = [sheet.widthMm / printed.widthMm, sheet.heightMm / printed.heightMm];
  const m: Matrix = [sx, 0, 0, sy, 0, 0];
  const place = (p: Point): Point => apply(m, p);
  const turned = new Map<string, number>();
  for (const { name, seam } of known.ends.joins) turned.set(name, seam === 'right' ? sy : sx);
  for (const { name, along } of known.ends.firstCutEnds) turned.set(name, Math.hypot(sx * along.x, sy * along.y));
  return {
    ...known,
    sheet,
    ends: {
      joins: known.ends.joins.map((j) => ({ ...j, at: place(j.at), lead: place(j.lead), step: place(j.step) })),
      firstCutEnds: known.ends.firstCutEnds.map((e) => ({ ...e, at: place(e.at) })),
    },
    offsets: known.offsets.map((o) => ({ ...o, offsetMm: o.offsetMm * (turned.get(o.name) ?? 1) })),
    ...(known.printed && { printed: known.printed.map((c) => transformContour(c, m)) }),
  };
}
