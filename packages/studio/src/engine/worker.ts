import type { Drawing, ProofReport } from '@okuri/core';
import type { ProofSheet } from '@okuri/core/inside';
import * as Comlink from 'comlink';
import type { SentDrawing } from '../canvas/painter-worker';
import type { ProofHow } from '../scan/compare-picture';
import type { ArtworkFile } from '../state/project';
import { browserTools } from './browser-tools';
import { packed } from './pack';
import {
  type EngineFiles,
  type EngineJob,
  type EngineThread,
  type HandOver,
  isRefusal,
  type OnProgress,
  type ProofPaper,
  type Refusal,
  type ShownDrawing,
  type SquareReadings,
  type TracedScan,
} from './protocol';
import { createEngine } from './work';

const engine = createEngine(browserTools());
let painter: MessagePort | null = null;
let count = 0;
/** Tells the drawings of this thread from those of any other. */
const threadName = crypto.randomUUID();

/** A reply with its outlines in one buffer, which is handed over instead of copied. */
async function sent<T extends object>(reply: Promise<T>): Promise<T> {
  const { value, buffer } = packed(await reply);
  return Comlink.transfer(value, buffer.byteLength > 0 ? [buffer] : []);
}

/** Sends a drawing to the painter's thread; the window, which has no use for its lines, is only told what it is called. */
function shown(drawing: Drawing): ShownDrawing {
  count += 1;
  const name = `${threadName} ${count}`;
  const { value, buffer } = packed<SentDrawing>({ name, drawing });
  painter?.postMessage(value, buffer.byteLength > 0 ? [buffer] : []);
  return { name, pages: drawing.pages.map(({ items: _, ...page }) => page) };
}

async function shownReply(reply: Promise<Drawing | Refusal>): Promise<ShownDrawing | Refusal> {
  const drawing = await reply;
  return isRefusal(drawing) ? drawing : shown(drawing);
}

const overThread: EngineThread = {
  showOn: async (port: MessagePort) => {
    painter = port;
  },
  take: (files: EngineFiles) => engine.take(files),
  remember: (traced: readonly TracedScan[]) => engine.remember(traced),
  read: (job: EngineJob, progress?: OnProgress) => sent(engine.read(job, progress)),
  check: (job: EngineJob, progress?: OnProgress) => sent(engine.check(job, progress)),
  ties: () => engine.ties(),
  square: (readings: SquareReadings) => engine.square(readings),
  plan: async () => {
    const reply = await engine.plan();
    if (isRefusal(reply)) return reply;
    const { map: _, ...plan } = reply;
    return plan;
  },
  sheetDrawing: (index: number) => shownReply(engine.sheetDrawing(index)),
  pageDrawing: async (index: number) => {
    const reply = await engine.pageDrawing(index);
    return isRefusal(reply) ? reply : { drawing: shown(reply.drawing), plan: reply.plan };
  },
  make: (what: HandOver) => engine.make(what),
  motifFile: (job: EngineJob) => engine.motifFile(job),
  proof: (index: number) => sent(engine.proof(index)),
  compare: (picture: ArtworkFile, proof: ProofSheet, how: ProofHow, progress?: OnProgress) =>
    sent(engine.compare(picture, proof, how, progress)),
  printDrawing: (index: number, report: ProofReport) => shownReply(engine.printDrawing(index, report)),
  proofMapDrawing: () => shownReply(engine.proofMapDrawing()),
  makeProof: (what: ProofPaper, index: number, report: ProofReport | null) => engine.makeProof(what, index, report),
};

Comlink.expose(overThread);
