import type { Point } from '@okuri/core';
import type { LatticeStep, PaperState, Span } from '@okuri/core/inside';
import type { CheckedReply, ReadReply, TiesReply } from '../engine/protocol';
import type { TieName } from '../marks/ties-shown';
import { PLAIN_SCAN, type ScanSettings, settingsKey } from '../scan/settings';
import { amended, changed, type History, redone, startHistory, undone } from './history';
import { type KeyPath, withKey } from './job-keys';
import { type Project, sameWork } from './project';
import { NO_PROOF, type ProofState } from './proof-state';
import type { ScaleQuestion } from './scale-asked';
import type { StepId } from './steps';
import { type KnownUnit, knownSize, type SizeQuestion, withSizes } from './unit-size';

export type ViewName = 'cloth' | 'sheet' | 'pages';

/** What of a sheet lies on the table: as it is cut, its print over the plan, or how the proof is printed. */
export type SheetLook = 'cut' | 'print' | 'map';

/** Where a view is asked to go. A new object each time, so that asking for the same place again moves there again. */
export interface GoTo {
  readonly view: ViewName;
  /** mm on the unit (cloth) or on the sheet (sheet); null for the whole. */
  readonly at: Point | null;
  /** How much is to be seen around it, mm. */
  readonly widthMm: number;
  /** Which stencil, or which page. */
  readonly index?: number;
}

/** What is shown of the cloth. */
export interface ClothLook {
  readonly seams: boolean;
  readonly dots: boolean;
  readonly findings: boolean;
}

/** A tie that is chosen, and in which unit it is shown with its handles; null for the first in sight. */
export interface ChosenTie extends TieName {
  readonly step: LatticeStep | null;
}

/** A tie that is being drawn by hand. */
export interface DrawnTie {
  /** Its first end as it was set, mm on the pattern; null before. */
  readonly from: Point | null;
}

/** All that the window shows. Only `history` is saved and undone. */
export interface StudioState {
  readonly history: History<Project>;
  /** Of the present project; null until it was read. */
  readonly read: ReadReply | null;
  /** Of the project as it was read last. */
  readonly unit: KnownUnit | null;
  /** The last that was worked out: of an older state of the project while `stale`. */
  readonly checked: CheckedReply | null;
  readonly stale: boolean;
  /** What is being worked out. */
  readonly work: { readonly stage: string; readonly share: number } | null;
  /** The person gave the work up; the results shown are older than the job. */
  readonly stopped: boolean;
  /** Why the present project can't be worked out. */
  readonly refusal: string | null;
  /** Something to be said once: a file that was refused, a file that was saved. */
  readonly said: string | null;
  readonly step: StepId;
  readonly view: ViewName;
  /** Place in `checked.findings` of the one that is looked at. */
  readonly finding: number | null;
  /** Place in `checked.joins` of the one that is looked at. */
  readonly join: number | null;
  /** The ties that stand and those that were suggested last; null until they were asked for. */
  readonly ties: TiesReply | null;
  readonly tie: ChosenTie | null;
  /** Suggested ties that the person does not want, by where they lie (`placeKey`). */
  readonly leftOut: ReadonlySet<string>;
  readonly drawnTie: DrawnTie | null;
  /** Name of the place of the sheet that is looked at (`SheetPlace`). */
  readonly place: string | null;
  readonly units: 'mm' | 'in';
  /** px of the page a true mm on this screen; null until it was measured. */
  readonly screenPxPerMm: number | null;
  readonly look: ClothLook;
  readonly stencil: number;
  readonly page: number;
  readonly goTo: GoTo | null;
  /** Whether it was said what the dark of a new drawing means. */
  readonly asksDark: boolean;
  /** A scan whose scale is asked for; null where none is. */
  readonly scaleAsked: ScaleQuestion | null;
  /** Ties that a change of size has left without their banks, and what becomes of them is asked; null where there are none. */
  readonly sizeAsked: SizeQuestion | null;
  readonly sheetLook: SheetLook;
  /** Name of the end of the proof that is looked at: `X3`. */
  readonly proofEnd: string | null;
  /** The proof's picture and what it told: in memory alone. */
  readonly proof: ProofState;
}

export type Listener = () => void;

/** Keys of the job that change the unit's size, or that keep places on it. */
const SIZED_KEYS: readonly KeyPath[number][] = ['width', 'height', 'ties', 'numbers', 'done', 'proof'];

/** The state of the window, and all ways to change it. */
export class Studio {
  private now: StudioState;
  private readonly listeners = new Set<Listener>();

  constructor(project: Project) {
    this.now = {
      history: startHistory(project),
      read: null,
      unit: null,
      checked: null,
      stale: true,
      work: null,
      stopped: false,
      refusal: null,
      said: null,
      step: 'motif',
      view: 'cloth',
      finding: null,
      join: null,
      ties: null,
      tie: null,
      leftOut: new Set(),
      drawnTie: null,
      place: null,
      units: 'mm',
      screenPxPerMm: null,
      look: { seams: false, dots: false, findings: false },
      stencil: 0,
      page: 0,
      goTo: null,
      asksDark: false,
      scaleAsked: null,
      sizeAsked: null,
      sheetLook: 'cut',
      proofEnd: null,
      proof: NO_PROOF,
    };
  }

  get state(): StudioState {
    return this.now;
  }

  get project(): Project {
    return this.now.history.present;
  }

  subscribe(listener: Listener): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  /** Anything that is not part of the project. */
  set(change: Partial<Omit<StudioState, 'history'>>): void {
    this.put({ ...this.now, ...change });
  }

  /** One value of the job file; `undefined` leaves it to its default. Changes of one key in a row are one step of undo where `joins` is set. */
  edit(path: KeyPath, value: unknown, { joins = false }: { joins?: boolean } = {}): void {
    const project = this.project;
    const jobText = this.keptSizes(withKey(project.jobText, path, value), path[0]);
    if (jobText !== project.jobText) this.change({ ...project, jobText }, joins ? path.join('.') : null);
  }

  /** One distance as it was measured, with its unit; empty takes it out. */
  measure(span: Span, text: string): void {
    const { [span]: _, ...others } = this.project.measured ?? {};
    this.change({ ...this.project, measured: text === '' ? others : { ...others, [span]: text } });
  }

  /** In which state the sheet was when it was measured. */
  measuredWhen(state: PaperState): void {
    this.change({ ...this.project, measuredWhen: state });
  }

  /** How the motif is traced, where it is a scan. */
  traceBy(change: Partial<ScanSettings>): void {
    const scan = { ...PLAIN_SCAN, ...this.project.scan, ...change };
    if (settingsKey(scan) === settingsKey(this.project.scan ?? PLAIN_SCAN)) return;
    this.change({ ...this.project, jobText: this.keptSizes(this.project.jobText, 'width'), scan });
  }

  /** A change of the job, with the sizes at which its places were taken where it bears on those. */
  private keptSizes(jobText: string, changed: KeyPath[number]): string {
    if (!SIZED_KEYS.includes(changed)) return jobText;
    const tiesStand = this.now.checked?.strandedTies.length === 0;
    return withSizes(jobText, { now: knownSize(this.now.unit, this.project), changed, tiesStand });
  }

  /** Something about the proof's picture. */
  setProof(change: Partial<ProofState>): void {
    this.set({ proof: { ...this.now.proof, ...change } });
  }

  /** A whole new state of the project, as one step of undo. */
  change(project: Project, about: string | null = null): void {
    this.go(changed(this.now.history, project, about));
  }

  /**
   * The present state put right, as part of the change that made it: undo goes back over both at once. `worked`: the engine has worked it out already.
   */
  amend(project: Project, { worked = false }: { readonly worked?: boolean } = {}): void {
    const history = amended(this.now.history, project);
    if (worked) this.put({ ...this.now, history });
    else this.go(history);
  }

  /** Works the same project out once more, after its work was stopped. */
  workAgain(): void {
    this.put({ ...this.now, stopped: false, stale: true });
  }

  undo(): void {
    this.go(undone(this.now.history));
  }

  redo(): void {
    this.go(redone(this.now.history));
  }

  private go(history: History<Project>): void {
    if (history.present === this.now.history.present) return;
    const same = sameWork(history.present, this.now.history.present);
    this.put({ ...this.now, history, ...(same ? {} : { stale: true, stopped: false }) });
  }

  private put(next: StudioState): void {
    this.now = next;
    for (const listener of [...this.listeners]) listener();
  }
}
