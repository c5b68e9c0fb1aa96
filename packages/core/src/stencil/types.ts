import type { Box, Contour, Point } from '../geometry/types.js';
import type { Ink } from '../motif/types.js';
import type { Dot } from '../register/dots.js';
import type { StepRun } from '../register/limits.js';
import type { SheetMovement } from '../register/types.js';
import type { SlightWhy } from '../repeat/slight.js';
import type { PaperReport, SheetTie } from '../strength/types.js';
import type { SheetEnds } from './end-types.js';

/** Where the dots of a sheet are: on the corners of its field, moved to where they show least, or in the selvedges beside the field. */
export type DotSeat = 'corners' | 'openings' | 'selvedge';

/** How the dots of a sheet are made, and how its paper moves between the dry drawing and the soaked print. */
export interface SheetRegister {
  /** `dry`: pricked through the joined cartoon. `wet`: measured on the soaked sheet. */
  readonly punch: 'dry' | 'wet';
  readonly seat: DotSeat;
  /** Of the soaked sheet against the dry one; null where nothing moves or it is not known. */
  readonly movement: SheetMovement | null;
  /** How the sheet is stepped, for the limits of its squareness. */
  readonly stepping: StepRun;
  /** All places of this sheet are those of the dry paper, not of the soaked sheet as it prints (see `drySheet`). */
  readonly dry: boolean;
}

/** A distance to check with a ruler. */
export interface Measure {
  readonly what: 'width' | 'height' | 'diagonal' | 'step';
  readonly from: string;
  readonly to: string;
  readonly mm: number;
  /** The nearest 1/64 inch, in lowest terms: `14 3/16`. */
  readonly inches: string;
  /** `inches` minus `mm`, in mm: what is lost by measuring in inches. */
  readonly inchErrorMm: number;
}

/** One opening as it is cut in this sheet. An opening of the cloth that a seam divides is several of these. */
export interface SheetOpening {
  /** 1, 2, 3 … in cutting order. */
  readonly number: number;
  /** The opening of the pattern it belongs to. */
  readonly openingId: string;
  /** Outlines in sheet mm (holes included, nonzero); empty where nothing is cut before the proof. */
  readonly firstCut: readonly Contour[];
  /** What waits in the held margin; empty where nothing does. */
  readonly secondCut: readonly Contour[];
  readonly areaMm2: number;
  readonly box: Box;
  /** A point inside the waste of the first cut (of the second where there is no first). */
  readonly labelAt: Point;
  /** Distance from `labelAt` to the nearest outline, mm. */
  readonly labelRoomMm: number;
  /** What takes it out: a punch, a knife along a ruler (an outline of straight runs, one over 30 mm), or a knife by hand. */
  readonly tool: CuttingTool;
  /** Diameter of the punch, mm; null for all other tools. */
  readonly punchMm: number | null;
  /** Length of all its outlines, first and second cut, without the stretches along the hold line. */
  readonly cutLengthMm: number;
  /** Letter of the zone in whose list it is ticked off. */
  readonly zone: string;
  /** Ticked off before: drawn as done. */
  readonly done: boolean;
}

export type CuttingTool = 'punch' | 'ruler' | 'knife';

/** A part of the sheet that is worked in one go, about 150 × 200 mm, with at most 40 openings of the first cut. */
export interface Zone {
  /** Z1, Z2, …: never to be taken for a dot (A, B, …) or a page (P1, P2, …). */
  readonly letter: string;
  /** Sheet mm. Zones lie side by side and cover the field. */
  readonly box: Box;
  /** Numbers of the first cut in cutting order. Every opening with a first cut is in exactly one zone. */
  readonly firstCut: readonly number[];
  /** Numbers of the second cut (what waits in the held margin), in cutting order. */
  readonly secondCut: readonly number[];
}

/** How the sheet is worked. */
export interface Practice {
  /** The hand that holds the knife. */
  readonly hand: 'right' | 'left';
  /** How the cartoon gets onto the stencil paper: pages glued on and cut through, traced through carbon paper, or seen through on a light table. */
  readonly transfer: 'cut-through' | 'carbon' | 'lightbox';
  /** How the paper's grain runs on the sheet; null where it is not known. */
  readonly grain: 'upright' | 'level' | null;
  /** Gauze is stuck over the cut sheet before it prints. */
  readonly gauze: boolean;
  /** The sheet is soaked before it prints. */
  readonly soak: boolean;
}

/** What of one opening is kept in the job from run to run, so that it keeps its number: its place on the sheet's field and its size. */
export interface KeptNumber {
  readonly number: number;
  readonly x: number;
  readonly y: number;
  readonly areaMm2: number;
}

/** What has to be done to a sheet that was cut by an older revision. Numbers are those of the newer one, `patch` also of openings that are gone. */
export interface SheetChanges {
  readonly cutAgain: readonly number[];
  readonly patch: readonly number[];
  readonly fresh: readonly number[];
}

/** A stretch where an opening's first cut stops at the hold line. Sheet mm. */
export interface StopMark {
  readonly number: number;
  readonly from: Point;
  readonly to: Point;
}

/** Why something of the drawing is not cut on a sheet: it lies past the edge of the design, or no blade can cut it. */
export type DroppedWhy = 'beyond-edge' | SlightWhy;

/** A place of the drawing that is not cut on this sheet. Sheet mm. */
export interface DroppedPlace {
  /** `beyond-edge`: the neighbouring print has it. Else it is cut from the other side of its seam, or (`lostMm2`) nowhere. */
  readonly why: DroppedWhy;
  /** Its outlines (nonzero), also where they are the edge of the design or of the lap. */
  readonly contours: readonly Contour[];
  readonly box: Box;
  /** Its area within the edges of the design; 0 for what lies past them. */
  readonly areaMm2: number;
  /** Diameter of the largest disc in that. */
  readonly widthMm: number;
  /** Of its area what no print shows. */
  readonly lostMm2: number;
}

/** The paper of one stencil as it is planned and cut. All positions in sheet mm: upper left of the paper, face up. */
export interface CutSheet {
  readonly ink: Ink;
  /** 1-based place among the job's stencils, and their count. */
  readonly index: number;
  readonly count: number;
  readonly widthMm: number;
  readonly heightMm: number;
  /** The design field: `across × down` units. */
  readonly field: Box;
  readonly across: number;
  readonly down: number;
  /** The held margin along the right and the bottom; null where that side is not held. */
  readonly heldRight: Box | null;
  readonly heldBottom: Box | null;
  readonly lapMm: number;
  readonly dots: readonly Dot[];
  readonly measures: readonly Measure[];
  readonly openings: readonly SheetOpening[];
  /** What the drawing has on this sheet and nobody cuts. */
  readonly dropped: readonly DroppedPlace[];
  readonly zones: readonly Zone[];
  readonly practice: Practice;
  readonly stops: readonly StopMark[];
  /** Which of two sheets that print one ink together, A before B; null where one sheet prints it alone. */
  readonly part: 'A' | 'B' | null;
  /** Strips of paper that are left standing on it. */
  readonly ties: readonly SheetTie[];
  /** How its dots are made. */
  readonly register: SheetRegister;
}

/** A sheet with the places at which a proof of it is measured. */
export interface Sheet extends CutSheet {
  /** As planned. */
  readonly ends: SheetEnds;
  /** The second cut is that of the plan, or what a proof makes of it. */
  readonly secondCutFrom: 'plan' | 'proof';
}

/** A sheet of whose paper is known what it bears. */
export interface JudgedSheet extends Sheet {
  readonly paper: PaperReport;
}
