import type { JobResult } from '@okuri/core';
import { type TakenGroup, takenAtAfter, type UnitSize, writtenTakenAt } from '@okuri/core/inside';
import { withKey } from './job-file.js';
import type { Loaded } from './load.js';

/** A new value of a group of the job file, and the size of the unit that it is of: the present one where none is given. */
export interface GroupChange {
  readonly value: object | string;
  readonly of?: UnitSize;
}

/**
 * The job file's text with new values of some groups, and with the sizes at which all of them were taken. Without `result` (nobody looked at the drawing) the
 * values are of the size that the file gives the group.
 */
export function withPlaces(
  { job, jobText }: Pick<Loaded, 'job'> & { readonly jobText: string },
  result: Pick<JobResult, 'lattice' | 'strandedTies'> | null,
  changes: Readonly<Partial<Record<TakenGroup, GroupChange>>>,
): string {
  const entries = Object.entries(changes) as [TakenGroup, GroupChange][];
  let text = jobText;
  for (const [group, { value }] of entries) text = withKey(text, group, value);
  const sizes = Object.fromEntries(
    entries.map(([group, { value, of }]) => [
      group,
      Object.keys(value).length === 0 ? null : (of ?? result?.lattice ?? job.takenAt[group]),
    ]),
  );
  const takenAt =
    result === null
      ? { ...job.takenAt, ...sizes }
      : takenAtAfter({ job, now: result.lattice, tiesStand: result.strandedTies.length === 0 }, sizes);
  const written = writtenTakenAt(takenAt) ?? {};
  if (JSON.stringify(written) === JSON.stringify(writtenTakenAt(job.takenAt) ?? {})) return text;
  return withKey(text, 'takenAt', written);
}
