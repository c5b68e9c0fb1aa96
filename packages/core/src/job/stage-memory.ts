import { hash } from 'ohash';
import { type JobSlice, jobSlice, type PresentJob } from '../job-file/job-slice.js';
import { type ReadBy, STAGES, type StageName, type StageValues, type TakenBy } from './stages.js';

/** One line of the log: a stage that was asked for, and whether it had to be worked out. */
export interface StageRun {
  readonly stage: StageName;
  readonly ran: boolean;
}

/** What a stage gave, and the key that its inputs come to; null where nothing is remembered. */
export interface Made<T> {
  readonly key: string | null;
  readonly value: T;
}

/** The values that a stage takes from others. */
export type Taken<S extends StageName> = { readonly [K in TakenBy<S>]: Made<StageValues[K]> };

type Given<S extends StageName> = { readonly [K in TakenBy<S>]: StageValues[K] };

/** How many values of a stage are kept: a change and its undoing. */
const VALUES_KEPT = 2;

/**
 * Keeps the last values of every stage by what went into them, and a log of what ran. Keys are canonical values of the inputs, not their identity: what comes over from
 * another thread is a copy. `keeps: false` keeps nothing and makes no keys, for one run and no more.
 */
export class StageMemory {
  private readonly kept = new Map<StageName, Made<unknown>[]>();
  private readonly keys = new WeakMap<object, string>();
  private runs: StageRun[] = [];
  private readonly keeps: boolean;

  constructor({ keeps = true } = {}) {
    this.keeps = keeps;
  }

  /** What was asked for since the log was last taken, in order. */
  takeLog(): readonly StageRun[] {
    const { runs } = this;
    this.runs = [];
    return runs;
  }

  /** What no stage makes, such as the artwork. */
  given<T extends object>(value: T): Made<T> {
    if (!this.keeps) return { key: null, value };
    const key = this.keys.get(value) ?? hash(value);
    this.keys.set(value, key);
    return { key, value };
  }

  /** The value of a stage: one that is kept, or what `work` gives from the slice of the job that the stage reads. */
  make<S extends StageName>(
    stage: S,
    job: PresentJob,
    taken: Taken<S>,
    work: (job: JobSlice<ReadBy<S>>, given: Given<S>) => StageValues[S],
  ): Made<StageValues[S]> {
    const { reads, from, ...spec } = STAGES[stage];
    const slice = jobSlice(job, reads as readonly ReadBy<S>[]);
    const names = from as readonly TakenBy<S>[];
    const key = this.keeps ? hash([slice, names.map((name) => taken[name].key)]) : null;
    const own = (this.kept.get(stage) ?? []) as Made<StageValues[S]>[];
    const known = key === null ? undefined : own.find((one) => one.key === key);
    this.runs.push({ stage, ran: known === undefined });
    const made = known ?? {
      key,
      value: work(slice, Object.fromEntries(names.map((name) => [name, taken[name].value])) as Given<S>),
    };
    if (key === null) return made;
    this.kept.set(stage, [made, ...own.filter((one) => one !== made)].slice(0, VALUES_KEPT));
    return 'byValue' in spec ? { key: hash(made.value), value: made.value } : made;
  }
}
