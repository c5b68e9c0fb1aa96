import { boxContour, polyline } from '../geometry/contour.js';
import type { PagePlan, PageStrip, PlannedPage } from '../pages/types.js';
import { joinMarks } from './join-marks.js';
import { COLOURS } from './palette.js';
import { BAR_HALF_MM, testBar } from './test-bar.js';
import { fitText, type TextStyle, textWidthMm, wrapText } from './text.js';
import type { FontMetrics, Item } from './types.js';

/** What every print page says about itself. */
export interface PageWords {
  readonly title: string;
  /** `revision B · 2026-03-01`. */
  readonly dated: string;
  /** In words how it is drawn and printed. */
  readonly statement: string;
  readonly mirrored: boolean;
}

const NAME: TextStyle = { sizeMm: 12, bold: true };
const TITLE: TextStyle = { sizeMm: 3.4, bold: true };
const BODY: TextStyle = { sizeMm: 3.1 };
const LEADING_MM = 4.1;
const GAP_MM = 1;
/** Between the page's name and the words beside it, mm. */
const NAME_GAP_MM = 4;
/** The arrow before the second line, mm. */
const ARROW_MM = 3.6;
/** Room for the longest name that is likely, in characters. */
const NAME_SAMPLE = 'AA10';
const STATEMENT_LINES_MAX = 4;

/** The strips that a page's words and bars take, for paper whose shorter side leaves `shortMm` between the margins. */
export function pageStrip(words: PageWords, shortMm: number, font: FontMetrics): PageStrip {
  const longest = { words, progress: 'page 400 of 400', trim: trimWords(NAME_SAMPLE, NAME_SAMPLE) };
  const lines = wordLines(longest, shortMm - nameRoomMm(font), font).length;
  return {
    leftMm: 2 * BAR_HALF_MM + GAP_MM,
    bottomMm: 2 * GAP_MM + 2 * BAR_HALF_MM + Math.max(NAME.sizeMm, lines * LEADING_MM),
  };
}

/**
 * One print page: the group `cartoon` through the page's window, the marks for joining, two test bars at right angles, the page's name and
 * words. `ordinal` counts the pages that are printed.
 */
export function printPage(plan: PagePlan, page: PlannedPage, options: PrintPageOptions): Item[] {
  const { font } = options;
  const { paper, marginMm, strip, contentMm } = plan;
  const stripTop = paper.heightMm - marginMm - strip.bottomMm;
  const across = testBar({
    at: { x: marginMm, y: stripTop + GAP_MM + BAR_HALF_MM },
    roomMm: paper.widthMm - 2 * marginMm,
    scale: plan.scaleAcross,
    standing: false,
    font,
  });
  const along = testBar({
    at: { x: marginMm + BAR_HALF_MM, y: stripTop },
    roomMm: stripTop - marginMm,
    scale: plan.scaleAlong,
    standing: true,
    font,
  });
  return [
    {
      kind: 'clip',
      contours: [boxContour(contentMm)],
      items: [{ kind: 'place', group: 'cartoon', at: [page.toPage] }],
    },
    ...joinMarks(plan, page, font),
    { kind: 'layer', id: 'test-bars', label: 'Test bars', items: [...across.items, ...along.items] },
    ...(options.blank ? blankItems(plan, font) : []),
    ...wordItems(plan, page, options, stripTop + 2 * GAP_MM + 2 * BAR_HALF_MM),
  ];
}

export interface PrintPageOptions {
  readonly words: PageWords;
  readonly ordinal: number;
  readonly count: number;
  readonly blank: boolean;
  readonly font: FontMetrics;
}

function wordItems(plan: PagePlan, page: PlannedPage, options: PrintPageOptions, top: number): Item[] {
  const { words, ordinal, count, font } = options;
  const left = plan.marginMm;
  const cap = (NAME.sizeMm * font.bold.capHeight) / font.bold.unitsPerEm;
  const x = left + Math.max(nameRoomMm(font), textWidthMm(page.name, NAME, font) + NAME_GAP_MM);
  const name = (row: number, column: number) =>
    plan.pages.find((one) => one.row === row && one.column === column)?.name ?? null;
  const trim = trimWords(name(page.row, page.column - 1), name(page.row - 1, page.column));
  const roomMm = plan.paper.widthMm - plan.marginMm - x;
  const lines = wordLines({ words, progress: `page ${ordinal} of ${count}`, trim }, roomMm, font);
  const up = polyline(
    [
      { x: x + 1.2, y: top + LEADING_MM + 0.7 },
      { x: x + 2.4, y: top + LEADING_MM + 3.1 },
      { x, y: top + LEADING_MM + 3.1 },
    ],
    { closed: true },
  );
  const style = { kind: 'text', colour: COLOURS.black } as const;
  return [
    { ...style, text: page.name, x: left, y: top + cap + 0.4, sizeMm: NAME.sizeMm, bold: true },
    { kind: 'path', contours: [up], fill: COLOURS.black },
    ...lines.map((text, k): Item => {
      const size = k === 0 ? { sizeMm: TITLE.sizeMm, bold: true } : { sizeMm: BODY.sizeMm };
      return { ...style, text, x: k === 1 ? x + ARROW_MM : x, y: top + k * LEADING_MM + 3.1, ...size };
    }),
  ];
}

/** The words of a page in lines: the title in one, then which side is up (after the arrow), the progress, the trimming, the statement. */
function wordLines(
  { words, progress, trim }: { words: PageWords; progress: string; trim: string },
  roomMm: number,
  font: FontMetrics,
): string[] {
  const up = words.mirrored ? 'mirrored: the back of the sheet, this edge up' : 'this side up';
  const [upLine, ...rest] = wrapText(`${up} · ${progress} · ${words.dated}`, roomMm - ARROW_MM, BODY, font);
  const statement = wrapText(words.statement, roomMm, BODY, font);
  const shown = statement.slice(0, STATEMENT_LINES_MAX);
  if (statement.length > shown.length) {
    shown[shown.length - 1] = fitText(`${shown[shown.length - 1]} ${statement[shown.length]}`, roomMm, BODY, font);
  }
  return [fitText(words.title, roomMm, TITLE, font), upLine, ...rest, ...wrapText(trim, roomMm, BODY, font), ...shown];
}

/** What to cut off a page, and on which pages to lay it. */
function trimWords(left: string | null, above: string | null): string {
  const edges = [
    ...(left !== null ? [`left edge, lay it on ${left}`] : []),
    ...(above !== null ? [`top edge, lay it on ${above}`] : []),
  ];
  return edges.length === 0 ? 'Trim: nothing on this page.' : `Trim: ${edges.join('; ')}.`;
}

function nameRoomMm(font: FontMetrics): number {
  return textWidthMm(NAME_SAMPLE, NAME, font) + NAME_GAP_MM;
}

/** Said in the middle of a page that has nothing to cut, where it would else look like a failed print. */
function blankItems({ contentMm }: PagePlan, font: FontMetrics): Item[] {
  const text = fitText('nothing to cut on this page', contentMm.x1 - contentMm.x0, BODY, font);
  const at = { x: (contentMm.x0 + contentMm.x1) / 2, y: (contentMm.y0 + contentMm.y1) / 2 };
  return [{ kind: 'text', text, ...at, sizeMm: BODY.sizeMm, colour: COLOURS.black, anchor: 'middle' }];
}
