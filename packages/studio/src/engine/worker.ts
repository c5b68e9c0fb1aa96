import * as Comlink from 'comlink';
import { browserTools } from './browser-tools';
import { packed } from './pack';
import type { Engine, EngineFiles, EngineJob, HandOver, OnProgress, SquareReadings } from './protocol';
import { createEngine } from './work';

const engine = createEngine(browserTools());

/** A reply with its outlines in one buffer, which is handed over instead of copied. */
async function sent<T extends object>(reply: Promise<T>): Promise<T> {
  const { value, buffer } = packed(await reply);
  return Comlink.transfer(value, buffer.byteLength > 0 ? [buffer] : []);
}

const overThread: Engine = {
  take: (files: EngineFiles) => engine.take(files),
  read: (job: EngineJob) => sent(engine.read(job)),
  check: (job: EngineJob, progress?: OnProgress) => sent(engine.check(job, progress)),
  ties: () => engine.ties(),
  square: (readings: SquareReadings) => engine.square(readings),
  plan: () => sent(engine.plan()),
  sheetDrawing: (index: number) => sent(engine.sheetDrawing(index)),
  pageDrawing: (index: number) => sent(engine.pageDrawing(index)),
  guideDrawing: () => sent(engine.guideDrawing()),
  make: (what: HandOver) => engine.make(what),
};

Comlink.expose(overThread);
