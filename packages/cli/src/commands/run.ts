import type { StageMemory } from '@okuri/core';
import type { ProgressLine, Streams } from '../progress.js';

/** What a command needs of the run that it is part of. */
export interface Run {
  readonly streams: Streams;
  readonly progress: ProgressLine;
  /** Logs which stages of a job were worked out. */
  readonly memory: StageMemory;
  /** Called once, when all is done: whether something must be mended before the first cut. */
  finish(mend: boolean): void;
}
