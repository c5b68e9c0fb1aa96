import { BODY_MM, type GuidePages } from '../../draw/layout.js';
import { COLOURS, GREY } from '../../draw/palette.js';
import { polyline } from '../../geometry/contour.js';
import { ENDS, rectangleDistances, SPANS } from '../../register/spans.js';
import type { Corner } from '../../register/types.js';
import { formatMm, inchFigure } from '../../units/format.js';
import { holeLetter, type SquareWork } from './square-work.js';

/** A distance to measure: what it is called, between which dots, and what it should be. */
export interface ToMeasure {
  readonly what: string;
  readonly between: string;
  readonly mm: number;
  /** What it is once the sheet is soaked; null where that is not known. */
  readonly soakedMm: number | null;
}

/** Rows are high enough to write in, mm. */
const ROW_MM = 7.6;
const HEAD_MM = 6;
interface Columns {
  /** Shares of the width at which they begin, and where the last ends. */
  readonly shares: readonly number[];
  readonly heads: readonly string[];
}

/** The last two are blank, for two readings. */
const ONE_STATE: Columns = {
  shares: [0, 0.27, 0.38, 0.545, 0.715, 0.86, 1],
  heads: ['distance', 'dots', 'should be', 'inches', 'read 1', 'read 2'],
};

/** Punched dry and soaked later: planned and read in both states, the two readings of a state in one box. */
const TWO_STATES: Columns = {
  shares: [0, 0.18, 0.265, 0.4, 0.575, 0.71, 0.835, 1],
  heads: ['distance', 'dots', 'dry', 'inches', 'soaked', 'dry is', 'soaked is'],
};

/** All that is measured of a sheet, in the order in which it is written down: four sides, two diagonals, then dots between the corners. */
export function toMeasure(work: SquareWork): ToMeasure[] {
  const { targets, printed, names, order } = work;
  const six = rectangleDistances(targets.widthMm, targets.heightMm);
  const wet = rectangleDistances(printed.widthMm, printed.heightMm);
  const isKnown = work.punch === 'wet' || work.movement !== null;
  const sides = SPANS.map((span): ToMeasure => {
    const [from, to] = ENDS[span];
    const diagonal = span === 'falling' || span === 'rising';
    return {
      what: diagonal ? 'diagonal' : `${span} side`,
      between: `${names[from]}–${names[to]}`,
      mm: six[span],
      soakedMm: isKnown ? wet[span] : null,
    };
  });
  const corners = new Set<string>(Object.keys(names) as Corner[]);
  const extra = order.steps
    .filter(({ hole }) => !corners.has(hole))
    .flatMap(({ hole, distances, check }) =>
      [...distances, ...(check === null ? [] : [check])].map(({ from, mm, asPrintedMm }): ToMeasure => {
        const letter = holeLetter(from, names);
        return {
          what: `dot ${hole}`,
          between: `${letter}–${hole}`,
          mm,
          soakedMm: isKnown ? asPrintedMm : null,
        };
      }),
    );
  return [...sides, ...extra];
}

/** A table of what is measured, with room to write each distance twice. It goes on on the next page, with its head, where it is long. */
export function blankTable(pages: GuidePages, work: SquareWork): void {
  const rows = toMeasure(work);
  const isTwice = work.punch === 'dry' && work.sheet.practice.soak;
  const columns = isTwice ? TWO_STATES : ONE_STATE;
  let top = 0;
  const begin = (): void => {
    top = pages.y;
    words(pages, columns, { texts: columns.heads, heightMm: HEAD_MM, bold: true });
    pages.y += HEAD_MM;
  };
  const finish = (): void => {
    const x = (share: number) => pages.left + share * pages.width;
    const contours = columns.shares.map((share) =>
      polyline(
        [
          { x: x(share), y: top },
          { x: x(share), y: pages.y },
        ],
        { closed: false },
      ),
    );
    pages.add(
      { kind: 'path', contours, line: { colour: GREY, widthMm: 0.2 } },
      level(pages, top),
      level(pages, pages.y),
    );
  };
  pages.need(HEAD_MM + 6 * ROW_MM + 2);
  begin();
  for (const { what, between, mm, soakedMm } of rows) {
    if (pages.room < ROW_MM) {
      finish();
      pages.newPage();
      begin();
    }
    pages.add(level(pages, pages.y));
    const soaked = soakedMm === null ? '–' : formatMm(soakedMm, 1);
    const texts = [what, between, formatMm(mm, 1), `${inchFigure(mm).text} in`, ...(isTwice ? [soaked] : [])];
    words(pages, columns, { texts, heightMm: ROW_MM, bold: false });
    pages.y += ROW_MM;
  }
  finish();
  pages.y += 1;
}

function words(
  pages: GuidePages,
  { shares }: Columns,
  { texts, heightMm, bold }: { readonly texts: readonly string[]; readonly heightMm: number; readonly bold: boolean },
): void {
  texts.forEach((text, k) => {
    const x = pages.left + shares[k] * pages.width + 1.5;
    pages.add(pages.line(text, x, pages.y + heightMm / 2 + 0.35 * BODY_MM, { sizeMm: BODY_MM, bold }));
  });
}

function level(pages: GuidePages, y: number) {
  const ends = [
    { x: pages.left, y },
    { x: pages.right, y },
  ];
  return {
    kind: 'path',
    contours: [polyline(ends, { closed: false })],
    line: { colour: COLOURS.black, widthMm: 0.2 },
  } as const;
}
