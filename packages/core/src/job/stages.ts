import type { Plan } from '../cloth/plan-types.js';
import type { JobKey, JobSlice } from '../job-file/job-slice.js';
import type { Join } from '../joins/types.js';
import type { Finding } from '../motif/finding.js';
import type { Motif } from '../motif/types.js';
import type { StepRun } from '../register/limits.js';
import type { LaidRepeat } from '../repeat/lay-repeat.js';
import type { Lattice } from '../repeat/types.js';
import type { SeatedDots } from '../stencil/seat-dots.js';
import type { SheetCut, SheetNumbers } from '../stencil/sheet.js';
import type { CutSheet, Sheet } from '../stencil/types.js';
import type { NarrowPlace, PaperReport } from '../strength/types.js';
import type { DoublePlan } from './double-plan.js';
import type { FollowedJob } from './follow-size.js';
import type { Pattern, Stencil } from './stencils.js';

/** The artwork at its size, on its repeat. */
export interface Laid extends LaidRepeat {
  readonly motif: Motif;
  readonly lattice: Lattice;
}

/** How the sheets lie on the cloth, as far as cutting them hangs on it. */
export interface Margins {
  readonly lapMm: number;
  /** One column of sheets covers the cloth. */
  readonly oneWide: boolean;
}

/** What each stage gives. */
export interface StageValues {
  readonly motif: Motif;
  readonly laid: Laid;
  readonly followed: FollowedJob<JobSlice<'ties' | 'numbers' | 'takenAt' | 'paper.tie'>>;
  readonly margins: Margins;
  readonly stepping: StepRun;
  readonly pattern: Pattern;
  readonly shares: DoublePlan | null;
  readonly stencils: readonly Stencil[];
  readonly joins: { readonly joins: readonly Join[]; readonly findings: readonly Finding[] };
  readonly cut: readonly SheetCut[];
  readonly necks: readonly (readonly NarrowPlace[])[];
  readonly numbers: readonly SheetNumbers[];
  readonly dots: SeatedDots | null;
  readonly sheets: readonly CutSheet[];
  readonly proof: { readonly sheets: readonly Sheet[]; readonly findings: readonly Finding[] };
  readonly strength: readonly PaperReport[];
  readonly plan: Plan;
}

export type StageName = keyof typeof STAGES;

interface StageSpec {
  /** What it reads of the job; all else does not compile. */
  readonly reads: readonly JobKey[];
  /** The stages whose values it takes. */
  readonly from: readonly (keyof StageValues)[];
  /** Its value is small, and stages after it hang on that alone: not on what it was made from. */
  readonly byValue?: true;
}

const CLOTH_WIDTH = [
  'cloth.widthMm',
  'cloth.sizes',
  'cloth.shrinkAcrossPercent',
  'cloth.selvedgeLeftMm',
  'cloth.selvedgeRightMm',
  'cloth.direction',
] as const;

/** The stages of a job in the order of the work: what each hangs on. Titles, dates, colours of the cloth and the printer's paper belong to the drawings alone. */
export const STAGES = {
  laid: {
    reads: ['size', 'repeat', 'spill', 'drawn', 'method', 'paperColour', 'cut', 'joins.reachMm'],
    from: ['motif'],
  },
  followed: { reads: ['ties', 'numbers', 'takenAt', 'paper.tie'], from: ['laid'] },
  margins: { reads: ['across', 'lapMm', ...CLOTH_WIDTH], from: ['laid'], byValue: true },
  stepping: {
    reads: ['across', 'down', 'joins.gapMaxMm', 'plan.checkEvery', 'cloth.lengthMm', ...CLOTH_WIDTH],
    from: ['laid'],
    byValue: true,
  },
  pattern: { reads: ['ties', 'double.on', 'paper.tie'], from: ['laid'] },
  joins: { reads: ['joins', 'across'], from: ['laid', 'margins', 'pattern'] },
  shares: {
    reads: ['ties', 'paper', 'practice.gauze', 'method'],
    from: ['laid', 'pattern', 'stencils', 'cut', 'numbers', 'necks'],
  },
  stencils: {
    reads: ['across', 'down', 'double', 'paper.tie', 'paper.rules'],
    from: ['laid', 'margins', 'pattern', 'shares'],
  },
  cut: {
    reads: [
      'across',
      'down',
      'hold',
      'punchesMm',
      'sheet.borderMm',
      'sheet.trailingMm',
      'sheet.dotMm',
      'sheet.sightDotMm',
    ],
    from: ['margins', 'stencils'],
  },
  necks: { reads: ['paper.rules'], from: ['cut'] },
  numbers: { reads: ['numbers', 'otherNumbers', 'practice.hand'], from: ['stencils', 'cut', 'necks'] },
  dots: { reads: ['sheet', 'paper.tie'], from: ['laid', 'margins', 'cut'] },
  sheets: {
    reads: ['done', 'practice', 'punch', 'movement'],
    from: ['stencils', 'cut', 'numbers', 'dots', 'stepping'],
  },
  proof: { reads: ['proof'], from: ['laid', 'sheets'] },
  strength: { reads: ['paper.rules', 'pace'], from: ['cut', 'necks', 'numbers'] },
  plan: {
    reads: ['plan', 'cloth.lengthMm', 'cloth.shrinkAlongPercent', 'cloth.startMm', 'cloth.endMm', ...CLOTH_WIDTH],
    from: ['laid', 'proof'],
  },
} as const satisfies Readonly<Record<string, StageSpec>>;

export type ReadBy<S extends StageName> = (typeof STAGES)[S]['reads'][number];
export type TakenBy<S extends StageName> = (typeof STAGES)[S]['from'][number];
