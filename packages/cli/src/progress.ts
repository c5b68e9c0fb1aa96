/** What the command writes to and asks about where it writes: the process's own streams, or a test's. */
export interface Streams {
  out(text: string): void;
  err(text: string): void;
  /** Whether standard error is a terminal, where a line may be written over. */
  readonly errIsTerminal: boolean;
}

/** Least time between two pictures of the progress, ms: a terminal shows no more, and a log keeps none. */
const EVERY_MS = 80;

/** A line of progress that is written over as the work goes on; on anything but a terminal nothing is written. */
export interface ProgressLine {
  show(stage: string, share?: number): void;
  clear(): void;
}

export function progressLine(streams: Streams, now: () => number = Date.now): ProgressLine {
  if (!streams.errIsTerminal) return { show() {}, clear() {} };
  let last = Number.NEGATIVE_INFINITY;
  let shown = false;
  return {
    show(stage, share) {
      if (now() - last < EVERY_MS) return;
      last = now();
      shown = true;
      const percent = share === undefined ? '' : ` ${Math.round(Math.min(1, Math.max(0, share)) * 100)} %`;
      streams.err(`\r\u001b[K${stage}${percent}`);
    },
    clear() {
      if (shown) streams.err('\r\u001b[K');
      shown = false;
    },
  };
}
