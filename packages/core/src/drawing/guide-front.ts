import type { Lattice } from '../repeat/types.js';
import type { Sheet } from '../stencil/types.js';
import { type GuidePages, LINE_MM } from './guide-layout.js';
import { CAUTIONS, heldWords, repeatWords, sizeWords, stopWords, workingOrder } from './guide-words.js';
import { groupMeasures, inchErrorWords, measureMm, measureName } from './measure-words.js';
import { CORNER_CLIPPED, FACE_UP } from './sheet-words.js';

/** What the head of a guide says about the job. */
export interface GuideHead {
  readonly title: string;
  readonly revision: string;
  /** `YYYY-MM-DD`. */
  readonly date: string;
  /** What is cut and how it is printed, in sentences. */
  readonly statements: readonly string[];
  readonly lattice: Lattice;
}

/** The first pages of a sheet's guide: what it is, what to measure, how to work, where to stop, what to mind. */
export function frontMatter(pages: GuidePages, head: GuideHead, sheet: Sheet): void {
  const { title, revision, date, statements } = head;
  pages.title(title);
  pages.paragraph({
    text: `Cut guide · revision ${revision} · ${date} · sheet ${sheet.index} of ${sheet.count} (ink ${sheet.ink})`,
    bold: true,
  });
  pages.space(1.5);
  for (const text of statements) pages.paragraph({ text });
  pages.space(1.5);
  pages.notice(stopWords(sheet));
  pages.heading('The sheet');
  pages.facts(sheetFacts(head.lattice, sheet));
  if (sheet.measures.length > 0) dotMeasures(pages, sheet);
  pages.heading('Working order');
  pages.list(workingOrder(sheet), { numbered: true });
  pages.heading('Take care');
  pages.list(CAUTIONS);
}

function sheetFacts(lattice: Lattice, sheet: Sheet): (readonly [string, string])[] {
  const { field, across, down, fitsPaper, widthMm, heightMm } = sheet;
  const first = sheet.openings.filter((o) => o.firstCut.length > 0).length;
  const second = sheet.openings.filter((o) => o.secondCut.length > 0).length;
  const several = `${across} × ${down} units (across × down), ${sizeWords(field.x1 - field.x0, field.y1 - field.y0)}`;
  return [
    ['Repeat', repeatWords(lattice)],
    ['Unit', sizeWords(lattice.widthMm, lattice.heightMm)],
    ['Design', across * down === 1 ? 'one unit' : several],
    [
      'Paper',
      `${sizeWords(widthMm, heightMm)}; ${fitsPaper ? `fits on ${fitsPaper}` : 'larger than the named papers: use the print sheets'}`,
    ],
    ['Face', `${FACE_UP}; ${CORNER_CLIPPED}`],
    ['Held margin', heldWords(sheet)],
    ['Openings', `${first} in the first cut; ${second} in the second cut, after the proof`],
  ];
}

function dotMeasures(pages: GuidePages, sheet: Sheet): void {
  pages.heading('Dot measures, centre to centre', 5 * LINE_MM);
  pages.table(
    [
      { head: 'measure', share: 0.16 },
      { head: 'from – to', share: 0.22 },
      { head: 'mm', share: 0.18 },
      { head: 'inches, to 1/32', share: 0.2 },
      { head: 'the inches are', share: 0.24 },
    ],
    groupMeasures(sheet.measures).map(({ first, between }) => [
      measureName(first),
      between,
      measureMm(first),
      `${first.inches} in`,
      inchErrorWords(first),
    ]),
  );
  pages.space(1);
  pages.paragraph({
    text: 'Take all of them: equal diagonals and one equal pair of sides do not make a rectangle. Measure the sheet as it will be used; treated paper is soaked first and moves as it does.',
  });
}
