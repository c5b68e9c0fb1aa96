import type { PresentJob } from '../job-file/job-slice.js';
import { doneOf } from '../job-file/practice.js';
import { cutOpenings, numberedSheet, numberSheet } from '../stencil/sheet.js';
import { numberedReport, sheetNecks, sheetPaper } from '../stencil/sheet-paper.js';
import { once } from './once.js';
import { registerOf, seatedDots } from './registration.js';
import type { Made, StageMemory } from './stage-memory.js';
import type { StageValues } from './stages.js';
import { layPattern, layStencils } from './stencils.js';

export type Ready<S extends keyof StageValues> = () => Made<StageValues[S]>;

/** The stages from the pattern to the strength of its sheets, each worked out when it is asked for. */
export type SheetStages = {
  readonly [S in 'pattern' | 'stencils' | 'cut' | 'necks' | 'numbers' | 'strength']: Ready<S>;
};

/**
 * The sheets of a job with its places at the present size of the unit. `shares` says how two sheets share an ink; `make` works a stage out.
 */
export function sheetStages(
  job: PresentJob,
  { laid, margins, shares }: { laid: Ready<'laid'>; margins: Ready<'margins'>; shares: Ready<'shares'> },
  make: StageMemory['make'],
): SheetStages {
  const pattern = once(() => make('pattern', job, { laid: laid() }, (own, { laid }) => layPattern(laid.cell, own)));
  const stencils = once(() =>
    make(
      'stencils',
      job,
      { laid: laid(), margins: margins(), pattern: pattern(), shares: shares() },
      (own, { laid, margins, pattern, shares }) => {
        const { widthMm, heightMm } = laid.lattice;
        const { lapMm } = margins;
        const reach = { x0: -lapMm, y0: -lapMm, x1: own.across * widthMm, y1: own.down * heightMm };
        return layStencils(pattern, { job: own, reach, shares });
      },
    ),
  );
  const cut = once(() =>
    make('cut', job, { margins: margins(), stencils: stencils() }, (own, { margins, stencils }) =>
      stencils.map(({ cell, inkIndex, openings, ties, released, leftOut }) =>
        cutOpenings(cell, inkIndex, openings, {
          across: own.across,
          down: own.down,
          ...own.sheet,
          lapMm: margins.lapMm,
          hold: own.hold,
          punchesMm: own.punchesMm,
          sideJoinMeetsNothing: margins.oneWide,
          ties,
          released,
          leftOut,
        }),
      ),
    ),
  );
  const necks = once(() =>
    make('necks', job, { cut: cut() }, ({ paper }, { cut }) =>
      cut.map((sheet) => sheetNecks(sheet.paper, paper.rules.neckMm)),
    ),
  );
  const numbers = once(() =>
    make(
      'numbers',
      job,
      { stencils: stencils(), cut: cut(), necks: necks() },
      ({ numbers, otherNumbers, practice }, { stencils, cut, necks }) =>
        cut.map((sheet, k) =>
          numberSheet(sheet, {
            necks: necks[k],
            hand: practice.hand,
            numbers: [numbers, ...otherNumbers].map((reading) => reading[stencils[k].key] ?? []),
          }),
        ),
    ),
  );
  const strength = once(() =>
    make(
      'strength',
      job,
      { cut: cut(), necks: necks(), numbers: numbers() },
      ({ paper, pace }, { cut, necks, numbers }) =>
        cut.map((sheet, k) =>
          numberedReport(sheetPaper(sheet.paper, { necks: necks[k], rules: paper.rules, pace }), numbers[k].numbers),
        ),
    ),
  );
  return { pattern, stencils, cut, necks, numbers, strength };
}

/** The sheets as they are planned, with dots and done marks. */
export function plannedSheets(
  { laid, margins, stepping }: { [S in 'laid' | 'margins' | 'stepping']: Ready<S> },
  job: PresentJob,
  { stencils, cut, numbers }: SheetStages,
  make: StageMemory['make'],
): Made<StageValues['sheets']> {
  const dots = make('dots', job, { laid: laid(), margins: margins(), cut: cut() }, (own, { laid, margins, cut }) =>
    seatedDots(cut, own, { lattice: laid.lattice, oneWide: margins.oneWide }),
  );
  return make(
    'sheets',
    job,
    { stencils: stencils(), cut: cut(), numbers: numbers(), dots, stepping: stepping() },
    (own, { stencils, cut, numbers, dots, stepping }) => {
      const keys = stencils.map(({ key }) => key);
      return cut.map((sheet, k) =>
        numberedSheet(sheet, numbers[k], {
          index: k + 1,
          count: cut.length,
          part: stencils[k].part,
          practice: own.practice,
          done: doneOf(own, keys[k], keys),
          ...registerOf(sheet, own, { seated: dots, stepping }),
        }),
      );
    },
  );
}
