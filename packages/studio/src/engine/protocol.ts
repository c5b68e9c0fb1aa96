import type {
  CheckDocument,
  ClothTile,
  Drawing,
  Finding,
  Job,
  Join,
  JoinView,
  Lattice,
  Motif,
  Sheet,
  SuggestedTies,
} from '@okuri/core';
import type { ArtworkFile } from '../state/project';

/** What the engine works on. */
export interface EngineInput {
  readonly jobText: string;
  readonly motif: ArtworkFile;
  readonly fonts: readonly ArtworkFile[];
  /** `YYYY-MM-DD`, for a job that gives none. */
  readonly date: string;
}

/** How far the work is: the stage in words, and the share that is done, 0 to 1. */
export type OnProgress = (stage: string, share: number) => void;

/** What was read, before anything is worked out: there within a blink. Enough for a first look at the cloth. */
export interface ReadReply {
  readonly job: Job;
  /** At the size of the unit that is cut. */
  readonly motif: Motif;
  readonly lattice: Lattice;
  readonly remarks: readonly string[];
}

/** A whole job, as plain data that can be sent between threads. */
export interface CheckedReply {
  readonly job: Job;
  readonly lattice: Lattice;
  readonly tile: ClothTile;
  readonly joins: readonly Join[];
  readonly joinViews: readonly JoinView[];
  readonly sheets: readonly Sheet[];
  /** Worst first. */
  readonly findings: readonly Finding[];
  readonly statements: readonly string[];
  readonly document: CheckDocument;
}

/** What can be handed over, made by the same writers as the command's. */
export type HandOver = 'sheets' | 'guide' | 'stencil' | 'cloth' | 'plan' | 'map' | 'strips' | 'job';

/** A file to download. */
export interface MadeFile {
  readonly name: string;
  readonly type: string;
  readonly bytes: Uint8Array;
}

/** Something that can't be used, in one sentence; the work at hand stays. */
export interface Refusal {
  readonly refused: string;
}

/** The engine's side of the thread. One job is worked on at a time: `read` and `check` begin a new one, all else is about the last one checked. */
export interface Engine {
  read(input: EngineInput, progress?: OnProgress): Promise<ReadReply | Refusal>;
  check(input: EngineInput, progress?: OnProgress): Promise<CheckedReply | Refusal>;
  /** Ties that would hold what is loose, one entry a stencil. */
  ties(): Promise<readonly SuggestedTies[] | Refusal>;
  /** The cutting drawing of a stencil, 0 for the first. */
  sheetDrawing(index: number): Promise<Drawing | Refusal>;
  /** Its print sheets. */
  pageDrawing(index: number): Promise<Drawing | Refusal>;
  make(what: HandOver): Promise<readonly MadeFile[] | Refusal>;
}
