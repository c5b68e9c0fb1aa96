import type { Plan } from '../cloth/plan-types.js';
import type { UnitSize } from '../job-file/taken-at.js';
import type { Job, StrandedTie } from '../job-file/types.js';
import type { Join } from '../joins/types.js';
import type { Finding } from '../motif/finding.js';
import type { Ink, Motif } from '../motif/types.js';
import type { Cell } from '../repeat/cell.js';
import type { Lattice, Opening } from '../repeat/types.js';
import type { JudgedSheet, KeptNumber, Sheet } from '../stencil/types.js';
import type { PaperReport, SheetOutline } from '../strength/types.js';
import type { StandingTie } from '../ties/tie-shape.js';

/** Everything the engine knows of a job: what the report, the drawings and the JSON document are made from. */
export interface JobResult {
  /** Its ties and numbers are at the size that the unit has now. */
  readonly job: Job;
  /** The artwork at the size of the unit that is cut. */
  readonly motif: Motif;
  readonly lattice: Lattice;
  readonly openings: readonly Opening[];
  readonly joins: readonly Join[];
  /** One sheet an ink in the order of `inks`, or two where sheets are double: A, then B. */
  readonly sheets: readonly Sheet[];
  /** What the paper of each sheet bears. */
  readonly strength: readonly PaperReport[];
  /** For each sheet all that is cut out of it in the end, as planned (also after a proof), sheet mm; openings by number. */
  readonly cutOut: readonly (readonly SheetOutline[])[];
  /** For each sheet the strips of paper that its ties are, unit mm: each stands in every unit of the sheet. */
  readonly strips: readonly (readonly StandingTie[])[];
  /** What to store of the openings' numbers, by ink (by ink and `B` for the second of two sheets), so that they keep them in the next run. */
  readonly kept: Readonly<Record<Ink, readonly KeptNumber[]>>;
  /** The cut inks laid on the repeat: what the cloth's picture is made from. */
  readonly cell: Cell;
  /** Ties that can't come to stand, and are left out. */
  readonly strandedTies: readonly StrandedTie[];
  /** The size of the unit at which the job's ties were taken; null where that is its present one. */
  readonly tiesFrom: UnitSize | null;
  /** How the run is printed along the cloth. Reading it throws an `InputError` for a cloth that leaves nothing to print, or too many placements. */
  readonly plan: Plan;
  /** What there is to say of the drawing and its repeat. */
  readonly clothFindings: readonly Finding[];
  /** That, and what there is to say of the sheets but for their paper. */
  readonly sheetFindings: readonly Finding[];
  readonly findings: readonly Finding[];
  /** What is cut and how it prints, in whole sentences; every output carries them. */
  readonly statements: readonly string[];
  /** The inks that are cut. */
  readonly inks: readonly Ink[];
}

/** The sheets with what their paper bears. */
export function judgedSheets({ sheets, strength }: Pick<JobResult, 'sheets' | 'strength'>): JudgedSheet[] {
  return sheets.map((sheet, k) => ({ ...sheet, paper: strength[k] }));
}

/** What the reports are made from: everything but the laid artwork itself. */
export type CheckedJob = Pick<
  JobResult,
  | 'job'
  | 'motif'
  | 'lattice'
  | 'openings'
  | 'joins'
  | 'sheets'
  | 'strength'
  | 'kept'
  | 'findings'
  | 'statements'
  | 'inks'
>;

/** Called as the work goes on: the stage in words, and the share of the whole that is done (0 to 1). */
export type Progress = (stage: string, share: number) => void;
