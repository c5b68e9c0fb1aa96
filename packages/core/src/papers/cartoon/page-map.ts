import { COLOURS, PAPER } from '../../draw/palette.js';
import { textWidthMm } from '../../draw/text.js';
import type { FontMetrics, Item } from '../../draw/types.js';
import { boxContour, polyline } from '../../geometry/contour.js';
import { apply } from '../../geometry/matrix.js';
import type { Box, Contour, Matrix } from '../../geometry/types.js';
import type { PagePlan } from '../../pages/types.js';

export interface PageMapOptions {
  /** Where the picture may be, page mm; it is placed at its upper left. */
  readonly room: Box;
  /** Names of the pages without anything to cut. */
  readonly blank: ReadonlySet<string>;
  /** The blank pages are not printed. */
  readonly skipped: boolean;
  readonly font: FontMetrics;
}

const NAME_EM_MM = { largest: 7, smallest: 3 } as const;
const NOTE_EM_MM = 3;
/** A map of pages is never taken for the drawing itself. */
const SCALE_MAX = 0.6;

/** A small picture of the whole drawing (group `cartoon`) with the pages' edges as they lie once joined, their names, and the blank ones crossed out. */
export function pageMap(plan: PagePlan, { room, blank, skipped, font }: PageMapOptions): { items: Item[]; box: Box } {
  const scale = Math.min(SCALE_MAX, (room.x1 - room.x0) / plan.widthMm, (room.y1 - room.y0) / plan.heightMm);
  const toMap: Matrix = [scale, 0, 0, scale, room.x0, room.y0];
  const box: Box = {
    x0: room.x0,
    y0: room.y0,
    x1: room.x0 + scale * plan.widthMm,
    y1: room.y0 + scale * plan.heightMm,
  };
  const grid: Contour[] = [boxContour(box)];
  const crosses: Contour[] = [];
  const labels: Item[] = [];
  for (const page of plan.pages) {
    const cell = cellOf(plan, page.row, page.column, toMap);
    if (page.row === 0 && page.column > 0) {
      grid.push(
        polyline(
          [
            { x: cell.x0, y: box.y0 },
            { x: cell.x0, y: box.y1 },
          ],
          { closed: false },
        ),
      );
    }
    if (page.column === 0 && page.row > 0) {
      grid.push(
        polyline(
          [
            { x: box.x0, y: cell.y0 },
            { x: box.x1, y: cell.y0 },
          ],
          { closed: false },
        ),
      );
    }
    const isBlank = blank.has(page.name);
    if (isBlank) {
      crosses.push(
        polyline(
          [
            { x: cell.x0, y: cell.y0 },
            { x: cell.x1, y: cell.y1 },
          ],
          { closed: false },
        ),
      );
      crosses.push(
        polyline(
          [
            { x: cell.x1, y: cell.y0 },
            { x: cell.x0, y: cell.y1 },
          ],
          { closed: false },
        ),
      );
    }
    labels.push(...cellLabels(page.name, cell, { note: isBlank ? (skipped ? 'left out' : 'blank') : null, font }));
  }
  const items: Item[] = [
    { kind: 'clip', contours: [boxContour(box)], items: [{ kind: 'place', group: 'cartoon', at: [toMap] }] },
    ...(crosses.length > 0
      ? [{ kind: 'path', contours: crosses, line: { colour: COLOURS.black, widthMm: 0.2, dashMm: [2, 1] } } as const]
      : []),
    { kind: 'path', contours: grid, line: { colour: COLOURS.black, widthMm: 0.4 } },
    ...labels,
  ];
  return { items, box };
}

/** The part of the drawing that a page shows once its neighbours lie over it, on the map. */
function cellOf(plan: PagePlan, row: number, column: number, toMap: Matrix): Box {
  const at = (r: number, c: number) => plan.pages.find((page) => page.row === r && page.column === c)?.windowMm;
  const own = at(row, column) as Box;
  const low = apply(toMap, { x: own.x0, y: own.y0 });
  const high = apply(toMap, { x: at(row, column + 1)?.x0 ?? own.x1, y: at(row + 1, column)?.y0 ?? own.y1 });
  return { x0: low.x, y0: low.y, x1: high.x, y1: high.y };
}

/** A page's name in the middle of its cell, on white so that it stands out from the artwork, and a note below it. */
function cellLabels(name: string, cell: Box, { note, font }: { note: string | null; font: FontMetrics }): Item[] {
  const [w, h] = [cell.x1 - cell.x0, cell.y1 - cell.y0];
  const unit = textWidthMm(name, { sizeMm: 1, bold: true }, font);
  const em = Math.max(NAME_EM_MM.smallest, Math.min(NAME_EM_MM.largest, 0.3 * h, (0.5 * w) / unit));
  const cap = (em * font.bold.capHeight) / font.bold.unitsPerEm;
  const [x, y] = [(cell.x0 + cell.x1) / 2, (cell.y0 + cell.y1) / 2];
  const noteWidth = note === null ? 0 : textWidthMm(note, { sizeMm: NOTE_EM_MM }, font);
  const half = Math.max(unit * em, noteWidth) / 2 + 0.8;
  const back: Box = {
    x0: x - half,
    y0: y - cap / 2 - 0.8,
    x1: x + half,
    y1: y + cap / 2 + 0.8 + (note === null ? 0 : NOTE_EM_MM + 0.6),
  };
  const style = { kind: 'text', x, colour: COLOURS.black, anchor: 'middle' } as const;
  return [
    { kind: 'path', contours: [boxContour(back)], fill: PAPER },
    { ...style, text: name, y: y + cap / 2, sizeMm: em, bold: true },
    ...(note === null ? [] : [{ ...style, text: note, y: y + cap / 2 + NOTE_EM_MM + 0.4, sizeMm: NOTE_EM_MM }]),
  ];
}
