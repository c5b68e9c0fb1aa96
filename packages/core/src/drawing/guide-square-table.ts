import { polyline } from '../geometry/contour.js';
import { ENDS, rectangleDistances, SPANS } from '../squaring/spans.js';
import type { Corner } from '../squaring/types.js';
import { formatMm, inchFigure } from '../units/format.js';
import { BODY_MM, type GuidePages } from './guide-layout.js';
import { holeLetter, type SquareWork } from './guide-square-work.js';
import { COLOURS, GREY } from './palette.js';

/** A distance to measure: what it is called, between which dots, and what it should be. */
export interface ToMeasure {
  readonly what: string;
  readonly between: string;
  readonly mm: number;
  /** What the command takes it by: `--top`, `--extra A-F`. */
  readonly option: string;
}

/** Rows are high enough to write in, mm. */
const ROW_MM = 7.6;
const HEAD_MM = 6;
/** Shares of the width at which columns begin; the last two are blank. */
const COLUMNS = [0, 0.27, 0.38, 0.545, 0.715, 0.86, 1] as const;
const HEADS = ['distance', 'dots', 'should be', 'inches', 'read 1', 'read 2'] as const;

/** All that is measured of a sheet, in the order in which it is written down: four sides, two diagonals, then dots between the corners. */
export function toMeasure({ targets, names, order }: SquareWork): ToMeasure[] {
  const six = rectangleDistances(targets.widthMm, targets.heightMm);
  const sides = SPANS.map((span): ToMeasure => {
    const [from, to] = ENDS[span];
    const diagonal = span === 'falling' || span === 'rising';
    return {
      what: diagonal ? `${span} diagonal` : `${span} side`,
      between: `${names[from]}–${names[to]}`,
      mm: six[span],
      option: `--${span}`,
    };
  });
  const corners = new Set<string>(Object.keys(names) as Corner[]);
  const extra = order.steps
    .filter(({ hole }) => !corners.has(hole))
    .flatMap(({ hole, distances, check }) =>
      [...distances, ...(check === null ? [] : [check])].map(({ from, mm }): ToMeasure => {
        const letter = holeLetter(from, names);
        return { what: `dot ${hole}`, between: `${letter}–${hole}`, mm, option: `--extra ${letter}-${hole}` };
      }),
    );
  return [...sides, ...extra];
}

/** A table of what is measured, with room to write each distance twice. It goes on on the next page, with its head, where it is long. */
export function blankTable(pages: GuidePages, work: SquareWork): void {
  const rows = toMeasure(work);
  let top = 0;
  const begin = (): void => {
    top = pages.y;
    words(pages, HEADS, HEAD_MM, true);
    pages.y += HEAD_MM;
  };
  const finish = (): void => {
    const x = (share: number) => pages.left + share * pages.width;
    const contours = COLUMNS.map((share) =>
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
  for (const { what, between, mm } of rows) {
    if (pages.room < ROW_MM) {
      finish();
      pages.newPage();
      begin();
    }
    pages.add(level(pages, pages.y));
    words(pages, [what, between, formatMm(mm, 1), `${inchFigure(mm).text} in`], ROW_MM, false);
    pages.y += ROW_MM;
  }
  finish();
  pages.y += 1;
}

/** What to type when all has been read: `okuri square JOB --top "…,…" …`. */
export function commandWords(work: SquareWork): string {
  const options = toMeasure(work).map(({ option }) =>
    option.startsWith('--extra') ? `${option}="…,…"` : `${option} "…,…"`,
  );
  return ['okuri square JOB', ...options].join(' ');
}

function words(pages: GuidePages, texts: readonly string[], heightMm: number, bold: boolean): void {
  texts.forEach((text, k) => {
    const x = pages.left + COLUMNS[k] * pages.width + 1.5;
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
