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
 * Paragraphs set in columns inside a box, at the largest size at which all of them fit. At the smallest size what does not fit is left out
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
    const lines = paragraphs.flatMap(({ text, bold = false }) =>
      wrapText(text, width, { sizeMm: em, bold }, font).map((line) => ({ line, bold })),
    );
    const room = perColumn * columns;
    if (lines.length > room && !last) continue;
    const shown = lines.slice(0, room);
    if (lines.length > room) {
      shown[room - 1] = { line: fitText('… the rest is in the cut guide', width, { sizeMm: em }, font), bold: false };
    }
    return shown.map(({ line, bold }, k) => ({
      kind: 'text',
      text: line,
      x: box.x0 + Math.floor(k / perColumn) * (width + GUTTER * em),
      y: box.y0 + ((k % perColumn) + 0.8) * em * LEADING,
      sizeMm: em,
      colour: COLOURS.black,
      bold,
    }));
  }
  return [];
}
