import { JOB_KEYS, type JobKeyName } from '@okuri/core';

/** The bounds that the job sets for one of its numbers, for a field. */
export function jobBounds(name: JobKeyName): {
  readonly least: number;
  readonly most: number;
  readonly whole: boolean;
} {
  const { bounds, kind } = JOB_KEYS[name].facts;
  return {
    least: bounds?.min ?? Number.NEGATIVE_INFINITY,
    most: bounds?.max ?? Number.POSITIVE_INFINITY,
    whole: kind === 'whole',
  };
}
