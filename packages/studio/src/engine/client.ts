import * as Comlink from 'comlink';
import {
  type CheckedReply,
  type Engine,
  type EngineFiles,
  type EngineJob,
  isRefusal,
  type OnProgress,
  type ReadReply,
  type Refusal,
} from './protocol';

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
  /** Files that the spare thread has read already. */
  private tried: { readonly files: EngineFiles; readonly thread: Thread } | null = null;

  /** Reads a job with files of its own on the spare thread, before anything at hand is given up for it. */
  async tryRead(files: EngineFiles, job: EngineJob): Promise<ReadReply | Refusal> {
    const thread = this.spare;
    // Sent at one go, so that nothing comes between them.
    const [, reply] = await Promise.all([thread.engine.take(files), thread.engine.read(job)]);
    this.tried = isRefusal(reply) ? null : { files, thread };
    return reply;
  }

  /** The files that the next jobs name. Work on others is given up. */
  async take(files: EngineFiles): Promise<void> {
    const { tried } = this;
    this.tried = null;
    if (tried !== null && tried.thread === this.spare && sameFiles(tried.files, files)) {
      this.files = files;
      const { working, busy } = this;
      this.endWork();
      this.working = tried.thread;
      if (busy === 0) this.spare = working;
      else {
        working.worker.terminate();
        this.spare = startThread();
      }
      return;
    }
    this.cancel();
    this.files = files;
    await this.working.engine.take(files);
  }

  /** Ends what is being worked on, if anything is. */
  cancel(): void {
    if (this.busy === 0) return;
    this.working.worker.terminate();
    this.endWork();
    this.working = this.spare;
    this.spare = startThread();
    if (this.files !== null) void this.working.engine.take(this.files);
  }

  private endWork(): void {
    for (const giveUp of this.giveUp) giveUp();
    this.giveUp = [];
    this.busy = 0;
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

function sameFiles(a: EngineFiles, b: EngineFiles): boolean {
  return a.motif === b.motif && a.fonts === b.fonts;
}

function startThread(): Thread {
  const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' });
  // Every answer is a promise already, so that the other thread's engine looks like one of this.
  return { worker, engine: Comlink.wrap<Engine>(worker) as unknown as Engine };
}
