import type { ProgressLine, Streams } from '../progress.js';

/** What a command needs of the run that it is part of. */
export interface Run {
  readonly streams: Streams;
  readonly progress: ProgressLine;
  /** Called once, when all is done: whether something must be mended before the first cut. */
  finish(mend: boolean): void;
}
