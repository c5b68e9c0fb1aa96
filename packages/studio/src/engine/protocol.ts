import type {
  Drawing,
  Finding,
  Ink,
  Job,
  Join,
  JudgedSheet,
  JudgedSquare,
  Lattice,
  Measured,
  Motif,
  Output,
  Plan,
  ProofOutput,
  ProofReport,
  SquareSheet,
  SuggestedTies,
} from '@okuri/core';
import type {
  ClothTile,
  ExtraReadings,
  JoinView,
  PagePlan,
  PaperState,
  ProofSheet,
  StrandedTie,
  TieList,
  UnitSize,
} from '@okuri/core/inside';
import type { UnitOutlines } from '../canvas/unit-outlines';
import type { ProofHow } from '../scan/compare-picture';
import type { ScanSettings } from '../scan/settings';
import type { ScanFacts } from '../scan/trace-scan';
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
  /** How the motif is traced, where it is a scan. */
  readonly scan: ScanSettings;
}

/** How far the work is: the stage in words, and the share that is done, 0 to 1. */
export type OnProgress = (stage: string, share: number) => void;

/** Something that can't be used, in one sentence; the work at hand stays. */
export interface Refusal {
  readonly refused: string;
  /** The motif is a scan whose scale has to be told before it can be traced. */
  readonly asksScale?: ScaleAsked;
}

/** A scan without a scale. */
export interface ScaleAsked {
  /** As it is seen, px. */
  readonly widthPx: number;
  readonly heightPx: number;
  /** What the file states without anyone having measured it; null where it states nothing. */
  readonly statedDpi: number | null;
}

/** A scan as it was traced; of the same file, the same key gives the same. */
export interface TracedScan {
  readonly key: string;
  readonly motif: Motif;
  readonly facts: ScanFacts;
}

/** A drawing as it was read. */
export interface ReadMotif {
  readonly frame: Motif['frame'];
  readonly outlines: UnitOutlines;
}

/** The pattern as it was worked out. */
export interface ShownTile extends Omit<ClothTile, 'inks'> {
  readonly outlines: UnitOutlines;
}

/** A drawing that lies ready on the painter's thread, and what has to be known of it to show it. */
export interface ShownDrawing {
  readonly name: string;
  readonly pages: readonly Omit<Drawing['pages'][number], 'items'>[];
}

/** What was read, before anything is worked out: there within a blink. Enough for a first look at the cloth. */
export interface ReadReply {
  readonly job: Job;
  /** At the size of the unit that is cut. */
  readonly motif: ReadMotif;
  readonly lattice: Lattice;
  readonly remarks: readonly string[];
  /** Null where the motif is no scan. */
  readonly scan: TracedScan | null;
}

/** A sheet without its openings and zones, which only drawings need: both lists are empty. */
export type SheetFacts = JudgedSheet;

/** A whole job, as plain data that can be sent between threads. Sheets come without their openings. */
export interface CheckedReply {
  /** As its file says it. */
  readonly job: Job;
  /** Its ties where the unit's present size puts them. */
  readonly ties: Job['ties'];
  /** The size of the unit at which they were taken; null where that is the present one. */
  readonly tiesFrom: UnitSize | null;
  /** Those that can't come to stand, and are left out. */
  readonly strandedTies: readonly StrandedTie[];
  readonly inks: readonly Ink[];
  readonly lattice: Lattice;
  readonly tile: ShownTile;
  readonly joins: readonly Join[];
  readonly joinViews: readonly JoinView[];
  readonly sheets: readonly SheetFacts[];
  /** What squaring has to know; null where there is nothing to cut. */
  readonly square: SquareSheet | null;
  /** Worst first. */
  readonly findings: readonly Finding[];
  readonly statements: readonly string[];
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
export type HandOver = Output | 'plan';

/** What is made of a proof to take away. */
export type ProofPaper = ProofOutput;

/** A picture of a proof laid over its sheet. */
export interface ComparedReply {
  readonly report: ProofReport;
  /** How the print was laid, as the end of a sentence. */
  readonly laid: string;
  /** What has to be known of it, besides the tables; the worst first. */
  readonly findings: readonly Finding[];
}

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
  /** Scans of the files taken that were traced on another thread. */
  remember(traced: readonly TracedScan[]): Promise<void>;
  read(job: EngineJob, progress?: OnProgress): Promise<ReadReply | Refusal>;
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
  /** A traced scan as a drawing of its own. */
  motifFile(job: EngineJob): Promise<MadeFile | Refusal>;
  /** A stencil as its proof is measured, with its outlines; 0 for the first. */
  proof(index: number): Promise<ProofSheet | Refusal>;
  /** Compares a picture of a proof with its sheet; needs no job. */
  compare(
    picture: ArtworkFile,
    proof: ProofSheet,
    how: ProofHow,
    progress?: OnProgress,
  ): Promise<ComparedReply | Refusal>;
  /** The print over the plan of a stencil, on a page of the sheet's size. */
  printDrawing(index: number, report: ProofReport): Promise<Drawing | Refusal>;
  proofMapDrawing(): Promise<Drawing | Refusal>;
  makeProof(what: ProofPaper, index: number, report: ProofReport | null): Promise<readonly MadeFile[] | Refusal>;
}

/** The engine as it is seen over its thread: drawings go to the painter's thread, and only what they are called comes here. */
export interface EngineThread
  extends Omit<Engine, 'plan' | 'sheetDrawing' | 'pageDrawing' | 'guideDrawing' | 'printDrawing' | 'proofMapDrawing'> {
  /** Where drawings are sent. */
  showOn(painter: MessagePort): Promise<void>;
  plan(): Promise<Omit<PlanReply, 'map'> | Refusal>;
  sheetDrawing(index: number): Promise<ShownDrawing | Refusal>;
  pageDrawing(index: number): Promise<ShownPages | Refusal>;
  printDrawing(index: number, report: ProofReport): Promise<ShownDrawing | Refusal>;
  proofMapDrawing(): Promise<ShownDrawing | Refusal>;
}

/** `PagesReply` with its drawing on the painter's thread. */
export interface ShownPages {
  readonly drawing: ShownDrawing;
  readonly plan: PagePlan;
}

/** Whether an answer is a refusal. */
export function isRefusal(reply: object): reply is Refusal {
  return 'refused' in reply;
}
