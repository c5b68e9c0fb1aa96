import type { Job } from './types.js';

/** A job whose places are at the size that its unit has now (`followSize`). */
export interface PresentJob extends Job {
  /** Kept numbers in other readings of the change of size. */
  readonly otherNumbers: readonly Job['numbers'][];
}

type Top = keyof PresentJob & string;

/** A key of a job, or `key.part` of one that has parts. */
export type JobKey = Top | { [K in Top]: `${K}.${keyof PresentJob[K] & string}` }[Top];

type Head<P> = P extends `${infer K}.${string}` ? K : P;
type Tail<P, K extends string> = P extends `${K}.${infer R}` ? R : never;

/** The parts of a job under some keys and nothing else, so that a stage can't read what it does not declare. */
export type JobSlice<P extends JobKey> = {
  readonly [K in Top as K extends Head<P> ? K : never]: K extends P
    ? PresentJob[K]
    : Pick<PresentJob[K], Tail<P, K> & keyof PresentJob[K]>;
};

/** The slice of a job under `keys`. */
export function jobSlice<P extends JobKey>(job: PresentJob, keys: readonly P[]): JobSlice<P> {
  const slice: Record<string, unknown> = {};
  for (const key of keys) {
    const [top, part] = key.split('.') as [Top, string | undefined];
    if (part === undefined) slice[top] = job[top];
    else {
      const parts = (slice[top] ?? {}) as Record<string, unknown>;
      parts[part] = (job[top] as unknown as Record<string, unknown>)[part];
      slice[top] = parts;
    }
  }
  return slice as JobSlice<P>;
}
