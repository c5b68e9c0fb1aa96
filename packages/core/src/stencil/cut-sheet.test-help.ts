import { STEP_RUN } from '../register/limits.js';
import type { Cell } from '../repeat/cell.js';
import { findOpenings } from '../repeat/openings.js';
import type { Pace, PaperRules } from '../strength/types.js';
import { sheetMeasures } from './measures.js';
import { type CutOptions, cutOpenings, numberedSheet, numberSheet, type SheetFacts, wholeOutlines } from './sheet.js';
import { numberedReport, sheetNecks, sheetPaper } from './sheet-paper.js';
import { USUAL_PUNCHES_MM } from './tools.js';
import type { CutSheet, JudgedSheet, KeptNumber } from './types.js';

/** All that a sheet is cut by. */
export interface SheetOptions extends CutOptions, Pick<SheetFacts, 'practice' | 'part' | 'index' | 'count' | 'done'> {
  /** Numbers that openings keep from an earlier run, in one reading or several. */
  readonly numbers: readonly (readonly KeptNumber[])[];
  readonly rules: PaperRules;
  readonly pace: Pace;
}

export const SHEET_OPTIONS: SheetOptions = {
  across: 1,
  down: 1,
  borderMm: 40,
  trailingMm: 25,
  dotMm: 1,
  sightDotMm: 1,
  lapMm: 0.4,
  hold: { mode: 'band', widthMm: 25 },
  practice: { hand: 'right', transfer: 'cut-through', grain: null, gauze: true, soak: true },
  punchesMm: USUAL_PUNCHES_MM,
  numbers: [],
  done: [],
  sideJoinMeetsNothing: false,
  rules: { neckMm: 1, slitMm: 0.8, spanMm: 120, tongueRatio: 6, stroke: 'down', turnMm: 1.5 },
  pace: { mmPerMinute: 150, secondsPerCorner: 3, bladeMm: 1500 },
  ties: [],
  released: null,
  leftOut: [],
  part: null,
  index: 1,
  count: 1,
};

/** The sheet of the first ink of a cell, by the stages by which a job has it cut. */
export function cutSheet(cell: Cell, own: Partial<SheetOptions> = {}) {
  const options = { ...SHEET_OPTIONS, ...own };
  const cut = cutOpenings(cell, 0, findOpenings(cell), options);
  const necks = sheetNecks(cut.paper, options.rules.neckMm);
  const numbering = numberSheet(cut, { necks, hand: options.practice.hand, numbers: options.numbers });
  const { practice, part, index, count, done } = options;
  const planned: CutSheet = numberedSheet(cut, numbering, {
    ...{ practice, part, index, count, done },
    dots: cut.dots,
    measures: sheetMeasures(cut.dots, cut.field),
    register: { punch: 'dry', movement: null, stepping: STEP_RUN, seat: 'corners', dry: false },
  });
  const paper = numberedReport(sheetPaper(cut.paper, { ...options, necks }), numbering.numbers);
  const sheet: JudgedSheet = {
    ...planned,
    ends: { joins: [], firstCutEnds: [] },
    secondCutFrom: 'plan',
    paper,
  };
  return { sheet, planned, kept: numbering.kept, outlines: wholeOutlines(cut, numbering) };
}
