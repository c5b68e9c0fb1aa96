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
/** Room for the longest name that is likely, in characters. */
const NAME_SAMPLE = 'AA10';
const STATEMENT_LINES_MAX = 4;

/** The strips that a page's words and bars take, for paper whose shorter side leaves `shortMm` between the margins. */
export function pageStrip(words: PageWords, shortMm: number, font: FontMetrics): PageStrip {
  const lines = 3 + statementLines(words, shortMm, font).length;
  return {
    leftMm: 2 * BAR_HALF_MM + GAP_MM,
    bottomMm: GAP_MM + 2 * BAR_HALF_MM + GAP_MM + Math.max(NAME.sizeMm, lines * LEADING_MM),
  };
}

/**
 * One print page: the group `cartoon` through the page's window, the marks for joining, two test bars at right angles, the page's name and
 * words. `ordinal` counts the pages that are printed.
 */
export function printPage(
  plan: PagePlan,
  page: PlannedPage,
  { words, ordinal, count, blank, font }: PrintPageOptions,
): Item[] {
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
    ...wordItems(plan, page, { words, ordinal, count, blank, font }, stripTop + 2 * GAP_MM + 2 * BAR_HALF_MM),
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
  const { words, ordinal, count, blank, font } = options;
  const left = plan.marginMm;
  const right = plan.paper.widthMm - plan.marginMm;
  const cap = (NAME.sizeMm * font.bold.capHeight) / font.bold.unitsPerEm;
  const x = left + Math.max(nameRoomMm(font), textWidthMm(page.name, NAME, font) + NAME_GAP_MM);
  const arrow = { x: x + 1.2, y: top + LEADING_MM };
  const shortMm = Math.min(plan.paper.widthMm, plan.paper.heightMm) - 2 * plan.marginMm;
  const lines = [
    { text: words.title, style: TITLE, indent: 0 },
    { text: `${upWords(words)} · page ${ordinal} of ${count} · ${words.dated}`, style: BODY, indent: 3.6 },
    { text: `${blank ? 'Nothing to cut on this page. ' : ''}${trimWords(plan, page)}`, style: BODY, indent: 0 },
    ...statementLines(words, shortMm, font).map((text) => ({ text, style: BODY, indent: 0 })),
  ];
  const up = polyline(
    [
      { x: arrow.x, y: arrow.y + 0.7 },
      { x: arrow.x + 1.2, y: arrow.y + 3.1 },
      { x: arrow.x - 1.2, y: arrow.y + 3.1 },
    ],
    { closed: true },
  );
  return [
    {
      kind: 'text',
      text: page.name,
      x: left,
      y: top + cap + 0.4,
      colour: COLOURS.black,
      sizeMm: NAME.sizeMm,
      bold: true,
    },
    { kind: 'path', contours: [up], fill: COLOURS.black },
    ...lines.map(({ text, style, indent }, k): Item => {
      const shown = fitText(text, right - x - indent, style, font);
      return {
        kind: 'text',
        text: shown,
        x: x + indent,
        y: top + k * LEADING_MM + 3.1,
        sizeMm: style.sizeMm,
        colour: COLOURS.black,
        ...(style.bold === true && { bold: true }),
      };
    }),
  ];
}

function upWords({ mirrored }: PageWords): string {
  return mirrored ? 'mirrored: the back of the sheet, this edge up' : 'this side up';
}

/** What to cut off this page, and on which pages to lay it. */
function trimWords(plan: PagePlan, page: PlannedPage): string {
  const name = (row: number, column: number) =>
    plan.pages.find((one) => one.row === row && one.column === column)?.name ?? '';
  const edges = [
    ...(page.column > 0 ? [`left edge, lay it on ${name(page.row, page.column - 1)}`] : []),
    ...(page.row > 0 ? [`top edge, lay it on ${name(page.row - 1, page.column)}`] : []),
  ];
  return edges.length === 0 ? 'Trim: nothing on this page.' : `Trim: ${edges.join('; ')}.`;
}

function statementLines(words: PageWords, shortMm: number, font: FontMetrics): string[] {
  const lines = wrapText(words.statement, shortMm - nameRoomMm(font), BODY, font);
  if (lines.length <= STATEMENT_LINES_MAX) return lines;
  return [...lines.slice(0, STATEMENT_LINES_MAX - 1), lines.slice(STATEMENT_LINES_MAX - 1).join(' ')];
}

function nameRoomMm(font: FontMetrics): number {
  return textWidthMm(NAME_SAMPLE, NAME, font) + NAME_GAP_MM;
}
