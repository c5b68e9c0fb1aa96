import { BODY_MM, type GuidePages, LINE_MM } from '../../draw/layout.js';
import { COLOURS, lineStyle, MEANING_WORDS, type Meaning, WASTE_TINT } from '../../draw/palette.js';
import { wrapText } from '../../draw/text.js';
import type { FontMetrics, Item } from '../../draw/types.js';
import { hasStoppedNumbers } from '../../draw/upright-numbers.js';
import { boxContour, circleContour, polyline } from '../../geometry/contour.js';
import type { Sheet } from '../../stencil/types.js';
import { type PaperNames, tiesOf } from '../sheet/paper-names.js';

/** What the lines of a sheet's drawing can mean; meanings that it has not are left out. */
export function legendMeanings(sheet: Sheet, names: PaperNames): Meaning[] {
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
    ...some(tiesOf(names, 'printed').length > 0, 'tie'),
    ...some(tiesOf(names, 'release').length > 0, 'release-tie'),
    ...some(names.weak.length > 0, 'weak'),
    ...some(sheet.dots.length > 0, 'dot'),
    ...some(hasStoppedNumbers(sheet.openings), 'full-stop'),
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

/** How high the legend will be, mm. */
export function legendHeight(pages: GuidePages, meanings: readonly Meaning[], font: FontMetrics): number {
  return legendRows(pages, meanings, font).reduce((sum, row) => sum + row.heightMm, 2);
}

/** A piece of every kind of line, and what it means in words. */
export function drawLegend(pages: GuidePages, meanings: readonly Meaning[], font: FontMetrics): void {
  pages.y += 1.5;
  for (const row of legendRows(pages, meanings, font)) {
    pages.need(row.heightMm);
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
    case 'tie':
    case 'release-tie': {
      const ends = meaning === 'release-tie' ? [1, 2, SAMPLE_MM - 2, SAMPLE_MM - 1] : [1.6, SAMPLE_MM - 1.6];
      const stroke = (u0: number, v0: number, u1: number, v1: number) =>
        polyline(
          [
            { x: x + u0, y: middle + v0 },
            { x: x + u1, y: middle + v1 },
          ],
          { closed: false },
        );
      const sides = [-1.5, 1.5].map((v) => stroke(2.6, v, SAMPLE_MM - 2.6, v));
      return [
        { kind: 'path', contours: ends.map((u) => stroke(u, -1.5, u, 1.5)), line },
        { kind: 'path', contours: sides, line: lineStyle('first-cut') },
      ];
    }
    case 'weak':
      return [{ kind: 'path', contours: [circleContour({ x: x + SAMPLE_MM / 2, y: middle }, 2.2)], line }];
    case 'dot': {
      const at = { x: x + SAMPLE_MM / 2, y: middle };
      return [
        { kind: 'path', contours: [circleContour(at, 2.2)], line },
        { kind: 'path', contours: [circleContour(at, 0.6)], fill: COLOURS.green },
      ];
    }
    case 'full-stop':
      return [{ kind: 'text', text: '68.', x: x + 3, y: middle + 1.6, sizeMm: 4, colour: COLOURS.black, bold: true }];
    case 'leader':
      return [
        { kind: 'path', contours: [straight], line },
        { kind: 'path', contours: [circleContour({ x, y: middle }, 0.45)], fill: line.colour },
      ];
    default:
      return [{ kind: 'path', contours: [straight], line }];
  }
}
