import type { Box } from '../geometry/types.js';
import { COLOURS } from './palette.js';
import { fitText, wrapText } from './text.js';
import type { FontMetrics, TextItem } from './types.js';

/** A paragraph of a block. */
export interface BlockText {
  readonly text: string;
  readonly bold?: boolean;
}

export interface BlockOptions {
  readonly font: FontMetrics;
  /** Sizes to try, largest first, mm em. The last is used whether all fits or not. */
  readonly sizesMm: readonly number[];
  /** Widest column, mm: long lines are hard to read. */
  readonly columnMm?: number;
}

/** Distance of baselines, in em. */
const LEADING = 1.3;
/** Between columns, in em. */
const GUTTER = 2;

/**
 * Paragraphs set in columns inside a box, each whole in one column, at the largest size at which all of them fit. At the smallest size what does not fit is left out
 * and the last line that does says so. A box without room for one line gives nothing.
 */
export function textBlock(paragraphs: readonly BlockText[], box: Box, options: BlockOptions): TextItem[] {
  const { font, sizesMm, columnMm = 110 } = options;
  for (const em of sizesMm) {
    const last = em === sizesMm[sizesMm.length - 1];
    const perColumn = Math.floor((box.y1 - box.y0) / (em * LEADING));
    if (perColumn < 1) {
      if (last) return [];
      continue;
    }
    const columns = Math.max(1, Math.round((box.x1 - box.x0) / columnMm));
    const width = (box.x1 - box.x0 - (columns - 1) * GUTTER * em) / columns;
    if (width < em) return [];
    const set = paragraphs.map(({ text, bold = false }) => ({
      bold,
      lines: wrapText(text, width, { sizeMm: em, bold }, font),
    }));
    const placed = fillColumns(set, { perColumn, columns, splits: last });
    if (placed === null) continue;
    const { shown, complete } = placed;
    if (!complete) {
      shown[shown.length - 1].line = fitText('… the rest is in the cut guide', width, { sizeMm: em }, font);
    }
    return shown.map(({ line, bold, column, row }) => ({
      kind: 'text',
      text: line,
      x: box.x0 + column * (width + GUTTER * em),
      y: box.y0 + (row + 0.8) * em * LEADING,
      sizeMm: em,
      colour: COLOURS.black,
      bold,
    }));
  }
  return [];
}

interface PlacedLine {
  line: string;
  readonly bold: boolean;
  readonly column: number;
  readonly row: number;
}

/** Paragraphs down the columns, each whole in one; null where they do not fit. With `splits` they may run on, and what is too much is left out. */
function fillColumns(
  set: readonly { bold: boolean; lines: readonly string[] }[],
  { perColumn, columns, splits }: { perColumn: number; columns: number; splits: boolean },
): { shown: PlacedLine[]; complete: boolean } | null {
  const shown: PlacedLine[] = [];
  let column = 0;
  let row = 0;
  for (const { bold, lines } of set) {
    if (!splits && row > 0 && row + lines.length > perColumn) {
      column++;
      row = 0;
    }
    for (const line of lines) {
      if (row === perColumn) {
        if (!splits) return null;
        column++;
        row = 0;
      }
      if (column === columns) return splits ? { shown, complete: false } : null;
      shown.push({ line, bold, column, row });
      row++;
    }
  }
  return { shown, complete: true };
}
