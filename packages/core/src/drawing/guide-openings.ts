import { boxContour, contourArea, contoursBox, polyline } from '../geometry/contour.js';
import type { Box, Contour, Point } from '../geometry/types.js';
import type { Sheet, SheetOpening } from '../stencil/types.js';
import { BODY_MM, type GuidePages, LINE_MM } from './guide-layout.js';
import { COLOURS, RULE_GREY } from './palette.js';
import { wrapText } from './text.js';
import type { FontMetrics } from './types.js';

/** One line to tick off. */
export interface TickRow {
  readonly number: number;
  /** Where to look for it on the sheet, mm from the paper's upper left corner. */
  readonly at: Point;
  readonly box: Box;
  readonly areaMm2: number;
  readonly remark: string;
}

/** Widths of a list's columns, mm; the remark takes the rest. */
const TICK_MM = 5.5;
const NUMBER_MM = 10;
const PLACE_MM = 18;
const SIZE_MM = 18;
const AREA_MM = 13;
const GUTTER_MM = 6;
const BOX_MM = 3.2;
/** Every so many rows the rule is heavier, so that the eye keeps its place. */
const GROUP = 5;

/** What is cut before the proof, in cutting order: every opening that has a first cut, once. */
export function firstCutRows(sheet: Sheet): TickRow[] {
  const stops = new Set(sheet.stops.map((s) => s.number));
  return sheet.openings
    .filter((o) => o.firstCut.length > 0)
    .map((o) => {
      const rest = o.secondCut.length > 0 ? 'the rest is second cut' : '';
      return row(o, o.firstCut, o.labelAt, stops.has(o.number) ? 'stops at the hold line' : rest);
    });
}

/** What waits for the proof: every opening that has a second cut, once. */
export function secondCutRows(sheet: Sheet): TickRow[] {
  return sheet.openings
    .filter((o) => o.secondCut.length > 0)
    .map((o) => {
      const only = o.firstCut.length === 0;
      const box = contoursBox(o.secondCut) as Box;
      const middle = { x: (box.x0 + box.x1) / 2, y: (box.y0 + box.y1) / 2 };
      return row(o, o.secondCut, only ? o.labelAt : middle, only ? 'second cut only' : 'rest of a first cut');
    });
}

function row(opening: SheetOpening, contours: readonly Contour[], at: Point, remark: string): TickRow {
  const areaMm2 = Math.abs(contours.reduce((sum, c) => sum + contourArea(c), 0));
  return { number: opening.number, at, box: contoursBox(contours) as Box, areaMm2, remark };
}

/** The lists of both cuts, with a box to tick before each opening. */
export function openingLists(pages: GuidePages, sheet: Sheet, font: FontMetrics): void {
  pages.newPage();
  const first = firstCutRows(sheet);
  const second = secondCutRows(sheet);
  pages.heading(`First cut: ${countWords(first.length)}, in cutting order`);
  pages.paragraph({
    text: 'Places are those of the number, in mm from the clipped corner of the paper: x to the right, y down. Sizes are across × down in mm, areas in mm².',
  });
  pages.space(2);
  tickList(pages, first, font);
  if (second.length === 0) return;
  pages.space(3);
  pages.heading(`Second cut: ${countWords(second.length)}, only with the printed proof in hand`, 6 * LINE_MM);
  tickList(pages, second, font);
}

function countWords(count: number): string {
  return count === 1 ? '1 opening' : `${count} openings`;
}

/** Rows in columns: down the first, then down the next; the last page's columns are evened out. */
function tickList(pages: GuidePages, rows: readonly TickRow[], font: FontMetrics): void {
  const columns = pages.width >= 150 ? 2 : 1;
  const columnMm = (pages.width - (columns - 1) * GUTTER_MM) / columns;
  const remarkMm = columnMm - TICK_MM - NUMBER_MM - PLACE_MM - SIZE_MM - AREA_MM;
  const set = rows.map((r) => {
    const lines = wrapText(r.remark, remarkMm, { sizeMm: BODY_MM }, font);
    return { row: r, lines, heightMm: Math.max(1, lines.length) * LINE_MM + 0.9 };
  });
  let total = set.reduce((sum, r) => sum + r.heightMm, 0);
  let k = 0;
  while (k < set.length) {
    pages.need(4 * LINE_MM);
    const top = pages.y;
    const head = LINE_MM + 1;
    // A row that is split over two lines may stick out of an even share.
    const share = total / columns + 2 * LINE_MM;
    const depth = Math.min(pages.room - head, share);
    let lowest = top;
    for (let c = 0; c < columns && k < set.length; c++) {
      const x = pages.left + c * (columnMm + GUTTER_MM);
      let y = listHead(pages, x, top, columnMm);
      const begin = k;
      while (k < set.length && (k === begin || y + set[k].heightMm <= top + head + depth)) {
        listRow(pages, set[k], { x, y, columnMm, heavy: (k + 1) % GROUP === 0 });
        y += set[k].heightMm;
        total -= set[k].heightMm;
        k++;
      }
      lowest = Math.max(lowest, y);
    }
    pages.y = lowest;
    if (k < set.length) pages.newPage();
  }
}

function listHead(pages: GuidePages, x: number, y: number, columnMm: number): number {
  const texts = ['', 'no.', 'at x, y', 'size', 'area', 'remark'];
  starts(x).forEach((at, n) => {
    if (texts[n]) pages.add(pages.line(texts[n], at, y + 0.72 * LINE_MM, { sizeMm: BODY_MM, bold: true }));
  });
  const below = y + LINE_MM + 1;
  const contours = [
    polyline(
      [
        { x, y: below },
        { x: x + columnMm, y: below },
      ],
      { closed: false },
    ),
  ];
  pages.add({ kind: 'path', contours, line: { colour: COLOURS.black, widthMm: 0.3 } });
  return below;
}

function starts(x: number): number[] {
  let at = x;
  return [0, TICK_MM, NUMBER_MM, PLACE_MM, SIZE_MM, AREA_MM].map((width) => {
    at += width;
    return at;
  });
}

function listRow(
  pages: GuidePages,
  { row, lines, heightMm }: { row: TickRow; lines: readonly string[]; heightMm: number },
  { x, y, columnMm, heavy }: { x: number; y: number; columnMm: number; heavy: boolean },
): void {
  const { box, at } = row;
  const baseline = y + 0.45 + 0.72 * LINE_MM;
  const [, number, place, size, area, remark] = starts(x);
  const top = y + 0.45 + (LINE_MM - BOX_MM) / 2;
  const tick = boxContour({ x0: x + 0.3, y0: top, x1: x + 0.3 + BOX_MM, y1: top + BOX_MM });
  const bottom = y + heightMm;
  pages.add(
    { kind: 'path', contours: [tick], line: { colour: COLOURS.black, widthMm: 0.25 } },
    pages.line(`${row.number}`, number, baseline, { sizeMm: BODY_MM, bold: true }),
    pages.line(`${at.x.toFixed(0)}, ${at.y.toFixed(0)}`, place, baseline, { sizeMm: BODY_MM }),
    pages.line(`${side(box.x1 - box.x0)} × ${side(box.y1 - box.y0)}`, size, baseline, { sizeMm: BODY_MM }),
    pages.line(side(row.areaMm2), area, baseline, { sizeMm: BODY_MM }),
    ...lines.map((text, n) => pages.line(text, remark, baseline + n * LINE_MM, { sizeMm: BODY_MM })),
    {
      kind: 'path',
      contours: [
        polyline(
          [
            { x, y: bottom },
            { x: x + columnMm, y: bottom },
          ],
          { closed: false },
        ),
      ],
      line: heavy ? { colour: COLOURS.black, widthMm: 0.25 } : { colour: RULE_GREY, widthMm: 0.15 },
    },
  );
}

/** Whole numbers, but small ones with a decimal: nothing is `0` wide. */
function side(value: number): string {
  return value < 9.95 ? value.toFixed(1) : value.toFixed(0);
}
