import type {
  CheckDocument,
  ClothTile,
  Drawing,
  ExtraReadings,
  Finding,
  Ink,
  Job,
  Join,
  JoinView,
  JudgedSquare,
  Lattice,
  Measured,
  Motif,
  PagePlan,
  PaperState,
  Plan,
  Sheet,
  SquareSheet,
  SuggestedTies,
  TieList,
} from '@okuri/core';
import type { ArtworkFile } from '../state/project';

/** The files that a job names; sent once, not with every change of the job. */
export interface EngineFiles {
  readonly motif: ArtworkFile;
  readonly fonts: readonly ArtworkFile[];
}

/** A job as it is worked on. */
export interface EngineJob {
  readonly jobText: string;
  /** `YYYY-MM-DD`, for a job that gives none. */
  readonly date: string;
}

/** How far the work is: the stage in words, and the share that is done, 0 to 1. */
export type OnProgress = (stage: string, share: number) => void;

/** Something that can't be used, in one sentence; the work at hand stays. */
export interface Refusal {
  readonly refused: string;
}

/** What was read, before anything is worked out: there within a blink. Enough for a first look at the cloth. */
export interface ReadReply {
  readonly job: Job;
  /** At the size of the unit that is cut. */
  readonly motif: Motif;
  readonly lattice: Lattice;
  readonly remarks: readonly string[];
}

/** A sheet without its outlines, which only drawings need. */
export type SheetFacts = Sheet;

/** A whole job, as plain data that can be sent between threads. Openings of sheets come without their outlines. */
export interface CheckedReply {
  readonly job: Job;
  readonly inks: readonly Ink[];
  readonly lattice: Lattice;
  readonly tile: ClothTile;
  readonly joins: readonly Join[];
  readonly joinViews: readonly JoinView[];
  readonly sheets: readonly SheetFacts[];
  /** What squaring has to know; null where there is nothing to cut. */
  readonly square: SquareSheet | null;
  /** Worst first. */
  readonly findings: readonly Finding[];
  readonly statements: readonly string[];
  readonly document: CheckDocument;
}

/** Ties to choose from, as a list for a person and as the engine takes them. */
export interface TiesReply {
  readonly list: TieList;
  readonly suggested: readonly SuggestedTies[];
}

export interface SquareReply {
  readonly sheet: SquareSheet;
  readonly judged: JudgedSquare;
  /** The same in lines for a person. */
  readonly report: string;
}

export interface PlanReply {
  readonly plan: Plan;
  readonly findings: readonly Finding[];
  readonly report: string;
  /** The placement map. */
  readonly map: Drawing;
}

/** The print sheets of a stencil, and how its sheet is split over them. */
export interface PagesReply {
  readonly drawing: Drawing;
  readonly plan: PagePlan;
}

/** What can be handed over, made by the same writers as the command's. */
export type HandOver = 'sheets' | 'guide' | 'stencil' | 'cloth' | 'plan' | 'map';

/** A file to download. */
export interface MadeFile {
  readonly name: string;
  readonly type: string;
  readonly bytes: Uint8Array;
}

/** Six distances as they were typed, and readings of extra dots. */
export interface SquareReadings {
  readonly measured: Measured;
  readonly extra: readonly ExtraReadings[];
  readonly measuredWhen: PaperState | null;
}

/**
 * The engine's side of the thread. `take` comes first; `read` and `check` begin a job, and all else is about the last one checked. What a person
 * can mend comes back as a `Refusal`; faults of the program are thrown.
 */
export interface Engine {
  take(files: EngineFiles): Promise<void>;
  read(job: EngineJob): Promise<ReadReply | Refusal>;
  check(job: EngineJob, progress?: OnProgress): Promise<CheckedReply | Refusal>;
  ties(): Promise<TiesReply | Refusal>;
  square(readings: SquareReadings): Promise<SquareReply | Refusal>;
  plan(): Promise<PlanReply | Refusal>;
  /** The cutting drawing of a stencil, 0 for the first. */
  sheetDrawing(index: number): Promise<Drawing | Refusal>;
  /** Its print sheets. */
  pageDrawing(index: number): Promise<PagesReply | Refusal>;
  guideDrawing(): Promise<Drawing | Refusal>;
  make(what: HandOver): Promise<readonly MadeFile[] | Refusal>;
}

/** Whether an answer is a refusal. */
export function isRefusal(reply: object): reply is Refusal {
  return 'refused' in reply;
}
