import { type GuidePages, LINE_MM } from '../../draw/layout.js';
import { groupMeasures, inchErrorWords, measureMm, measureName } from '../../draw/measure-words.js';
import { missingCharacters } from '../../draw/text.js';
import type { Finding } from '../../motif/finding.js';
import type { Lattice } from '../../repeat/types.js';
import { punchMeasures } from '../../stencil/dry-sheet.js';
import { fittingPaper } from '../../stencil/named-paper.js';
import { PUNCH_WITHIN_MM } from '../../stencil/tools.js';
import type { JudgedSheet, Sheet } from '../../stencil/types.js';
import { formatMm, INCH_PARTS } from '../../units/format.js';
import type { Paper } from '../../units/paper-sizes.js';
import { counted } from '../../units/words.js';
import { measuredOn } from '../sheet/movement-words.js';
import { cutAwayWords, partWords, sheetName, workWords } from '../sheet/paper-words.js';
import { CORNER_CLIPPED, FACE_UP } from '../sheet/sheet-words.js';
import {
  AFTER_A_SLIP,
  callTheDyer,
  cautions,
  cuttingRules,
  heldWords,
  repeatWords,
  sizeWords,
  stopWords,
  workSteps,
} from '../sheet/words.js';
import { LEADINGS_MM, textBlocks } from './blocks.js';
import { findingsOf } from './joins.js';
import {
  cutLengthWords,
  grainWords,
  handWords,
  mirrorWords,
  piecesWords,
  punchWords,
  transferWords,
} from './practice-words.js';
import { smallSheet } from './small-sheet.js';
import { workStrip } from './strip.js';

/** What the head of a guide says about the job. */
export interface GuideHead {
  readonly title: string;
  readonly revision: string;
  /** `YYYY-MM-DD`. */
  readonly date: string;
  /** What is cut and how it is printed, in sentences. */
  readonly statements: readonly string[];
  readonly lattice: Lattice;
  /** Left out of the head where it is not given. */
  readonly method?: 'resist' | 'direct';
  /** The print sheets are mirrored; by default they are not. */
  readonly transferMirrored?: boolean;
  /** The guide's own paper, upright: A4 or Letter as a rule. */
  readonly paper: Paper;
}

/** Width of the little picture beside the facts, and between the two, mm. */
const PICTURE_MM = 46;
const PICTURE_GAP_MM = 5;
/** Lines of a page that has much to say may stand this close, mm: still an eighth more than letters are high. */
const CLOSER_MM = [3.8, 3.7];
/** Narrower pages have the facts alone. */
const PICTURE_FROM_MM = 150;

/** Page one of a sheet's guide: all that has to be known before the first cut. */
export function frontPage(pages: GuidePages, head: GuideHead, sheet: JudgedSheet, findings: readonly Finding[]): void {
  const { title, revision, date, statements, method } = head;
  pages.title(title);
  const parts = [sheetName(sheet), `revision ${revision}`, date, `ink ${sheet.ink}`];
  pages.paragraph({ text: ['Cut guide', ...parts, ...(method ? [method] : [])].join(' · '), bold: true });
  if (statements.length > 0) pages.paragraph({ text: statements.join(' ') });
  const lacking = lackingWords(head, pages);
  if (lacking) pages.paragraph({ text: lacking });
  pages.space(1);
  pages.notice([stopWords(sheet), partWords(sheet)].filter((text) => text !== null).join(' '));
  const open = findingsOf(sheet, findings).filter((f) => f.severity === 'stop' || f.severity === 'fix').length;
  if (open > 0) {
    const things = counted(open, 'thing');
    pages.notice(`Not ready to cut: ${things} to settle first, named after the overview.`);
  }
  pages.space(1.5);
  facts(pages, head, sheet);
  pages.heading('Working order');
  workStrip(pages, workSteps(sheet));
  const cut = { heading: 'How to cut', texts: cuttingRules(sheet), mark: 'number' } as const;
  const slip = { heading: 'After a slip', texts: AFTER_A_SLIP, mark: 'bullet' } as const;
  const stop = { heading: 'Stop and call the dyer when', texts: callTheDyer(sheet), mark: 'bullet' } as const;
  const care = { heading: 'Take care', texts: cautions(sheet), mark: 'bullet' } as const;
  // All has to be on page one: columns more even, lines closer.
  textBlocks(pages, [cut, stop, slip, care], { leadingsMm: [...LEADINGS_MM, ...CLOSER_MM] });
}

function facts(pages: GuidePages, head: GuideHead, sheet: JudgedSheet): void {
  const beside = pages.width >= PICTURE_FROM_MM;
  const top = pages.y;
  pages.facts(sheetFacts(head, sheet), {
    labelMm: 25,
    lessMm: beside ? PICTURE_MM + PICTURE_GAP_MM : 0,
  });
  if (!beside || pages.y < top) return;
  const height = Math.max(40, pages.y - top);
  pages.add(
    ...smallSheet(sheet, { x0: pages.right - PICTURE_MM, y0: top, x1: pages.right, y1: top + height }, pages.font),
  );
  pages.y = Math.max(pages.y, top + 40);
}

function sheetFacts(head: GuideHead, sheet: JudgedSheet): (readonly [label: string, value: string])[] {
  const { lattice } = head;
  const { across, down, widthMm, heightMm, practice, paper } = sheet;
  const fits = fittingPaper(widthMm, heightMm, head.paper);
  const mirrored = head.transferMirrored ?? false;
  const punched = punchWords(sheet);
  const units = across * down === 1 ? '' : `; ${across} × ${down} units (across × down) on this sheet`;
  return [
    ['Face', `${FACE_UP} towards you; ${CORNER_CLIPPED}`],
    ['Knife hand', handWords(practice)],
    ['Transfer', transferWords(practice, { mirrored })],
    ['Print sheets', mirrorWords({ mirrored })],
    ['Grain', grainWords(practice)],
    ['Paper', `${sizeWords(widthMm, heightMm)}; ${fits === null ? 'larger than the named papers' : `fits on ${fits}`}`],
    ['Unit', `${sizeWords(lattice.widthMm, lattice.heightMm)}, ${repeatWords(lattice)}${units}`],
    ['Held margin', heldWords(sheet)],
    [
      'Pieces',
      `${piecesWords(sheet)}${punched ? `; punched, at most ${formatMm(PUNCH_WITHIN_MM)} off what is drawn: ${punched}` : ''}`,
    ],
    ['Length of cut', `${cutLengthWords(sheet)}, ${workWords(paper.work, paper.pace)}`],
    ['Cut away', cutAwayWords(paper.cutAway, sheet)],
  ];
}

/** What to say where the head has characters that the font lacks; null where it has none. */
function lackingWords({ title, revision, statements }: GuideHead, pages: GuidePages): string | null {
  const all = [title, revision, ...statements].join(' ');
  const missing = new Set(missingCharacters(all, pages.font));
  if (missing.size === 0) return null;
  const count = [...all].filter((c) => missing.has(c)).length;
  return count === 1
    ? 'One character of the job’s words is not in this font and stands as a sign for it: ask for it.'
    : `${count} characters of the job’s words are not in this font and stand as signs for them: ask for them.`;
}

/** Height of the table of the dots' distances with its heading, mm. */
export function dotMeasuresHeight(sheet: Sheet): number {
  const rows = groupMeasures(punchMeasures(sheet)).length;
  return rows === 0 ? 0 : 13 + (rows + 1) * (LINE_MM + 0.8) + 1 + 2 * LINE_MM + 2;
}

/** The table of the dots' distances, to check the sheet by. */
export function dotMeasures(pages: GuidePages, sheet: Sheet): void {
  if (sheet.measures.length === 0) return;
  const measures = punchMeasures(sheet);
  const on = measuredOn(sheet, measures !== sheet.measures);
  pages.heading(`Dot measures, centre to centre${on ? `, ${on}` : ''}`, 5 * LINE_MM);
  pages.table(
    [
      { head: 'measure', share: 0.16 },
      { head: 'from – to', share: 0.22 },
      { head: 'mm', share: 0.18 },
      { head: `inches, to 1/${INCH_PARTS}`, share: 0.2 },
      { head: 'the inches are', share: 0.24 },
    ],
    groupMeasures(measures).map(({ first, between }) => [
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
