import * as Comlink from 'comlink';
import type { CheckedReply, Engine, EngineFiles, EngineJob, OnProgress, ReadReply, Refusal } from './protocol';

/** A thread with an engine in it. */
interface Thread {
  readonly worker: Worker;
  readonly engine: Engine;
}

/** Thrown by work that was given up because something newer was asked for. */
export class GivenUp extends Error {
  constructor() {
    super('given up for newer work');
    this.name = 'GivenUp';
  }
}

/**
 * Engines on other threads. One works; a spare one is ready, so that giving work up (which ends its thread) costs no start. Files are sent to
 * a thread once.
 */
export class EngineClient {
  private files: EngineFiles | null = null;
  private working: Thread = startThread();
  private spare: Thread = startThread();
  private busy = 0;
  private giveUp: (() => void)[] = [];

  /** The files that the next jobs name. Work on others is given up. */
  async take(files: EngineFiles): Promise<void> {
    this.cancel();
    this.files = files;
    await this.working.engine.take(files);
  }

  /** Ends what is being worked on, if anything is. */
  cancel(): void {
    if (this.busy === 0) return;
    this.working.worker.terminate();
    for (const giveUp of this.giveUp) giveUp();
    this.giveUp = [];
    this.busy = 0;
    this.working = this.spare;
    this.spare = startThread();
    if (this.files !== null) void this.working.engine.take(this.files);
  }

  read(job: EngineJob): Promise<ReadReply | Refusal> {
    return this.ask((engine) => engine.read(job));
  }

  check(job: EngineJob, progress: OnProgress): Promise<CheckedReply | Refusal> {
    return this.ask((engine) => engine.check(job, Comlink.proxy(progress)));
  }

  /** Anything else about the job that was checked last. Rejects with `GivenUp` where newer work takes its place. */
  ask<T>(work: (engine: Engine) => Promise<T>): Promise<T> {
    this.busy += 1;
    const thread = this.working;
    return new Promise<T>((resolve, reject) => {
      const giveUp = () => reject(new GivenUp());
      this.giveUp.push(giveUp);
      const done = () => {
        if (thread !== this.working || !this.giveUp.includes(giveUp)) return;
        this.giveUp = this.giveUp.filter((one) => one !== giveUp);
        this.busy -= 1;
      };
      work(thread.engine).then(
        (value) => {
          done();
          resolve(value);
        },
        (error) => {
          done();
          reject(error);
        },
      );
    });
  }
}

function startThread(): Thread {
  const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' });
  // Every answer is a promise already, so that the other thread's engine looks like one of this.
  return { worker, engine: Comlink.wrap<Engine>(worker) as unknown as Engine };
}
