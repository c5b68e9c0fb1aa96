import { stencilKey } from '../job-file/practice.js';
import { endNamed, underOwnNames } from '../proof/end-names.js';
import { PLACE_TOLERANCE_MM } from '../proof/second-cut.js';
import type { ProofOffset } from '../proof/types.js';
import type { Sheet } from '../stencil/types.js';
import { marksOfSheet } from './follow-size.js';
import type { JobResult } from './result.js';

/**
 * What the job keeps of a sheet's proof, as far as it belongs to this drawing: without offsets that were measured on another one or on a sheet of another size, and of edges that no proof shows
 * (`applyProof` tells of both).
 */
export function offsetsOf({ job: whole, lattice }: Pick<JobResult, 'job' | 'lattice'>, sheet: Sheet): ProofOffset[] {
  const job = marksOfSheet(whole, lattice);
  const { ends } = sheet;
  const held = new Set(ends.joins.filter(({ leadCut }) => leadCut === 'second').map(({ name }) => name));
  const { x0, y0 } = sheet.field;
  return underOwnNames(ends, job.proof[stencilKey(sheet)] ?? []).filter(({ name, place }) => {
    const at = endNamed(ends, name)?.at;
    if (at === undefined || held.has(name)) return false;
    return place === null || Math.hypot(at.x - x0 - place.x, at.y - y0 - place.y) <= PLACE_TOLERANCE_MM;
  });
}
