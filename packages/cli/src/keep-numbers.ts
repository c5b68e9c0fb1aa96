import { InputError, type JobOverride, type JobResult, keptNumbers } from '@okuri/core';
import { replaceJob, withKey } from './job-file.js';
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
 * Writes the openings' numbers into the job file, so that they stay with their shapes in the next run; a file that has them already is not touched.
 * Returns a line for the person, or null where there is nothing to say. What keeps it from being written is said, and is no failure: all
 * that was asked for is made.
 */
export function keepNumbers(
  loaded: Loaded,
  { kept }: Pick<JobResult, 'kept'>,
  overrides: readonly JobOverride[],
): string | null {
  if (loaded.jobText === null) return null;
  const strange = overrides.find(({ path }) => !HARMLESS.includes(path[0]));
  if (strange !== undefined)
    return `numbers not kept in the job: ${strange.name} makes another sheet than the job file`;
  // Numbers of inks that are not cut this time stay.
  const numbers = { ...loaded.job.numbers, ...kept };
  const [now, before] = [keptNumbers(numbers), keptNumbers(loaded.job.numbers)];
  if (JSON.stringify(now) === JSON.stringify(before)) return null;
  try {
    replaceJob(loaded.named, { was: loaded.jobText, text: withKey(loaded.jobText, 'numbers', now) });
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return `numbers not kept in the job: ${error.message}`;
  }
  return `kept the numbers in ${loaded.named}`;
}
