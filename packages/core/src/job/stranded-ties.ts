import { sizeText } from '../job-file/taken-at.js';
import type { StrandedTie } from '../job-file/types.js';
import { formatMm } from '../units/format.js';
import { InputError } from '../units/input-error.js';
import { said } from '../units/voice.js';
import type { JobResult } from './result.js';
import { tieIdsText } from './tie-ids.js';

/**
 * Throws an `InputError` where ties were left out of a job's sheets that can't be passed over: those that a change of the unit's size left without their two banks, and
 * any that are wider than the paper on which they land. A tie without banks at the size at which it was taken is a finding alone (`tie-astray`): the drawing
 * was changed under it, and what holds the paper now is suggested anew.
 */
export function refuseStrandedTies({
  job,
  inks,
  lattice,
  tiesFrom,
  strandedTies,
}: Pick<JobResult, 'job' | 'inks' | 'lattice' | 'tiesFrom' | 'strandedTies'>): void {
  if (tiesFrom !== null && strandedTies.length > 0) {
    const many = strandedTies.length > 1;
    const { names, drop } = named(strandedTies, inks);
    const take = { command: ` with okuri ties JOB --drop ${drop}`, window: '', print: '' };
    throw new InputError(
      said(
        (voice) =>
          `${many ? 'Ties' : 'Tie'} ${names} ${many ? 'find' : 'finds'} no two banks of paper now that the unit is ${sizeText(lattice)}, not ${sizeText(tiesFrom)} as when ${many ? 'they were' : 'it was'} set: take ${many ? 'them' : 'it'} out${take[voice]}, or give the unit its old size back.`,
      ),
    );
  }
  const broad = strandedTies.find(({ why }) => why === 'broad');
  if (broad === undefined) return;
  const { id, ink, atMm } = broad;
  const at = `(at ${formatMm(atMm.x)}, ${formatMm(atMm.y)}) is ${formatMm(job.paper.tie.widthMm)} wide, wider than the paper on which it lands`;
  throw new InputError(
    said((voice) =>
      voice === 'command'
        ? `Tie ${id} of "ties.${ink}" ${at}: make "paper.tieWidth" smaller, or take it out with okuri ties --drop ${id}.`
        : `Tie ${id} ${at}: make ties narrower, or take it out.`,
    ),
  );
}

/** The ties in words, with the number of their stencil where there are several; and what takes the first stencil's out. */
function named(ties: readonly StrandedTie[], inks: JobResult['inks']): { names: string; drop: string } {
  const groups = inks.flatMap((ink, k) => {
    const ids = tieIdsText(ties.filter((tie) => tie.ink === ink).map(({ id }) => id));
    return ids === '' ? [] : [{ ids, stencil: k + 1 }];
  });
  const several = inks.length > 1;
  const of = (stencil: number): string => (several ? ` of stencil ${stencil}` : '');
  const [first] = groups;
  return {
    names: groups.map(({ ids, stencil }) => `${ids}${of(stencil)}`).join(', and '),
    drop: `${first.ids.replaceAll(',', '')}${several ? ` --stencil ${first.stencil}` : ''}`,
  };
}
