import type { Box, Matrix } from '../geometry/types.js';
import { formatMm } from '../units/format.js';
import { InputError } from '../units/input-error.js';
import { pageName } from './page-name.js';
import type { PagePlan, PageStrip, PlannedPage } from './types.js';

export interface LayPagesOptions {
  /** As it lies or turned: `orientation` decides. */
  readonly paper: { readonly widthMm: number; readonly heightMm: number };
  /** What the printer leaves blank along every edge, mm. */
  readonly marginMm: number;
  /** How far neighbouring pages overlap, drawing mm. */
  readonly overlapMm: number;
  /** `auto` (default) takes the one with fewer pages, upright where both need as many. */
  readonly orientation?: 'auto' | 'portrait' | 'landscape';
  /** Room for the page's own words and bars; default none. */
  readonly strip?: PageStrip;
  /** Printer correction, across and along the page: what the drawing is multiplied by. Default 1. */
  readonly scaleAcross?: number;
  readonly scaleAlong?: number;
}

/** More pages than anybody joins by hand. */
export const MAX_PAGES = 400;

/** What a page has to add to its neighbour's, mm: less is all overlap and no picture. */
export const LEAST_ADVANCE_MM = 10;

/** Slack of a count, as a share of a page: a drawing that fits but for rounding gets no page more. */
const COUNT_SLACK = 1e-9;

const NO_STRIP: PageStrip = { leftMm: 0, bottomMm: 0 };

/** One way to lay the paper. */
interface Layout {
  readonly orientation: 'portrait' | 'landscape';
  readonly paper: { readonly widthMm: number; readonly heightMm: number };
  readonly columns: number;
  readonly rows: number;
}

/**
 * Splits a drawing (mm) over printer pages. The number of pages across is ceil((L − o)/(p − o)) for a drawing L wide, an overlap o and p that a
 * page can show; so for the pages along. The windows of all pages are of one size and together end where the drawing ends: no page holds a mere sliver, and all are trimmed in the same places.
 * Which way the paper lies does not depend on the printer correction, so that a correction that was measured stays true for its own pages.
 * Throws an `InputError` where margins, strip and overlap leave no room, and for more than `MAX_PAGES` pages.
 */
export function layPages(
  drawing: { readonly widthMm: number; readonly heightMm: number },
  options: LayPagesOptions,
): PagePlan {
  const { marginMm, overlapMm, strip = NO_STRIP, scaleAcross = 1, scaleAlong = 1 } = options;
  checkInput(drawing, options);
  const plain = chooseOrientation(drawing, options, strip);
  const { orientation, paper, columns, rows } = countPages(drawing, plain, options, { strip, scaleAcross, scaleAlong });
  if (columns * rows > MAX_PAGES) {
    throw new InputError(
      `The drawing of ${formatMm(drawing.widthMm)} by ${formatMm(drawing.heightMm)} would take ${columns * rows} pages, and ${MAX_PAGES} are the most: choose a larger paper or a smaller overlap.`,
    );
  }
  const across = windows(drawing.widthMm, columns, overlapMm);
  const along = windows(drawing.heightMm, rows, overlapMm);
  const contentMm: Box = {
    x0: marginMm + strip.leftMm,
    y0: marginMm,
    x1: marginMm + strip.leftMm + across.sizeMm * scaleAcross,
    y1: marginMm + along.sizeMm * scaleAlong,
  };
  const pages: PlannedPage[] = [];
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const [x0, x1] = across.spans[column];
      const [y0, y1] = along.spans[row];
      const toPage: Matrix = [
        scaleAcross,
        0,
        0,
        scaleAlong,
        contentMm.x0 - x0 * scaleAcross,
        contentMm.y0 - y0 * scaleAlong,
      ];
      pages.push({ name: pageName(pages.length), row, column, windowMm: { x0, y0, x1, y1 }, toPage });
    }
  }
  const { widthMm, heightMm } = drawing;
  return {
    widthMm,
    heightMm,
    paper,
    orientation,
    marginMm,
    overlapMm,
    strip,
    scaleAcross,
    scaleAlong,
    rows,
    columns,
    contentMm,
    pages,
  };
}

type Drawing = { readonly widthMm: number; readonly heightMm: number };

function chooseOrientation(drawing: Drawing, options: LayPagesOptions, strip: PageStrip): 'portrait' | 'landscape' {
  const { orientation = 'auto' } = options;
  if (orientation !== 'auto') return orientation;
  const plain = { strip, scaleAcross: 1, scaleAlong: 1 };
  const tried = (['portrait', 'landscape'] as const).map((one) => {
    try {
      const { columns, rows } = countPages(drawing, one, options, plain);
      return columns * rows;
    } catch (error) {
      if (error instanceof InputError) return Infinity;
      throw error;
    }
  });
  return tried[1] < tried[0] ? 'landscape' : 'portrait';
}

function countPages(
  drawing: Drawing,
  orientation: 'portrait' | 'landscape',
  { paper, marginMm, overlapMm }: LayPagesOptions,
  { strip, scaleAcross, scaleAlong }: { strip: PageStrip; scaleAcross: number; scaleAlong: number },
): Layout {
  const [short, long] = [Math.min(paper.widthMm, paper.heightMm), Math.max(paper.widthMm, paper.heightMm)];
  const [widthMm, heightMm] = orientation === 'portrait' ? [short, long] : [long, short];
  const count = (lengthMm: number, sideMm: number, stripMm: number, scale: number): number => {
    const shownMm = (sideMm - 2 * marginMm - stripMm) / scale;
    if (shownMm < LEAST_ADVANCE_MM || (lengthMm > shownMm && shownMm - overlapMm < LEAST_ADVANCE_MM)) {
      throw new InputError(
        `A page of ${formatMm(widthMm)} by ${formatMm(heightMm)} with margins of ${formatMm(marginMm)} and an overlap of ${formatMm(overlapMm)} leaves no room for the drawing: choose a larger paper, or smaller margins or overlap.`,
      );
    }
    if (lengthMm <= shownMm * (1 + COUNT_SLACK)) return 1;
    return Math.ceil((lengthMm - overlapMm) / (shownMm - overlapMm) - COUNT_SLACK);
  };
  return {
    orientation,
    paper: { widthMm, heightMm },
    columns: count(drawing.widthMm, widthMm, strip.leftMm, scaleAcross),
    rows: count(drawing.heightMm, heightMm, strip.bottomMm, scaleAlong),
  };
}

/** `count` spans of equal size over a length, each overlapping the next by `overlapMm`. */
function windows(
  lengthMm: number,
  count: number,
  overlapMm: number,
): { readonly sizeMm: number; readonly spans: readonly (readonly [number, number])[] } {
  const advance = count === 1 ? lengthMm : (lengthMm - overlapMm) / count;
  const sizeMm = count === 1 ? lengthMm : advance + overlapMm;
  const spans = Array.from({ length: count }, (_, k): readonly [number, number] => [
    k * advance,
    k === count - 1 ? lengthMm : k * advance + sizeMm,
  ]);
  return { sizeMm, spans };
}

function checkInput(drawing: Drawing, options: LayPagesOptions): void {
  const { paper, marginMm, overlapMm, strip = NO_STRIP, scaleAcross = 1, scaleAlong = 1 } = options;
  const positive = { width: drawing.widthMm, height: drawing.heightMm, scaleAcross, scaleAlong };
  for (const [what, value] of Object.entries({ ...positive, paperWidth: paper.widthMm, paperHeight: paper.heightMm })) {
    if (!(value > 0 && value < Infinity)) {
      throw new InputError(`The pages can't be laid with the ${what} ${value}: give a number above zero.`);
    }
  }
  const lengths = { margin: marginMm, overlap: overlapMm, left: strip.leftMm, bottom: strip.bottomMm };
  for (const [what, value] of Object.entries(lengths)) {
    if (!(value >= 0 && value < Infinity)) {
      throw new InputError(`The pages can't be laid with the ${what} ${value} mm: give zero or more.`);
    }
  }
}
