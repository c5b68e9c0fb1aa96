import { tableLength } from '../cloth/yardage.js';
import { registerFindings } from '../findings/registration.js';
import type { Job } from '../job-file/types.js';
import type { Finding } from '../motif/finding.js';
import { dotFrame, type NextSheets, sheetRepeat } from '../register/dots.js';
import type { StepRun } from '../register/limits.js';
import { sheetMovement } from '../register/movement.js';
import type { SheetMovement, SquareTargets } from '../register/types.js';
import { makeLattice } from '../repeat/lattice.js';
import type { Lattice } from '../repeat/types.js';
import { sheetMeasures } from '../stencil/measures.js';
import { type SeatedDots, seatDots } from '../stencil/seat-dots.js';
import type { SheetCut } from '../stencil/sheet.js';
import type { CutSheet } from '../stencil/types.js';

type RegisterJob = Pick<Job, 'punch' | 'movement' | 'practice' | 'sheet' | 'paper' | 'cloth' | 'joins' | 'plan'>;

/** What tells how wide the cloth is between its selvedges. */
type ClothWidth = Pick<
  Job['cloth'],
  'widthMm' | 'sizes' | 'shrinkAcrossPercent' | 'selvedgeLeftMm' | 'selvedgeRightMm' | 'direction'
>;

interface SteppedJob {
  readonly joins: Pick<Job['joins'], 'gapMaxMm'>;
  readonly plan: Pick<Job['plan'], 'checkEvery'>;
  readonly cloth: ClothWidth & Pick<Job['cloth'], 'lengthMm'>;
}

/** Movements along and across the grain that differ by less need no grain, per cent: rounding. */
const SAME_PERCENT = 1e-9;

/** Widths that differ by less are one, mm: rounding. */
const SAME_MM = 1e-6;

/** Whether one column of sheets covers all that is printed of the cloth's width, so that nothing ever meets their right sides. */
export function oneColumn(cloth: ClothWidth, fieldWidthMm: number): boolean {
  // On a cloth along which sheets lie turned their right sides face its end.
  if (cloth.direction === 'across') return false;
  return printedWidth(cloth) <= fieldWidthMm + SAME_MM;
}

/** The cloth's width between its selvedges, on the table. */
export function printedWidth(cloth: ClothWidth): number {
  return tableWidth(cloth) - cloth.selvedgeLeftMm - cloth.selvedgeRightMm;
}

/** The cloth's width on the table, before it shrinks. */
function tableWidth({ widthMm, sizes, shrinkAcrossPercent }: ClothWidth): number {
  return sizes === 'finished' ? tableLength(widthMm, shrinkAcrossPercent ?? 0) : widthMm;
}

/** The dots of the sheets of a job, where it wants them; those on the corners stand on the sheets already. */
export function seatedDots(
  cuts: readonly SheetCut[],
  { sheet, paper }: Pick<Job, 'sheet'> & { readonly paper: Pick<Job['paper'], 'tie'> },
  { lattice, oneWide }: { readonly lattice: Lattice; readonly oneWide: boolean },
): SeatedDots | null {
  const [first] = cuts;
  if (first === undefined || !sheet.seat) return null;
  const sides: NextSheets = { right: !oneWide, bottom: true };
  const lying = makeLattice(
    sheetRepeat(lattice.repeat, first.across, first.down),
    first.across * lattice.widthMm,
    first.down * lattice.heightMm,
  );
  return seatDots(cuts, {
    lattice: lying,
    sides,
    tieWidthMm: paper.tie.widthMm,
    diameterMm: sheet.dotMm,
    sightMm: sheet.sightDotMm,
  });
}

/** The dots and measures of a sheet and how they are made. `stepping` as `steppingOf` gives it. */
export function registerOf(
  cut: SheetCut,
  job: Pick<Job, 'punch' | 'movement'> & { readonly practice: Pick<Job['practice'], 'soak' | 'grain'> },
  { seated, stepping }: { readonly seated: SeatedDots | null; readonly stepping: StepRun },
): Pick<CutSheet, 'dots' | 'measures' | 'register'> {
  const dots = seated === null ? cut.dots : seated.dots;
  return {
    dots,
    measures: sheetMeasures(dots, seated === null ? cut.field : dotFrame(dots)),
    register: {
      punch: job.punch,
      movement: movementOf(job),
      stepping,
      seat: seated === null ? 'corners' : seated.seat,
      dry: false,
    },
  };
}

/** How a job's sheet is stepped: from check mark to check mark, or to the end of a cloth that ends sooner. */
export function steppingOf({ joins, plan, cloth }: SteppedJob, { widthMm, heightMm }: SquareTargets): StepRun {
  const alongMm = cloth.direction === 'along' ? heightMm : widthMm;
  const prints = Math.min(plan.checkEvery, Math.max(1, Math.ceil(cloth.lengthMm / alongMm)));
  return { toleranceMm: joins.gapMaxMm, prints: oneColumn(cloth, widthMm) ? 1 : prints };
}

/**
 * How the sheet's width and height move when it is soaked; null where it is not soaked, the movement was not measured, or it differs along and
 * across a grain that is not known.
 */
export function movementOf({
  movement,
  practice,
}: Pick<Job, 'movement'> & { readonly practice: Pick<Job['practice'], 'soak' | 'grain'> }): SheetMovement | null {
  if (!practice.soak || movement === null) return null;
  const { alongPercent, acrossPercent } = movement;
  if (practice.grain !== null) return sheetMovement(movement, practice.grain);
  if (Math.abs(alongPercent - acrossPercent) > SAME_PERCENT) return null;
  return { widthPercent: alongPercent, heightPercent: acrossPercent };
}

/** What has to be said of paper that moves and of where the dots went. */
export function registrationFindings(job: RegisterJob, [sheet]: readonly CutSheet[]): Finding[] {
  if (sheet === undefined) return [];
  return registerFindings({ job, sheet, movement: movementOf(job), clothMm: tableWidth(job.cloth) });
}
