import { drawnMarks, isBlank } from '../../draw/drawn-marks.js';
import { dotSpace, drawnSpace, wordSpace } from '../../draw/drawn-space.js';
import { mirrorItems } from '../../draw/mirror-items.js';
import { COLOURS } from '../../draw/palette.js';
import { roundDrawing } from '../../draw/round.js';
import { wrapAtMost } from '../../draw/text.js';
import { flowText } from '../../draw/text-flow.js';
import type { Drawing, FontMetrics, Item, Page } from '../../draw/types.js';
import { replacedWords, writableText } from '../../draw/writable-text.js';
import type { Box } from '../../geometry/types.js';
import { layPages } from '../../pages/lay-pages.js';
import type { PagePlan, PlannedPage } from '../../pages/types.js';
import type { JudgedSheet, Sheet } from '../../stencil/types.js';
import { formatMm } from '../../units/format.js';
import type { Paper } from '../../units/paper-sizes.js';
import { movementWords, punchWords } from '../sheet/movement-words.js';
import { partWords, tieWords } from '../sheet/paper-words.js';
import { openingsIn, unwrittenNote, unwrittenNumbers, unwrittenWords } from '../sheet/unwritten-numbers.js';
import { pageLegendEntries } from './page-legend.js';
import { pageMap } from './page-map.js';
import { type PageWords, pageStrip, printPage } from './print-page.js';
import { instructions } from './print-words.js';

/** What print sheets take of a job. */
export interface PrintSheetsJob {
  readonly title: string;
  readonly date: string;
  readonly revision: string;
  readonly pages: {
    readonly orientation: 'auto' | 'portrait' | 'landscape';
    readonly marginMm: number;
    readonly overlapMm: number;
    readonly mirror: boolean;
    readonly skipBlank: boolean;
    readonly scaleAcross: number;
    readonly scaleAlong: number;
  };
}

export interface PrintSheetsOptions {
  readonly job: PrintSheetsJob;
  /** The full-size drawing of the sheet, sheet mm, without placed groups. */
  readonly cartoon: readonly Item[];
  readonly font: FontMetrics;
  readonly paper: Paper;
  /** In words how the sheet is drawn and printed: the first goes on every page, all of them on the first. */
  readonly statements: readonly string[];
}

/** Print sheets, how they were laid, and which of them have nothing to cut. */
export interface PrintSheets {
  readonly drawing: Drawing;
  readonly plan: PagePlan;
  readonly blank: readonly string[];
}

const TITLE_EM_MM = 6;
const TITLE_LEADING_MM = 6.5;
/** Lines of a title, and of what stands below it: over 200 letters even on A5, and more would leave no room for the map. */
const HEAD_LINES_MAX = 6;
const SUBTITLE_EM_MM = 3.3;
const SUBTITLE_LEADING_MM = 4.4;
/** Height of the heading on the pages that the instructions run on to, mm. */
const FURTHER_HEAD_MM = 7;
const GUTTER_MM = 7;
/** Columns of text are about this wide, mm: 50 to 60 letters. */
const COLUMN_MM = 85;
const COLUMNS_MAX = 4;
/** Share of an upright first page that the map may take; on one lying on its side it takes as much of the width. */
const MAP_SHARE = { portrait: 0.4, landscape: 0.48 } as const;

/**
 * The print sheets of one stencil: a first page with the map of the pages and how to print, join and check them, then a page for
 * every window of the sheet, true to scale times the printer correction. The cartoon is one group that all pages share. With
 * `mirror` the whole sheet is mirrored before it is split, so that the pages join to the mirrored sheet. Pages with nothing on them
 * are kept unless the job skips them. Throws an `InputError` where the paper leaves no room for the drawing or the pages are too many.
 */
export function printSheets(sheet: JudgedSheet, options: PrintSheetsOptions): PrintSheets {
  const { job, font, paper, statements } = options;
  const { mirror, skipBlank } = job.pages;
  const cartoon = mirror ? mirrorItems(options.cartoon, sheet.widthMm) : options.cartoon;
  const marks = drawnMarks(cartoon);
  const space = { all: drawnSpace(cartoon, font), dots: dotSpace(cartoon, font), words: wordSpace(cartoon, font) };
  const unwritten = unwrittenNumbers(sheet, cartoon);
  const title = writableText(job.title, font);
  const revision = writableText(job.revision, font);
  const words: PageWords = {
    title: titleOf(title.text, sheet),
    dated: revision.text === '' ? job.date : `revision ${revision.text} · ${job.date}`,
    legend: pageLegendEntries(sheet),
    longestNote: unwrittenNote(unwritten, sheet),
    statement: statements[0] ?? '',
    mirrored: mirror,
    movement: movementWords(sheet) ?? '',
  };
  const shortMm = Math.min(paper.widthMm, paper.heightMm) - 2 * job.pages.marginMm;
  const plan = layPages(sheet, { ...job.pages, paper, strip: pageStrip(words, shortMm, font) });
  const blank = plan.pages.filter((page) => isBlank(marks, page.windowMm)).map(({ name }) => name);
  const blankNames = new Set(blank);
  const printed = plan.pages.filter(({ name }) => !(skipBlank && blankNames.has(name)));
  const size = { widthMm: plan.paper.widthMm, heightMm: plan.paper.heightMm };
  // Openings are where the sheet has them; a mirrored page shows the window's mirror image.
  const shownBy = ({ windowMm: w }: PlannedPage): Box =>
    mirror ? { ...w, x0: sheet.widthMm - w.x1, x1: sheet.widthMm - w.x0 } : w;
  const pages = printed.map(
    (page, k): Page => ({
      name: page.name,
      ...size,
      items: printPage(plan, page, {
        words,
        ordinal: k + 1,
        count: printed.length,
        blank: blankNames.has(page.name),
        note: unwrittenNote(openingsIn(unwritten, shownBy(page)), sheet),
        space,
        font,
      }),
    }),
  );
  const remarks = [
    ...replacedWords('title', title),
    ...replacedWords('revision', revision),
    ...unwrittenWords(unwritten, sheet),
    ...[movementWords(sheet), punchWords(sheet), partWords(sheet), tieWords(sheet)].filter((text) => text !== null),
  ];
  const first = firstPages(plan, sheet, { ...options, words, remarks, blank: blankNames, printed: printed.length });
  const drawing: Drawing = {
    title: `${titleOf(job.title, sheet)} – print sheets`,
    date: job.date,
    groups: { cartoon },
    pages: [...first, ...pages],
  };
  return { drawing: roundDrawing(drawing), plan, blank };
}

function titleOf(title: string, { count, index, ink }: Sheet): string {
  return count > 1 ? `${title} · stencil ${index} of ${count} (${ink})` : title;
}

interface FirstPageOptions extends PrintSheetsOptions {
  readonly words: PageWords;
  /** What has to be said of these pages beside the statements. */
  readonly remarks: readonly string[];
  readonly blank: ReadonlySet<string>;
  readonly printed: number;
}

/** The map and the instructions; they go on over more pages where the paper is small. */
function firstPages(plan: PagePlan, sheet: Sheet, options: FirstPageOptions): Page[] {
  const { job, font, paper, words, remarks, blank, printed } = options;
  const statements = [...options.statements, ...remarks];
  const { widthMm, heightMm } = plan.paper;
  const m = Math.max(plan.marginMm, 6);
  const inner: Box = { x0: m, y0: m, x1: widthMm - m, y1: heightMm - m };
  const pageWord = plan.pages.length === 1 ? 'page' : 'pages';
  const subtitle = `Print sheets · sheet ${formatMm(sheet.widthMm, 1)} × ${formatMm(sheet.heightMm, 1)} on ${plan.pages.length} ${pageWord} of ${paper.name} (${plan.columns} across, ${plan.rows} down) · ${words.dated}`;
  const subtitleLines = wrapAtMost(
    subtitle,
    inner.x1 - inner.x0,
    { sizeMm: SUBTITLE_EM_MM, most: HEAD_LINES_MAX },
    font,
  );
  const titleLines = wrapAtMost(
    words.title,
    inner.x1 - inner.x0,
    { sizeMm: TITLE_EM_MM, bold: true, most: HEAD_LINES_MAX },
    font,
  );
  const titleMm = Math.max(1, titleLines.length) * TITLE_LEADING_MM;
  const body: Box = { ...inner, y0: inner.y0 + titleMm + subtitleLines.length * SUBTITLE_LEADING_MM + 2.5 };
  const skipped = job.pages.skipBlank;
  const room: Box =
    plan.orientation === 'portrait'
      ? { ...body, y1: body.y0 + MAP_SHARE.portrait * (body.y1 - body.y0) }
      : { ...body, x1: body.x0 + MAP_SHARE.landscape * (body.x1 - body.x0) };
  const map = pageMap(plan, { room, blank, skipped, font });
  const beside: Box =
    plan.orientation === 'portrait' ? { ...body, y0: map.box.y1 + 4 } : { ...body, x0: map.box.x1 + GUTTER_MM };
  const furtherHead = wrapAtMost(
    `${words.title} · print sheets, continued`,
    inner.x1 - inner.x0,
    { sizeMm: SUBTITLE_EM_MM, bold: true, most: HEAD_LINES_MAX },
    font,
  );
  const further: Box = {
    ...inner,
    y0: inner.y0 + FURTHER_HEAD_MM + (furtherHead.length - 1) * SUBTITLE_LEADING_MM,
  };
  const texts = flowText(
    instructions(plan, { sheet, statements, mirrored: words.mirrored, blank: [...blank], skipped, printed }),
    { font, pages: [columns(beside), columns(further)] },
  );
  const line = (text: string, y: number, sizeMm: number, bold: boolean): Item => ({
    kind: 'text',
    text,
    x: inner.x0,
    y,
    sizeMm,
    colour: COLOURS.black,
    bold,
  });
  const head = [
    ...titleLines.map((text, k) => line(text, inner.y0 + 5 + k * TITLE_LEADING_MM, TITLE_EM_MM, true)),
    ...subtitleLines.map((text, k) =>
      line(text, inner.y0 + titleMm + 4 + k * SUBTITLE_LEADING_MM, SUBTITLE_EM_MM, false),
    ),
  ];
  return texts.map((items, k) => ({
    name: k === 0 ? 'map' : `map-${k + 1}`,
    widthMm,
    heightMm,
    items:
      k === 0
        ? [...head, ...map.items, ...items]
        : [
            ...furtherHead.map((text, n) => line(text, inner.y0 + 3.5 + n * SUBTITLE_LEADING_MM, SUBTITLE_EM_MM, true)),
            ...items,
          ],
  }));
}

function columns(box: Box): Box[] {
  const width = box.x1 - box.x0;
  const count = Math.max(1, Math.min(COLUMNS_MAX, Math.round((width + GUTTER_MM) / (COLUMN_MM + GUTTER_MM))));
  const each = (width - (count - 1) * GUTTER_MM) / count;
  return Array.from({ length: count }, (_, k) => {
    const x0 = box.x0 + k * (each + GUTTER_MM);
    return { ...box, x0, x1: x0 + each };
  });
}
