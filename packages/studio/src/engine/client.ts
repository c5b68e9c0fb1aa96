import type { ProofSheet } from '@okuri/core/inside';
import * as Comlink from 'comlink';
import type { Painter } from '../canvas/painter';
import type { ProofHow } from '../scan/compare-picture';
import type { ArtworkFile } from '../state/project';
import {
  type CheckedReply,
  type EngineFiles,
  type EngineJob,
  type EngineThread,
  isRefusal,
  type OnProgress,
  type ReadReply,
  type Refusal,
  type TracedScan,
} from './protocol';

/** A thread with an engine in it. */
interface Thread {
  readonly worker: Worker;
  readonly engine: EngineThread;
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
  private working: Thread;
  private spare: Thread;
  private busy = 0;
  private giveUp: (() => void)[] = [];
  private stopTry: (() => void) | null = null;
  private readonly traces = new WeakMap<ArtworkFile, readonly TracedScan[]>();
  /** Files that the spare thread has read already. */
  private tried: { readonly files: EngineFiles; readonly thread: Thread } | null = null;

  constructor(private readonly painter: Painter) {
    this.working = startThread(painter);
    this.spare = startThread(painter);
  }

  /** Reads a job with files of its own on the spare thread, before anything at hand is given up for it. */
  async tryRead(files: EngineFiles, job: EngineJob, progress: OnProgress): Promise<ReadReply | Refusal> {
    this.stopTrying();
    const thread = this.spare;
    let stop = (): void => undefined;
    const stopped = new Promise<never>((_, reject) => {
      stop = () => reject(new GivenUp());
    });
    this.stopTry = stop;
    // Sent at one go, so that nothing comes between them.
    const reading = Promise.all([this.sendFiles(thread, files), thread.engine.read(job, Comlink.proxy(progress))]);
    try {
      const [, reply] = await Promise.race([reading, stopped]);
      this.keepTrace(files.motif, reply);
      this.tried = isRefusal(reply) ? null : { files, thread };
      return reply;
    } finally {
      // A newer trial has its own.
      if (this.stopTry === stop) this.stopTry = null;
    }
  }

  /** Ends a trial, if one is going on; tells whether one was. */
  stopTrying(): boolean {
    if (this.stopTry === null) return false;
    this.stopTry();
    this.stopTry = null;
    this.spare.worker.terminate();
    this.spare = startThread(this.painter);
    return true;
  }

  /** Lays a picture of a proof over its sheet. */
  compare(picture: ArtworkFile, proof: ProofSheet, { how, progress }: { how: ProofHow; progress: OnProgress }) {
    return this.aside((engine) => engine.compare(picture, proof, how, Comlink.proxy(progress)));
  }

  /** Work that needs no job, on a thread of its own: it goes on while the job changes. `stop` ends it, and the promise rejects with `GivenUp`. */
  private aside<T>(work: (engine: EngineThread) => Promise<T>): {
    readonly done: Promise<T>;
    readonly stop: () => void;
  } {
    const { worker, engine } = startThread(this.painter);
    let stop = (): void => undefined;
    const stopped = new Promise<never>((_, reject) => {
      stop = () => reject(new GivenUp());
    });
    const failed = new Promise<never>((_, reject) => {
      worker.onerror = ({ message }) => reject(new Error(message));
    });
    const done = Promise.race([work(engine), stopped, failed]).finally(() => worker.terminate());
    return { done, stop: () => stop() };
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
        this.spare = startThread(this.painter);
      }
      return;
    }
    this.cancel();
    this.files = files;
    await this.sendFiles(this.working, files);
  }

  /** Ends what is being worked on, if anything is. */
  cancel(): void {
    if (this.busy === 0) return;
    this.working.worker.terminate();
    this.endWork();
    this.working = this.spare;
    this.spare = startThread(this.painter);
    if (this.files !== null) void this.sendFiles(this.working, this.files);
  }

  private endWork(): void {
    for (const giveUp of this.giveUp) giveUp();
    this.giveUp = [];
    this.busy = 0;
  }

  async read(job: EngineJob, progress: OnProgress): Promise<ReadReply | Refusal> {
    const { files } = this;
    const reply = await this.ask((engine) => engine.read(job, Comlink.proxy(progress)));
    if (files !== null) this.keepTrace(files.motif, reply);
    return reply;
  }

  /** Files go to a thread with all that was traced of them on others. */
  private async sendFiles({ engine }: Thread, files: EngineFiles): Promise<void> {
    const known = this.traces.get(files.motif) ?? [];
    await Promise.all([engine.take(files), ...(known.length > 0 ? [engine.remember(known)] : [])]);
  }

  private keepTrace(motif: ArtworkFile, reply: ReadReply | Refusal): void {
    if (isRefusal(reply) || reply.scan === null) return;
    const { scan } = reply;
    const others = (this.traces.get(motif) ?? []).filter(({ key }) => key !== scan.key);
    this.traces.set(motif, [...others, scan].slice(-TRACES_KEPT));
  }

  check(job: EngineJob, progress: OnProgress): Promise<CheckedReply | Refusal> {
    return this.ask((engine) => engine.check(job, Comlink.proxy(progress)));
  }

  /** Anything else about the job that was checked last. Rejects with `GivenUp` where newer work takes its place. */
  ask<T>(work: (engine: EngineThread) => Promise<T>): Promise<T> {
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

/** Traces of one scan that are kept: those that undo goes back to. */
const TRACES_KEPT = 4;

function sameFiles(a: EngineFiles, b: EngineFiles): boolean {
  return a.motif === b.motif && a.fonts === b.fonts;
}

function startThread(painter: Painter): Thread {
  const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' });
  // Every answer is a promise already, so that the other thread's engine looks like one of this.
  const engine = Comlink.wrap<EngineThread>(worker) as unknown as EngineThread;
  const { port1, port2 } = new MessageChannel();
  void engine.showOn(Comlink.transfer(port1, [port1]));
  painter.listen(port2);
  return { worker, engine };
}
