import { COLOURS } from '../../draw/palette.js';
import { BAR_HALF_MM, testBar } from '../../draw/test-bar.js';
import { fitText, type TextStyle, textWidthMm, wrapAtMost, wrapText } from '../../draw/text.js';
import type { FontMetrics, Item } from '../../draw/types.js';
import { boxMiddle } from '../../geometry/boxes.js';
import { boxContour, polyline } from '../../geometry/contour.js';
import type { PagePlan, PageStrip, PlannedPage } from '../../pages/types.js';
import { type JoinSpace, joinMarks } from '../sheet/join-marks.js';
import { type LegendEntry, pageLegend, pageLegendHeight } from './page-legend.js';

/** What every print page says about itself. */
export interface PageWords {
  readonly title: string;
  /** `revision B · 2026-03-01`. */
  readonly dated: string;
  /** In words how it is drawn and printed. */
  readonly statement: string;
  readonly mirrored: boolean;
  /** What the legend at the foot explains. */
  readonly legend: readonly LegendEntry[];
  /** How the drawing differs from what prints; empty where it doesn't. */
  readonly movement: string;
  /** The longest note that any page may carry. */
  readonly longestNote: string;
}

const NAME: TextStyle = { sizeMm: 12, bold: true };
const TITLE: TextStyle = { sizeMm: 3.4, bold: true };
const BODY: TextStyle = { sizeMm: 3.1 };
const LEADING_MM = 3.9;
const GAP_MM = 1;
/** Between the page's name and the words beside it, mm. */
const NAME_GAP_MM = 4;
/** The arrow before the second line, mm. */
const ARROW_MM = 3.6;
/** Lines that a title and a revision may take on every page: some 300 letters on A4. The first page has the whole. */
const HEAD_LINES_MAX = { title: 4, dated: 2 } as const;
/** Between the title and the date beside it, mm. */
const DATE_GAP_MM = 3;
/** Room is kept for a name like this beside the words; longer ones move them. */
const NAME_SAMPLE = 'P10';
/** Lines that a statement may add; a longer one is shortened. */
const STATEMENT_LINES_MAX = 4;

/** The strips that a page's words and bars take, for paper whose shorter side leaves `shortMm` between the margins. */
export function pageStrip(words: PageWords, shortMm: number, font: FontMetrics): PageStrip {
  const longest = {
    words,
    progress: 'page 400 of 400',
    trim: trimWords(NAME_SAMPLE, NAME_SAMPLE),
    note: words.longestNote,
  };
  const roomMm = shortMm - nameRoomMm(font);
  const lines = headLines(words, roomMm, font).length + wordLines(longest, roomMm, font).length;
  return {
    leftMm: 2 * BAR_HALF_MM + GAP_MM,
    bottomMm:
      2 * GAP_MM +
      2 * BAR_HALF_MM +
      Math.max(NAME.sizeMm, lines * LEADING_MM) +
      pageLegendHeight(words.legend, shortMm, font),
  };
}

/**
 * One print page: the group of the drawing through the page's window, the marks for joining, two test bars at right angles, the page's name and
 * words. `ordinal` counts the pages that are printed.
 */
export function printPage(plan: PagePlan, page: PlannedPage, options: PrintPageOptions): Item[] {
  const { font, words } = options;
  const { paper, marginMm, strip, contentMm } = plan;
  const stripTop = paper.heightMm - marginMm - strip.bottomMm;
  const legendWidthMm = paper.widthMm - 2 * marginMm;
  const legendMm = pageLegendHeight(words.legend, legendWidthMm, font);
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
      items: [{ kind: 'place', group: options.group ?? 'cartoon', at: [page.toPage] }],
    },
    ...joinMarks(plan, page, font, options.space),
    { kind: 'layer', id: 'test-bars', label: 'Test bars', items: [...across.items, ...along.items] },
    ...(options.blank ? blankItems(plan, font) : []),
    ...wordItems(plan, page, options, stripTop + 2 * GAP_MM + 2 * BAR_HALF_MM + legendMm),
    {
      kind: 'layer',
      id: 'legend',
      label: 'What the lines mean',
      items: pageLegend(words.legend, { x: marginMm, y: stripTop + GAP_MM + 2 * BAR_HALF_MM }, legendWidthMm, font),
    },
  ];
}

export interface PrintPageOptions {
  readonly words: PageWords;
  readonly ordinal: number;
  readonly count: number;
  readonly blank: boolean;
  /** What has to be said of this page alone; empty for nothing. */
  readonly note: string;
  /** Where lines and words of the cartoon stand; null for a cartoon without any. */
  readonly space: JoinSpace | null;
  /** The drawing; `cartoon` by default. */
  readonly group?: string;
  readonly font: FontMetrics;
}

function wordItems(plan: PagePlan, page: PlannedPage, options: PrintPageOptions, top: number): Item[] {
  const { words, ordinal, count, note, font } = options;
  const left = plan.marginMm;
  const cap = (NAME.sizeMm * font.bold.capHeight) / font.bold.unitsPerEm;
  const x = left + Math.max(nameRoomMm(font), textWidthMm(page.name, NAME, font) + NAME_GAP_MM);
  const name = (row: number, column: number) =>
    plan.pages.find((one) => one.row === row && one.column === column)?.name ?? null;
  const trim = trimWords(name(page.row, page.column - 1), name(page.row - 1, page.column));
  const roomMm = plan.paper.widthMm - plan.marginMm - x;
  const lines = wordLines({ words, progress: `page ${ordinal} of ${count}`, trim, note }, roomMm, font);
  const head = headLines(words, roomMm, font);
  const below = top + head.length * LEADING_MM;
  const up = polyline(
    [
      { x: x + 1.2, y: below + 0.7 },
      { x: x + 2.4, y: below + 3.1 },
      { x, y: below + 3.1 },
    ],
    { closed: true },
  );
  const style = { kind: 'text', colour: COLOURS.black } as const;
  return [
    { ...style, text: page.name, x: left, y: top + cap + 0.4, sizeMm: NAME.sizeMm, bold: true },
    { kind: 'path', contours: [up], fill: COLOURS.black },
    ...head.flatMap((parts, row) =>
      parts.map((part): Item => ({ ...style, ...part, x: x + part.x, y: top + row * LEADING_MM + 3.1 })),
    ),
    ...lines.map((text, k): Item => {
      return {
        ...style,
        text,
        x: k === 0 ? x + ARROW_MM : x,
        y: below + k * LEADING_MM + 3.1,
        sizeMm: BODY.sizeMm,
      };
    }),
  ];
}

/** The title, and the date and revision after it or below it, in lines; `x` from where the words begin. */
function headLines(
  { title, dated }: PageWords,
  roomMm: number,
  font: FontMetrics,
): { text: string; x: number; sizeMm: number; bold?: boolean }[][] {
  const lines = wrapAtMost(title, roomMm, { ...TITLE, most: HEAD_LINES_MAX.title }, font).map((text) => [
    { text, x: 0, ...TITLE },
  ]);
  const last = lines[lines.length - 1]?.[0];
  const after = last === undefined ? 0 : textWidthMm(last.text, TITLE, font) + DATE_GAP_MM;
  const dates = wrapAtMost(dated, roomMm, { ...BODY, most: HEAD_LINES_MAX.dated }, font).map((text) => ({
    text,
    x: 0,
    ...BODY,
  }));
  if (last !== undefined && dates.length === 1 && after + textWidthMm(dated, BODY, font) <= roomMm) {
    return [...lines.slice(0, -1), [last, { ...dates[0], x: after }]];
  }
  return [...lines, ...dates.map((date) => [date])];
}

/** The running words of a page in lines: which side is up (after the arrow), the progress, the trimming, the note, the statement. */
function wordLines(
  { words, progress, trim, note }: { words: PageWords; progress: string; trim: string; note: string },
  roomMm: number,
  font: FontMetrics,
): string[] {
  const up = words.mirrored ? 'mirrored: the back of the sheet, this edge up' : 'this side up';
  // As if all lines began after the arrow: it costs a line at most.
  const widthMm = roomMm - ARROW_MM;
  const needed = [`${up} · ${progress} · ${trim}`, words.movement, note].filter((text) => text !== '').join(' ');
  const most = wrapText(needed, widthMm, BODY, font).length + STATEMENT_LINES_MAX;
  return wrapAtMost(`${needed} ${words.statement}`, widthMm, { ...BODY, most }, font);
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
  const at = boxMiddle(contentMm);
  return [{ kind: 'text', text, ...at, sizeMm: BODY.sizeMm, colour: COLOURS.black, anchor: 'middle' }];
}
