import type { Drawing, FontMetrics } from '../draw/types.js';
import { proofFormDrawing } from '../papers/proof/form.js';
import { proofMapDrawing as sheetProofMapDrawing } from '../papers/proof/map.js';
import { proofDrawing as sheetProofDrawing } from '../papers/proof/overlay.js';
import { secondCutStrips } from '../papers/proof/second-cut-strips.js';
import type { ProofReport } from '../proof/types.js';
import type { Sheet } from '../stencil/types.js';
import { InputError } from '../units/input-error.js';
import { findPaper } from '../units/paper-sizes.js';
import { guidePaper } from './drawings.js';
import { offsetsOf } from './proof-offsets.js';
import type { JobResult } from './result.js';

export interface SecondCutStripOptions {
  /** Reports of scanned proofs, for each of the job's sheets, whose prints are shown beyond the seam; null where there was no scan. */
  readonly reports?: readonly (Pick<ProofReport, 'printed'> | null)[];
}

/**
 * The strips to lay under the held margin, one drawing a sheet, on the job's printer paper: of what its proofs say, or of the plan where they say nothing. Throws an
 * `InputError` where the paper leaves no room.
 */
export function secondCutStripDrawings(
  result: Pick<JobResult, 'job' | 'lattice' | 'sheets'>,
  font: FontMetrics,
  { reports }: SecondCutStripOptions = {},
): Drawing[] {
  const { job, lattice, sheets } = result;
  const paper = findPaper(job.pages.paper);
  return sheets.map((sheet, k) => {
    const printed = reports?.[k]?.printed;
    const known = { ends: sheet.ends, offsets: offsetsOf(result, sheet), ...(printed && { printed }) };
    return secondCutStrips(sheet, { job, lattice, ...known, font, paper }).drawing;
  });
}

/** The proof map: the few placements that show every join. Sheets of one job share their dots, so that one map serves all; it names the joins of the first. */
export function proofMapDrawing(
  { job, lattice, sheets }: Pick<JobResult, 'job' | 'lattice' | 'sheets'>,
  font: FontMetrics,
): Drawing {
  const [sheet] = sheets;
  if (sheet === undefined) throw new InputError('There is no sheet to prove: the job has no ink to cut.');
  const { title, revision, date, pages } = job;
  const paper = guidePaper(pages.paper);
  return sheetProofMapDrawing(sheet, { title, revision, date, font, paper, lattice, ends: sheet.ends });
}

/** The form to write down by hand what a proof shows at the joins, one drawing a sheet. */
export function proofFormDrawings({ job, sheets }: Pick<JobResult, 'job' | 'sheets'>, font: FontMetrics): Drawing[] {
  const { title, revision, date, pages } = job;
  const paper = guidePaper(pages.paper);
  return sheets.map((sheet) => proofFormDrawing(sheet, { title, revision, date, font, paper, ends: sheet.ends }));
}

/** What a proof of one of the job's sheets tells: the print over the plan, tables, and the edges that lie farthest off. */
export function proofDrawing(
  { job }: Pick<JobResult, 'job'>,
  { sheet, report }: { readonly sheet: Sheet; readonly report: ProofReport },
  font: FontMetrics,
): Drawing {
  const { title, revision, date, pages } = job;
  const paper = guidePaper(pages.paper);
  return sheetProofDrawing(report, sheet, { title, revision, date, font, paper, ends: sheet.ends });
}
