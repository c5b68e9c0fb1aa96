import { polyline } from '../geometry/contour.js';
import type { Sheet } from '../stencil/types.js';
import { drawCartoon } from './cartoon.js';
import { BODY_MM, type GuidePages, LINE_MM } from './guide-layout.js';
import { drawLegend, legendHeight, legendMeanings } from './guide-legend.js';
import { type Parts, partName, sheetParts } from './guide-parts.js';
import { GREY } from './palette.js';
import type { FontMetrics, Item } from './types.js';

/** A leader on a small picture is never longer than this, mm: else nobody follows it. */
export const LEADER_REACH_MM = 12;
/** Number of missing numbers that are named one by one. */
const NAMED = 24;
/** Kept free beside the picture for the names of its parts, mm. */
const NAMES_MM = 6;
/** Between the paper's edge and a tick that marks where parts meet, mm. */
const TICK_GAP_MM = 0.6;

export interface PictureOptions {
  readonly font: FontMetrics;
  /** Name of the group that the picture places. */
  readonly group: string;
}

/**
 * The page with the whole sheet, and its legend. A sheet whose openings are too dense for numbers on it is shown without them, with the parts
 * in which the next pages show it larger. Returns the group's items, and those parts.
 */
export function sheetPicture(
  pages: GuidePages,
  sheet: Sheet,
  { font, group }: PictureOptions,
): { items: readonly Item[]; parts: Parts | null } {
  pages.newPage();
  pages.heading('The whole sheet');
  const legend = legendMeanings(sheet);
  // Lines below the picture for what has to be said of it.
  const roomMm = pages.room - legendHeight(pages, legend, font) - 4 * LINE_MM - 6;
  const whole = Math.min(1, pages.width / sheet.widthMm, roomMm / sheet.heightMm);
  const parts = sheetParts(sheet, whole, { widthMm: pages.width, heightMm: pages.bottom - pages.y - 3 * LINE_MM });
  const aside = parts ? NAMES_MM : 0;
  const scale = Math.min(1, (pages.width - 1.5 * aside) / sheet.widthMm, (roomMm - 1.5 * aside) / sheet.heightMm);
  const cartoon = drawCartoon(sheet, { font, scale, numbers: parts === null, leaderReachMm: LEADER_REACH_MM });
  const x = pages.left + aside + (pages.width - 1.5 * aside - scale * sheet.widthMm) / 2;
  const y = pages.y + aside;
  pages.add({ kind: 'place', group, at: [[scale, 0, 0, scale, x, y]] });
  if (parts) pages.add(...partMarks(parts, sheet, { x, y, scale }));
  pages.y = y + scale * sheet.heightMm + 2 + aside / 2;
  const truth = `Drawn at ${scaleWords(scale)} to show what is where. Not for measuring or cutting: the print sheets are full size.`;
  const waits = sheet.openings.some((o) => o.firstCut.length === 0);
  const brackets = waits && !parts ? ' Numbers in brackets are second cut only.' : '';
  pages.paragraph({ text: truth + brackets });
  if (parts)
    pages.paragraph({ text: 'The next pages show its parts, named by row and column, larger and with numbers.' });
  else if (cartoon.missingNumbers.length > 0) {
    pages.paragraph({ text: missingWords(cartoon.missingNumbers, sheet.openings.length) });
  }
  drawLegend(pages, legend, font);
  return { items: cartoon.layers, parts };
}

/** `1 : 3.29`, or full size. */
export function scaleWords(scale: number): string {
  return scale === 1 ? 'full size' : `1 : ${(1 / scale).toFixed(2)}`;
}

/** What to say of numbers that found no place. */
export function missingWords(numbers: readonly number[], all: number): string {
  const which = numbers.length <= NAMED ? numbers.join(', ') : `${numbers.length} of ${all}`;
  return `Some numbers find no room on so small a picture (${which}); the list and the print sheets carry them.`;
}

/**
 * Ticks beside the picture where the parts meet, and the letters and numbers of rows and columns. Nothing is drawn on the picture itself:
 * it could be taken for a cut.
 */
function partMarks(parts: Parts, sheet: Sheet, { x, y, scale }: { x: number; y: number; scale: number }): Item[] {
  const across = (u: number) => x + scale * u;
  const down = (v: number) => y + scale * v;
  const [right, bottom] = [across(sheet.widthMm), down(sheet.heightMm)];
  const line = { colour: GREY, widthMm: 0.3 };
  const ticks = [
    ...parts.columns.slice(1).flatMap(({ from }) => [
      [across(from), y - NAMES_MM, across(from), y - TICK_GAP_MM],
      [across(from), bottom + TICK_GAP_MM, across(from), bottom + NAMES_MM / 2],
    ]),
    ...parts.rows.slice(1).flatMap(({ from }) => [
      [x - NAMES_MM, down(from), x - TICK_GAP_MM, down(from)],
      [right + TICK_GAP_MM, down(from), right + NAMES_MM / 2, down(from)],
    ]),
  ];
  const contours = ticks.map(([x0, y0, x1, y1]) => {
    const ends = [
      { x: x0, y: y0 },
      { x: x1, y: y1 },
    ];
    return polyline(ends, { closed: false });
  });
  const style = { kind: 'text', sizeMm: BODY_MM, colour: GREY, bold: true, anchor: 'middle' } as const;
  return [
    { kind: 'path', contours, line },
    ...parts.columns.map((c, k): Item => {
      return { ...style, text: partName(null, k), x: across((c.from + c.to) / 2), y: down(0) - 1.5 };
    }),
    ...parts.rows.map((r, k): Item => {
      return { ...style, text: partName(k, null), x: across(0) - NAMES_MM / 2, y: down((r.from + r.to) / 2) };
    }),
  ];
}
