import type { Practice, Sheet, SheetOpening } from '../../stencil/types.js';
import { formatMm } from '../../units/format.js';

/** How the cartoon gets onto the stencil paper. */
export function transferWords({ transfer }: Practice, { mirrored }: { mirrored: boolean }): string {
  const side = mirrored ? 'on the back of the stencil paper' : 'on the face of the stencil paper';
  switch (transfer) {
    case 'cut-through':
      return `cut through: stick the joined pages down ${side} with a thin, removable glue or tape all around the edge, smooth from the middle outward, and cut page and paper in one.`;
    case 'carbon':
      return `carbon: carbon paper, dark side down, ${side}, the joined pages on top, all taped along one edge; trace with a hard point, and look under it before taking anything off.`;
    case 'lightbox':
      return `light table: tape the joined pages to the glass, the stencil paper over them, both by two corners, and trace in pencil ${side}.`;
  }
}

/** Whether the pages are mirrored, and what to do about it. */
export function mirrorWords({ mirrored }: { mirrored: boolean }): string {
  return mirrored
    ? 'mirrored: words read right, the picture is turned over. Work on the back of the paper; the print comes out as on this guide.'
    : 'not mirrored: the face of the sheet, as on this guide.';
}

export function grainWords({ grain }: Practice): string {
  if (grain === 'upright') return 'upright, from top to bottom (arrow)';
  if (grain === 'level') return 'level, from left to right (arrow)';
  return 'not known: ask before laying the pages on the paper';
}

export function handWords({ hand }: Practice): string {
  return hand === 'right'
    ? 'right: begin at the upper left, so that the hand rests on uncut paper'
    : 'left: begin at the upper right, so that the hand rests on uncut paper';
}

/** `112 in the first cut, 14 in the second`. */
export function piecesWords(sheet: Sheet): string {
  const first = sheet.openings.filter((o) => o.firstCut.length > 0);
  const second = sheet.openings.filter((o) => o.secondCut.length > 0);
  const done = first.filter((o) => o.done).length;
  return [
    `${first.length} in the first cut${done > 0 ? ` (${done} done already, hatched)` : ''}`,
    ...(second.length > 0 ? [`${second.length} in the second`] : []),
  ].join(', ');
}

/** `12 of 2 mm, 53 of 2.5 mm (drawn 2.4)`; null where nothing is punched. */
export function punchWords(sheet: Sheet): string | null {
  const bySize = new Map<number, SheetOpening[]>();
  for (const opening of sheet.openings) {
    const { tool, punchMm } = opening;
    if (tool !== 'punch' || punchMm === null) continue;
    bySize.set(punchMm, [...(bySize.get(punchMm) ?? []), opening]);
  }
  if (bySize.size === 0) return null;
  return [...bySize]
    .sort(([a], [b]) => a - b)
    .map(([mm, openings]) => [`${openings.length} of ${formatMm(mm)}`, drawnWords(openings)].filter(Boolean).join(' '))
    .join(', ');
}

/** A hole is said to be drawn with another size than its punch from so much on, mm: it would be written alike. */
const DRAWN_AS_MM = 0.05;

/** With what sizes holes are drawn that one punch makes: `(drawn 2.4)`, `(drawn 2.3 to 2.6)`; empty where that is the punch's own, or nothing is punched. */
export function drawnWords(openings: readonly SheetOpening[]): string {
  const punched = openings.flatMap(({ tool, punchMm, areaMm2 }) =>
    tool === 'punch' && punchMm !== null ? [{ punchMm, drawnMm: 2 * Math.sqrt(areaMm2 / Math.PI) }] : [],
  );
  if (punched.every(({ punchMm, drawnMm }) => Math.abs(drawnMm - punchMm) < DRAWN_AS_MM)) return '';
  const sizes = punched.map(({ drawnMm }) => drawnMm);
  const [least, most] = [Math.min(...sizes), Math.max(...sizes)].map((mm) => `${Number(mm.toFixed(1))}`);
  return `(drawn ${least === most ? least : `${least} to ${most}`})`;
}

/** Length of all cuts, in metres. */
export function cutLengthWords(sheet: Sheet): string {
  const mm = sheet.openings.reduce((sum, o) => sum + o.cutLengthMm, 0);
  return `${(mm / 1000).toFixed(mm < 10_000 ? 2 : 1)} m`;
}
