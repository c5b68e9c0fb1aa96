import { InputError, type JobOverride, type JobResult } from '@okuri/core';
import { isSameSize, writtenNumbers } from '@okuri/core/inside';
import { replaceJob } from './job-file.js';
import { withPlaces } from './keep-places.js';
import type { Loaded } from './load.js';

/** Options that leave every opening as the job file has it. */
export const HARMLESS = [
  'title',
  'date',
  'revision',
  'pages',
  'cloth',
  'plan',
  'hand',
  'transfer',
  'grain',
  'gauze',
  'soak',
  'punch',
  'movement',
  'sheet',
];

/**
 * Writes the openings' numbers into the job file, so that they stay with their shapes in the next run, and the unit's size along with them; a file that has them already is not touched.
 * Returns a line for the person, or null where there is nothing to say. What keeps it from being written is said, and is no failure: all
 * that was asked for is made.
 */
export function keepNumbers(
  loaded: Loaded,
  result: Pick<JobResult, 'job' | 'kept' | 'lattice' | 'strandedTies'>,
  overrides: readonly JobOverride[],
): string | null {
  if (loaded.jobText === null) return null;
  const strange = overrides.find(({ path }) => !HARMLESS.includes(path[0]));
  if (strange !== undefined)
    return `numbers not kept in the job: ${strange.name} makes another sheet than the job file`;
  // Numbers of inks that are not cut this time stay.
  const { job, jobText } = loaded;
  const own = Object.entries(result.job.numbers).filter(([key]) => Object.hasOwn(job.numbers, key));
  const now = writtenNumbers({ ...Object.fromEntries(own), ...result.kept });
  const at = job.takenAt.numbers;
  const same =
    JSON.stringify(now) === JSON.stringify(writtenNumbers(job.numbers)) &&
    (at === null || isSameSize(at, result.lattice));
  try {
    const text = withPlaces({ job, jobText }, result, same ? {} : { numbers: { value: now } });
    if (text === jobText) return null;
    replaceJob(loaded.named, { was: jobText, text });
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return `numbers not kept in the job: ${error.message}`;
  }
  return `kept the numbers in ${loaded.named}`;
}
