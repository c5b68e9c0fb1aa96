import type { z } from 'zod';
import type { Field, FieldFacts } from './field.js';
import type { FieldReader } from './field-reader.js';
import type { Job } from './types.js';

/** What a job holds at a place such as `joins.reachMm`. */
type ValueAt<T, P extends string> = P extends `${infer K}.${infer Rest}`
  ? K extends keyof T
    ? ValueAt<T[K], Rest>
    : never
  : P extends keyof T
    ? T[P]
    : never;

/** A key of the job file and where it stands in a job. */
export interface JobKey<W = unknown> {
  readonly facts: FieldFacts;
  readonly shape: z.ZodType<W, unknown>;
  /** Read after those that ask for no other key. */
  readonly late: boolean;
  /** What is typed on one line, as the file would hold it. */
  readonly typed: (text: string) => unknown;
  /** Reads what is written under `path` into a job that is not whole yet. */
  readonly read: (written: unknown, path: string, reader: FieldReader, job: Job) => void;
  /** What is written of a job; undefined where the key is left out. */
  readonly write: (job: Job) => unknown;
  /** What a job holds for it. */
  readonly heldIn: (job: Job) => unknown;
}

/** A field that stands at a place in the job. */
export function at<const P extends string, W>(place: P, field: Field<W, ValueAt<Job, P>>): JobKey<W> {
  const steps = place.split('.');
  const heldIn = (job: Job): unknown =>
    steps.reduce((value: unknown, step) => (value as Record<string, unknown>)[step], job);
  return {
    ...factsOf(field),
    // The shape was held against what is written before.
    read: (written, path, reader, job) => put(job, steps, field.read(written as W, path, reader, job)),
    write: (job) => field.write(heldIn(job) as ValueAt<Job, P>, job),
    heldIn,
  };
}

/** A field that makes several values of one group of the job. */
export function within<W, V extends object>(group: keyof Job, field: Field<W, V>): JobKey<W> {
  const write = (job: Job) => field.write(job[group] as unknown as V, job);
  return {
    ...factsOf(field),
    read: (written, path, reader, job) => {
      const values = field.read(written as W, path, reader, job);
      for (const [key, value] of Object.entries(values)) put(job, [group, key], value);
    },
    write,
    heldIn: write,
  };
}

function factsOf<W, V>({
  facts,
  shape,
  late,
  typed,
}: Field<W, V>): Pick<JobKey<W>, 'facts' | 'shape' | 'late' | 'typed'> {
  return { facts, shape, late, typed };
}

function put(job: Job, steps: readonly string[], value: unknown): void {
  let group = job as unknown as Record<string, unknown>;
  for (const step of steps.slice(0, -1)) {
    group[step] ??= {};
    group = group[step] as Record<string, unknown>;
  }
  group[steps[steps.length - 1]] = value;
}
