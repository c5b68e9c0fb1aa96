import { boxContour, polyline } from '../geometry/contour.js';
import type { Box } from '../geometry/types.js';
import { COLOURS, RULE_GREY } from './palette.js';
import { evenMost, textWidthMm, wrapText } from './text.js';
import type { FontMetrics, Item } from './types.js';

/**
 * A piece of running text. A `row` has its cells at shares of the column's width, after a box to tick or the space of one; where a cell of rows that follow each other is longer than its share, all
 * cells take what they need, and only where that is too much they are wrapped.
 */
export type FlowBlock =
  | { readonly kind: 'heading'; readonly text: string }
  | { readonly kind: 'paragraph'; readonly text: string; readonly label?: string }
  | {
      readonly kind: 'row';
      readonly cells: readonly string[];
      readonly at: readonly number[];
      readonly tick?: 'box' | 'space';
    };

export interface FlowOptions {
  readonly font: FontMetrics;
  /** The columns of one page after the other, page mm; after the last page of the list its columns come again. */
  readonly pages: readonly (readonly Box[])[];
}

const EM_MM = 3.1;
const LEADING_MM = 4.05;
const HEADING_EM_MM = 4;
const HEADING_LEADING_MM = 5;
const AFTER_MM = 1.2;
const BEFORE_HEADING_MM = 2.2;
const LABEL_MM = 5;
const TICK_MM = 3;
/** Between two cells of a row. */
const CELL_GAP_MM = 1.2;
/** More pages than any instruction needs: narrower columns than a word would else go on for ever. */
const PAGES_MAX = 50;

/**
 * Sets text in columns, page after page; returns the items of each page. A block that does not fit in what is left of a column is
 * continued in the next (rows and headings whole). Throws a `RangeError` where a column is too low for one line.
 *
 * Kept whole: every block goes on where the one before it ended.
 */
export function flowText(blocks: readonly FlowBlock[], { font, pages }: FlowOptions): Item[][] {
  const result: Item[][] = [[]];
  let column = 0;
  let y = columnsOf(0)[0].y0;

  function columnsOf(page: number): readonly Box[] {
    return pages[Math.min(page, pages.length - 1)];
  }
  function box(): Box {
    return columnsOf(result.length - 1)[column];
  }
  /** Goes on to a column with room for `mm`. */
  function room(mm: number): void {
    while (y + mm > box().y1 + 1e-9) {
      if (result.length > PAGES_MAX)
        throw new RangeError(`got columns too small for the text, expected ${mm} mm of height`);
      column++;
      if (column === columnsOf(result.length - 1).length) {
        result.push([]);
        column = 0;
      }
      y = box().y0;
    }
  }
  function write(text: string, offset: number, size: { em: number; leading: number; bold?: boolean }): void {
    const { em, leading, bold = false } = size;
    result[result.length - 1].push({
      kind: 'text',
      text,
      x: box().x0 + offset,
      y: y + (leading + 0.7 * em) / 2,
      sizeMm: em,
      colour: COLOURS.black,
      ...(bold && { bold }),
    });
  }

  blocks.forEach((block, k) => {
    if (block.kind === 'heading') {
      const size = { em: HEADING_EM_MM, leading: HEADING_LEADING_MM, bold: true };
      if (y > box().y0) y += BEFORE_HEADING_MM;
      // A heading takes the first lines of its text along.
      room(HEADING_LEADING_MM + 2 * LEADING_MM);
      for (const text of wrapText(block.text, width(box()), { sizeMm: HEADING_EM_MM, bold: true }, font)) {
        write(text, 0, size);
        y += HEADING_LEADING_MM;
      }
      return;
    }
    if (block.kind === 'row') {
      const start = block.tick === undefined ? 0 : LABEL_MM;
      const spans = cellSpans(rowsAround(blocks, k), width(box()) - start, font);
      const cells = block.cells.map((cell, c) => wrapText(cell, spans[c].width, { sizeMm: EM_MM }, font));
      const lines = Math.max(1, ...cells.map(({ length }) => length));
      room(lines * LEADING_MM);
      const items = result[result.length - 1];
      const { x0, x1 } = box();
      if (block.tick === 'box') {
        const top = y + (LEADING_MM - TICK_MM) / 2;
        const square = { x0: x0 + 0.2, y0: top, x1: x0 + 0.2 + TICK_MM, y1: top + TICK_MM };
        items.push({ kind: 'path', contours: [boxContour(square)], line: { colour: COLOURS.black, widthMm: 0.2 } });
      }
      const top = y;
      cells.forEach((texts, c) => {
        texts.forEach((text, n) => {
          y = top + n * LEADING_MM;
          write(text, start + spans[c].from, { em: EM_MM, leading: LEADING_MM });
        });
      });
      y = top + lines * LEADING_MM;
      const rule = polyline(
        [
          { x: x0, y },
          { x: x1, y },
        ],
        { closed: false },
      );
      items.push({ kind: 'path', contours: [rule], line: { colour: RULE_GREY, widthMm: 0.1 } });
      y += 0.4;
      return;
    }
    const indent = block.label === undefined ? 0 : LABEL_MM;
    room(LEADING_MM);
    if (block.label !== undefined) write(block.label, 0, { em: EM_MM, leading: LEADING_MM, bold: true });
    for (const text of wrapText(block.text, width(box()) - indent, { sizeMm: EM_MM }, font)) {
      room(LEADING_MM);
      write(text, indent, { em: EM_MM, leading: LEADING_MM });
      y += LEADING_MM;
    }
    y += AFTER_MM;
  });
  return result;
}

type Row = FlowBlock & { readonly kind: 'row' };

/** The rows that stand together with one. */
function rowsAround(blocks: readonly FlowBlock[], k: number): Row[] {
  const isRow = (block: FlowBlock | undefined): block is Row => block?.kind === 'row';
  let first = k;
  let last = k;
  while (isRow(blocks[first - 1])) first--;
  while (isRow(blocks[last + 1])) last++;
  return blocks.slice(first, last + 1).filter(isRow);
}

/** Where the cells of rows begin in a width, and how much each may take. */
function cellSpans(rows: readonly Row[], widthMm: number, font: FontMetrics): { from: number; width: number }[] {
  const { at } = rows[0];
  const shares = at.map((share, c) => ({
    from: share * widthMm,
    width: ((at[c + 1] ?? 1) - share) * widthMm - CELL_GAP_MM,
  }));
  const needs = at.map((_, c) =>
    Math.max(...rows.map(({ cells }) => textWidthMm(cells[c] ?? '', { sizeMm: EM_MM }, font))),
  );
  if (needs.every((need, c) => need <= shares[c].width)) return shares;
  const room = widthMm - needs.length * CELL_GAP_MM;
  const most = evenMost(needs, room);
  const widths = needs.map((need) => Math.min(need, most));
  const spare = Math.max(0, room - widths.reduce((sum, each) => sum + each, 0)) / needs.length;
  let from = 0;
  return widths.map((each) => {
    const span = { from, width: each };
    from += each + CELL_GAP_MM + spare;
    return span;
  });
}

function width({ x0, x1 }: Box): number {
  return x1 - x0;
}
