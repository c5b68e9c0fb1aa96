import type { Box } from '../geometry/types.js';
import type { Sheet } from '../stencil/types.js';

/** A stretch of the sheet, mm. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
}

/** A sheet in rows and columns, each of which fits a page of the guide at `scale` together with the overlap around it. */
export interface Parts {
  readonly columns: readonly Stretch[];
  readonly rows: readonly Stretch[];
  readonly scale: number;
}

/** Openings that stand this far apart on the page, or farther, have room for their numbers, mm. */
const NUMBER_PITCH_MM = 9;
/** On the whole sheet's picture closer ones will do: there leaders may run farther. */
const LEAST_PITCH_MM = 7;
/** A part shows this much of its neighbours on every side, mm on the page: more than the longest number, so that none is cut in both. */
export const PART_OVERLAP_MM = 8;
/** No more parts than this: a guide is not the print sheets. */
const MOST_PARTS = 16;

/**
 * The parts in which to show a sheet so that its numbers have room, or null where they have it at `wholeScale`, the scale at which all of
 * the sheet is seen. Parts are never larger than full size. `room` is what a page holds, mm.
 */
export function sheetParts(
  sheet: Sheet,
  wholeScale: number,
  room: { readonly widthMm: number; readonly heightMm: number },
): Parts | null {
  const { field, openings, widthMm, heightMm } = sheet;
  if (openings.length === 0) return null;
  const pitch = Math.sqrt(((field.x1 - field.x0) * (field.y1 - field.y0)) / openings.length);
  if (pitch * wholeScale >= LEAST_PITCH_MM || wholeScale >= 1) return null;
  const inner = { x: room.widthMm - 2 * PART_OVERLAP_MM, y: room.heightMm - 2 * PART_OVERLAP_MM };
  let scale = Math.min(1, NUMBER_PITCH_MM / pitch);
  let columns = Math.ceil((widthMm * scale) / inner.x);
  let rows = Math.ceil((heightMm * scale) / inner.y);
  while (columns * rows > MOST_PARTS) {
    scale *= 0.95;
    columns = Math.ceil((widthMm * scale) / inner.x);
    rows = Math.ceil((heightMm * scale) / inner.y);
  }
  // The pages are there: the parts fill them.
  scale = Math.min(1, (columns * inner.x) / widthMm, (rows * inner.y) / heightMm);
  return { columns: divide(widthMm, columns), rows: divide(heightMm, rows), scale };
}

function divide(length: number, count: number): Stretch[] {
  return Array.from({ length: count }, (_, k) => ({ from: (k * length) / count, to: ((k + 1) * length) / count }));
}

/** `B2`: the row's letter and the column's number; one of them alone where the other is null. */
export function partName(row: number | null, column: number | null): string {
  return `${row === null ? '' : String.fromCharCode(65 + row)}${column === null ? '' : column + 1}`;
}

/** What of the sheet a part's page shows, mm on the sheet: the part and the overlap around it. */
export function partWindow(
  { columns, rows, scale }: Parts,
  { row, column }: { row: number; column: number },
  sheet: Sheet,
): Box {
  const more = PART_OVERLAP_MM / scale;
  return {
    x0: Math.max(0, columns[column].from - more),
    y0: Math.max(0, rows[row].from - more),
    x1: Math.min(sheet.widthMm, columns[column].to + more),
    y1: Math.min(sheet.heightMm, rows[row].to + more),
  };
}
