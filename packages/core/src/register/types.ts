import type { Point } from '../geometry/types.js';

/** A corner hole, as seen from the face of the sheet. */
export type Corner = 'upperLeft' | 'upperRight' | 'lowerRight' | 'lowerLeft';

/** A distance between two corner holes: four sides and two diagonals. `falling` runs from upper left to lower right. */
export type Span = 'top' | 'right' | 'bottom' | 'left' | 'falling' | 'rising';

/** All six distances, mm. */
export type SixDistances = Readonly<Record<Span, number>>;

/** Where the corner holes are, mm: upper left at the origin, the top side along x, y down. */
export type Holes = Readonly<Record<Corner, Point>>;

/** Readings of each distance, mm; a distance without a reading was not measured. */
export type Measured = Readonly<Partial<Record<Span, readonly number[]>>>;

/** The readings of one distance taken together. */
export interface MeanReading {
  readonly meanMm: number;
  readonly count: number;
  /** How far the mean may be off, mm: the error of one reading (or what the readings show, if more) divided by √count. */
  readonly errorMm: number;
  /** The farthest a reading lies from the mean, mm; more than the reading error says that one of them is wrong. */
  readonly spreadMm: number;
  readonly spreadTooBig: boolean;
}

export type Readings = Readonly<Record<Span, MeanReading | null>>;

/** `misreading`: no four points in space have these distances. `not-flat-or-misreading`: a buckled sheet might have them. */
export type Flatness = 'possible' | 'misreading' | 'not-flat-or-misreading';

/** What one distance would have to be if the other five are right. */
export interface CorrectedReading {
  readonly span: Span;
  readonly readMm: number;
  readonly mm: number;
  /** `mm` minus `readMm`. */
  readonly changeMm: number;
  /** How far `mm` itself may be off by the errors of the other five. */
  readonly errorMm: number;
}

/** A slip of the hand that is made often. */
export type ReadingErrorKind = 'whole-inch' | 'ten-mm' | 'swapped-digits';

export interface Suspect {
  readonly span: Span;
  readonly mm: number;
  readonly slip: ReadingErrorKind | null;
  /** Whether the sheet is near the job's measures once this reading is set right. */
  readonly nearJob: boolean;
}

/** How well six distances fit a flat sheet. */
export interface FlatCheck {
  readonly verdict: Flatness;
  /** The least that every single reading must be off for a flat sheet to have these distances, mm (means of several: √n less). */
  readonly eachOffMm: number;
  /** Which way: diagonals too long for the sides (no sheet at all) or too short for them (a buckled one perhaps). */
  readonly diagonals: 'fit' | 'too-long' | 'too-short';
  /** How far one hole would lie from the plane of the other three, mm; null unless the diagonals are too short. */
  readonly liftMm: number | null;
  readonly wouldBe: readonly CorrectedReading[];
  readonly suspect: Suspect | null;
}

/** Which names of the readings are the true ones. */
export interface OrderCheck {
  readonly inOrder: boolean;
  /** Pairs of holes whose names are exchanged; null when in order. Exchanging either pair mends it. */
  readonly exchanged: readonly [Corner, Corner] | null;
  /** For each distance the one under whose name it was given. */
  readonly from: Readonly<Record<Span, Span>>;
  /** Width and height are exchanged: the sheet was held turned by a quarter. */
  readonly turned: boolean;
}

export type ShapeKind = 'rectangle' | 'parallelogram' | 'trapezoid' | 'kite' | 'general';

/** The quadrilateral of the corner holes, judged within measuring error. */
export interface Shape {
  readonly kind: ShapeKind;
  /** The sides that run parallel in a trapezoid; null for all others. */
  readonly parallel: 'top-bottom' | 'left-right' | null;
  readonly anglesDeg: Readonly<Record<Corner, number>>;
  /** The farthest a corner is from 90°. */
  readonly outOfSquareDeg: number;
  /** The same as a length: how far the side that runs down from a corner strays sideways at its far end, mm. */
  readonly outOfSquareMm: number;
  /** What the errors of reading leave of it at least, and make of it at most, mm. The least is 0 for a rectangle, and above 0 for every other kind. */
  readonly outOfSquareLeastMm: number;
  readonly outOfSquareMostMm: number;
  /** Top minus bottom, right minus left, mm, and how far each may be off. */
  readonly topMinusBottomMm: number;
  readonly rightMinusLeftMm: number;
  readonly topMinusBottomErrorMm: number;
  readonly rightMinusLeftErrorMm: number;
  /** How far the bottom side has slid along the top one (above zero: to the right), mm, and the same for a metre of height. */
  readonly leanMm: number;
  readonly leanErrorMm: number;
  readonly leanMmPerM: number;
  /** Means of opposite sides. */
  readonly widthMm: number;
  readonly heightMm: number;
  /** Whether the diagonals agree within the errors of reading. */
  readonly equalDiagonals: boolean;
  readonly convex: boolean;
}

/** What the shape does to the print. `steps`: nothing that can be seen. `leans`: joins meet, the pattern leans. `misjoins`: joins spoil. */
export type PrintEffect = 'steps' | 'leans' | 'misjoins';

/** A distance from a hole that stays. */
export interface FromHole {
  readonly hole: string;
  readonly mm: number;
}

/** A hole to punch anew. */
export interface Repunch {
  /** A corner, or the name of an extra dot. */
  readonly hole: string;
  /** Where it goes, mm, in the frame of the holes. */
  readonly at: Point;
  /** From two holes that stay. */
  readonly fromMm: readonly [FromHole, FromHole];
  /** A third distance to try it by; null where there is none. */
  readonly checkMm: FromHole | null;
  /** From the old hole to the new one, mm. */
  readonly movedMm: number;
  /** The new hole would run into the old one: patch that first. */
  readonly patchFirst: boolean;
}

/** A dot between the corners: where it should be on a true sheet, and how far it was measured from corners. */
export interface ExtraDot {
  readonly name: string;
  /** mm from the upper left hole of a sheet of the job's width and height. */
  readonly at: Point;
  readonly measured: readonly { readonly from: Corner; readonly readingsMm: readonly number[] }[];
}

export interface ExtraCheck {
  readonly name: string;
  /** How far it is from its place, mm. */
  readonly offMm: number;
  readonly ok: boolean;
  /** Its distances come from one line only: they don't tell how far it lies to the side of it. */
  readonly alongOnly: boolean;
}

export interface SquareTargets {
  readonly widthMm: number;
  readonly heightMm: number;
}

export interface CheckSquareOptions {
  /** The job's measures, as the sheet is measured (wet, if it is soaked). Without them sizes are not judged. */
  readonly targets?: SquareTargets | null;
  /** How far a reading may be off, mm. */
  readonly readingErrorMm?: number;
  readonly extra?: readonly ExtraDot[];
  /** What the holes are called in sentences beside their place, such as dots' letters. */
  readonly names?: Readonly<Record<Corner, string>> | null;
  /**
   * `free`: the paper has moved, and nobody knows how far, so that a size tells of its movement and not of a fault. Default: `planned`, the sheet should have the job's
   * measures.
   */
  readonly sizes?: 'planned' | 'free';
  /** Whether a sheet with these holes spoils joins over the whole run, though its sides differ by no more than `SIDES_FIX_MM`. Default: never. */
  readonly spoils?: (holes: Holes) => boolean;
}

/** What six (or fewer) distances prove of a sheet; see `SquareCheck`. */
export type SquareVerdict =
  | 'square'
  | 'not-square'
  | 'unsettled'
  | 'misreading'
  | 'not-flat'
  | 'out-of-order'
  | 'not-enough';

/** What there is to do before the sheet prints. */
export type SquareMend = 'nothing' | 'punch-again' | 'measure-again' | 'name-again' | 'measure-rest';

/** What the sheet is by five distances if they are right, which nothing proves. */
export interface Foretold {
  readonly span: Span;
  /** What the sixth has to be then, mm. */
  readonly mm: number;
  readonly holes: Holes;
  readonly shape: Shape;
}

/** What is common to every verdict: what was read, and what it is judged by. */
interface CheckedReadings {
  /** As they were given, before any exchange of names. */
  readonly readings: Readings;
  readonly missing: readonly Span[];
  readonly targets: SquareTargets | null;
  readonly sizes: 'planned' | 'free';
  readonly readingErrorMm: number;
  readonly names: Readonly<Record<Corner, string>> | null;
}

type PossibleFlat = FlatCheck & { readonly verdict: 'possible' };
type ImpossibleFlat = FlatCheck & { readonly verdict: Exclude<Flatness, 'possible'> };
type InOrder = OrderCheck & { readonly inOrder: true; readonly exchanged: null; readonly turned: false };

/** Where a shape is known. */
interface KnownSheet {
  readonly order: InOrder;
  readonly flat: PossibleFlat;
  /** As adjusted by least squares. */
  readonly holes: Holes;
  readonly extra: readonly ExtraCheck[];
  readonly foretold: null;
}

/** Where none is: nothing may be said of it, not even a zero. */
interface UnknownSheet {
  readonly holes: null;
  readonly shape: null;
  readonly effect: null;
  readonly repunch: readonly [];
  readonly extra: readonly [];
}

export interface SquareSheetCheck extends CheckedReadings, KnownSheet {
  readonly verdict: 'square';
  readonly square: true;
  readonly shape: Shape & { readonly kind: 'rectangle'; readonly outOfSquareLeastMm: 0 };
  readonly effect: 'steps';
  /** Dots between the corners only. */
  readonly mend: 'nothing' | 'punch-again';
  readonly repunch: readonly Repunch[];
}

export interface NotSquareCheck extends CheckedReadings, KnownSheet {
  readonly verdict: 'not-square';
  readonly square: false;
  readonly shape: Shape & { readonly kind: Exclude<ShapeKind, 'rectangle'> };
  /** `misjoins` only where sides differ for certain: a parallelogram's may not. */
  readonly effect: PrintEffect;
  readonly mend: 'nothing' | 'punch-again' | 'measure-again';
  /** The fewest holes that make it square; empty where none is needed. */
  readonly repunch: readonly Repunch[];
  /** Sides of a parallelogram that may differ by too much, as read. */
  readonly doubt: SidesDoubt | null;
}

/** Fewer than six distances that no rectangle has: more is not known. */
export interface PartlyNotSquareCheck extends CheckedReadings, UnknownSheet {
  readonly verdict: 'not-square';
  readonly square: false;
  readonly order: InOrder;
  readonly flat: null;
  readonly foretold: Foretold | null;
  readonly mend: 'measure-rest';
}

export interface NotEnoughCheck extends CheckedReadings, UnknownSheet {
  readonly verdict: 'not-enough';
  readonly square: null;
  readonly order: InOrder;
  readonly flat: null;
  readonly foretold: Foretold | null;
  readonly mend: 'measure-rest';
}

export interface UnsettledCheck extends CheckedReadings, UnknownSheet {
  readonly verdict: 'unsettled';
  readonly square: null;
  readonly order: InOrder;
  readonly flat: PossibleFlat;
  readonly foretold: null;
  readonly mend: 'measure-again';
  /** Opposite sides that may differ by too much, as read. */
  readonly doubt: SidesDoubt;
}

/** Two sides whose difference is too large for joins, and less than the readings can tell. */
export interface SidesDoubt {
  readonly pair: readonly [Span, Span];
  readonly differenceMm: number;
  readonly errorMm: number;
}

export interface MisreadingCheck extends CheckedReadings, UnknownSheet {
  readonly verdict: 'misreading';
  readonly square: null;
  readonly order: InOrder;
  /** `possible` where the distances fit a plane, but put one hole inside the triangle of the others. */
  readonly flat: FlatCheck;
  readonly foretold: null;
  readonly mend: 'measure-again';
}

export interface NotFlatCheck extends CheckedReadings, UnknownSheet {
  readonly verdict: 'not-flat';
  readonly square: null;
  readonly order: InOrder;
  readonly flat: ImpossibleFlat;
  readonly foretold: null;
  readonly mend: 'measure-again';
}

export interface OutOfOrderCheck extends CheckedReadings, UnknownSheet {
  readonly verdict: 'out-of-order';
  readonly square: null;
  readonly order: OrderCheck;
  readonly flat: null;
  readonly foretold: null;
  readonly mend: 'name-again';
  /** The holes by the names that they have if nothing else is wrong; null where even so the distances fit no flat sheet. */
  readonly renamed: Holes | null;
}

/**
 * All that six (or fewer) distances tell about a sheet, as one of these; headline, findings, document and drift all follow from `verdict`:
 *
 * | verdict        | when                                                                    | square | shape, holes, effect, drift | mend                     |
 * | -------------- | ----------------------------------------------------------------------- | ------ | --------------------------- | ------------------------ |
 * | `square`       | all six; a rectangle has them within their errors                       | true   | known                       | nothing (or dots)        |
 * | `not-square`   | all six; a flat sheet has them within their errors, a rectangle has not | false  | known                       | nothing, or punch again  |
 * | `not-square`   | fewer; no rectangle has them within their errors                        | false  | null                        | measure the rest         |
 * | `unsettled`    | as `square`, but sides as read differ by more than joins stand          | null   | null                        | measure again            |
 * | `misreading`   | no four points in space have them, or one hole lies within the others   | null   | null                        | measure again            |
 * | `not-flat`     | a buckled sheet may have them, a flat one has not                       | null   | null                        | press flat, measure again |
 * | `out-of-order` | other names of the holes fit and these don't, or width is the height    | null   | null                        | name again               |
 * | `not-enough`   | fewer than six that prove nothing                                       | null   | null                        | measure the rest         |
 *
 * The rows are tried from the bottom of what can go wrong to the top: too few, order, flatness, shape.
 */
export type SquareCheck =
  | SquareSheetCheck
  | NotSquareCheck
  | PartlyNotSquareCheck
  | NotEnoughCheck
  | UnsettledCheck
  | MisreadingCheck
  | NotFlatCheck
  | OutOfOrderCheck;

/** A sheet whose shape is known. */
export type KnownSquareCheck = SquareSheetCheck | NotSquareCheck;

/** How far paper moves when it is soaked, per cent of its dry size (below zero: shrinks). */
export interface PaperMovement {
  /** Along the grain and across it. */
  readonly alongPercent: number;
  readonly acrossPercent: number;
}

/** The same by the sides of a sheet. */
export interface SheetMovement {
  readonly widthPercent: number;
  readonly heightPercent: number;
}
