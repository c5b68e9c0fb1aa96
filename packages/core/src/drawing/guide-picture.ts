import { boxContour, circleContour, polyline } from '../geometry/contour.js';
import type { Sheet } from '../stencil/types.js';
import { type Cartoon, drawCartoon } from './cartoon.js';
import { BODY_MM, type GuidePages, LINE_MM } from './guide-layout.js';
import { COLOURS, lineStyle, MEANING_WORDS, type Meaning, WASTE_TINT } from './palette.js';
import { wrapText } from './text.js';
import type { FontMetrics, Item } from './types.js';

/** A leader on the small picture is never longer than this, mm: else nobody follows it. */
const LEADER_REACH_MM = 12;
/** Share of the numbers that may find no room before leaders are given up. */
const MOST_MISSING = 0.2;
/** Number of missing numbers that are named one by one. */
const NAMED = 24;

/** The page with the whole sheet, and its legend. Returns the group that the picture places. */
export function sheetPicture(
  pages: GuidePages,
  sheet: Sheet,
  { font, group }: { font: FontMetrics; group: string },
): readonly Item[] {
  pages.newPage();
  pages.heading('The whole sheet');
  const legend = legendMeanings(sheet);
  const legendMm = legendHeight(pages, legend, font);
  // Three lines below the picture for what has to be said of it.
  const roomMm = pages.room - legendMm - 4 * LINE_MM - 6;
  const scale = Math.min(1, pages.width / sheet.widthMm, roomMm / sheet.heightMm);
  const { layers, missingNumbers } = readableCartoon(sheet, { font, scale });
  const x = pages.left + (pages.width - scale * sheet.widthMm) / 2;
  pages.add({ kind: 'place', group, at: [[scale, 0, 0, scale, x, pages.y]] });
  pages.y += scale * sheet.heightMm + 2;
  const waits = sheet.openings.some((o) => o.firstCut.length === 0);
  const brackets = waits ? ' Numbers in brackets are second cut only.' : '';
  pages.paragraph({
    text: `Drawn at 1 : ${(1 / scale).toFixed(2)} to show what is where. Not for measuring or cutting: the print sheets are full size.${brackets}`,
  });
  if (missingNumbers.length > 0) pages.paragraph({ text: missingWords(missingNumbers, sheet.openings.length) });
  drawLegend(pages, legend, font);
  return layers;
}

/** With leaders to the numbers; without where so many would be needed that the picture could not be read. */
function readableCartoon(sheet: Sheet, { font, scale }: { font: FontMetrics; scale: number }): Cartoon {
  const full = drawCartoon(sheet, { font, scale, leaderReachMm: LEADER_REACH_MM });
  if (full.missingNumbers.length <= MOST_MISSING * sheet.openings.length) return full;
  return drawCartoon(sheet, { font, scale, leaderReachMm: 0 });
}

function missingWords(numbers: readonly number[], all: number): string {
  const carry = 'the list and the print sheets carry them.';
  if (numbers.length === all) return `The openings are too many for numbers on so small a picture; ${carry}`;
  const which = numbers.length <= NAMED ? numbers.join(', ') : `${numbers.length} of ${all}`;
  return `Some numbers find no room on so small a picture (${which}); ${carry}`;
}

function legendMeanings(sheet: Sheet): Meaning[] {
  const some = (yes: boolean, meaning: Meaning): Meaning[] => (yes ? [meaning] : []);
  return [
    ...some(
      sheet.openings.some((o) => o.firstCut.length > 0),
      'first-cut',
    ),
    ...some(
      sheet.openings.some((o) => o.secondCut.length > 0),
      'second-cut',
    ),
    ...some(sheet.heldRight !== null || sheet.heldBottom !== null, 'hold-line'),
    ...some(sheet.stops.length > 0, 'stop'),
    ...some(sheet.dots.length > 0, 'dot'),
    'border',
    'seam',
    'leader',
  ];
}

const SAMPLE_MM = 14;
const COLUMNS = 2;

function legendLines(pages: GuidePages, meaning: Meaning, font: FontMetrics): string[] {
  const widthMm = pages.width / COLUMNS - SAMPLE_MM - 6;
  return wrapText(MEANING_WORDS[meaning], widthMm, { sizeMm: BODY_MM }, font);
}

function legendRows(
  pages: GuidePages,
  meanings: readonly Meaning[],
  font: FontMetrics,
): { at: Meaning[]; heightMm: number }[] {
  const rows: { at: Meaning[]; heightMm: number }[] = [];
  for (let k = 0; k < meanings.length; k += COLUMNS) {
    const at = meanings.slice(k, k + COLUMNS);
    const lines = Math.max(...at.map((m) => legendLines(pages, m, font).length));
    rows.push({ at, heightMm: Math.max(lines * LINE_MM, 5) + 1 });
  }
  return rows;
}

function legendHeight(pages: GuidePages, meanings: readonly Meaning[], font: FontMetrics): number {
  return legendRows(pages, meanings, font).reduce((sum, row) => sum + row.heightMm, 2);
}

function drawLegend(pages: GuidePages, meanings: readonly Meaning[], font: FontMetrics): void {
  pages.y += 1.5;
  for (const row of legendRows(pages, meanings, font)) {
    row.at.forEach((meaning, k) => {
      const x = pages.left + (k * pages.width) / COLUMNS;
      pages.add(...sample(meaning, x, pages.y));
      legendLines(pages, meaning, font).forEach((text, n) => {
        pages.add(pages.line(text, x + SAMPLE_MM + 3, pages.y + (n + 0.72) * LINE_MM, { sizeMm: BODY_MM }));
      });
    });
    pages.y += row.heightMm;
  }
}

/** A piece of a line as the drawing has it. */
function sample(meaning: Meaning, x: number, y: number): Item[] {
  const line = lineStyle(meaning);
  const box = boxContour({ x0: x, y0: y + 0.4, x1: x + SAMPLE_MM, y1: y + 4.4 });
  const middle = y + 2.4;
  const straight = polyline(
    [
      { x, y: middle },
      { x: x + SAMPLE_MM, y: middle },
    ],
    { closed: false },
  );
  switch (meaning) {
    case 'first-cut':
      return [{ kind: 'path', contours: [box], line, fill: WASTE_TINT }];
    case 'second-cut':
      return [{ kind: 'path', contours: [box], line }];
    case 'stop': {
      const ends = [
        { x: x + 2, y: middle + 1.6 },
        { x: x + 2, y: middle },
        { x: x + SAMPLE_MM - 2, y: middle },
        { x: x + SAMPLE_MM - 2, y: middle + 1.6 },
      ];
      return [{ kind: 'path', contours: [polyline(ends, { closed: false })], line }];
    }
    case 'dot': {
      const at = { x: x + SAMPLE_MM / 2, y: middle };
      return [
        { kind: 'path', contours: [circleContour(at, 2.2)], line },
        { kind: 'path', contours: [circleContour(at, 0.6)], fill: COLOURS.green },
      ];
    }
    case 'leader':
      return [
        { kind: 'path', contours: [straight], line },
        { kind: 'path', contours: [circleContour({ x, y: middle }, 0.45)], fill: line.colour },
      ];
    default:
      return [{ kind: 'path', contours: [straight], line }];
  }
}
