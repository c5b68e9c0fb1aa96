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
export interface Reading {
  readonly meanMm: number;
  readonly count: number;
  /** How far the mean may be off, mm: the error of one reading (or what the readings show, if more) divided by √count. */
  readonly errorMm: number;
  /** The farthest a reading lies from the mean, mm; more than the reading error says that one of them is wrong. */
  readonly spreadMm: number;
  readonly spreadTooBig: boolean;
}

export type Readings = Readonly<Record<Span, Reading | null>>;

/** `misreading`: no four points in space have these distances. `not-flat-or-misreading`: a buckled sheet might have them. */
export type Flatness = 'possible' | 'misreading' | 'not-flat-or-misreading';

/** What one distance would have to be if the other five are right. */
export interface WouldBe {
  readonly span: Span;
  readonly readMm: number;
  readonly mm: number;
  /** `mm` minus `readMm`. */
  readonly changeMm: number;
  /** How far `mm` itself may be off by the errors of the other five. */
  readonly errorMm: number;
}

/** A slip of the hand that is made often. */
export type Slip = 'whole-inch' | 'ten-mm' | 'swapped-digits';

export interface Suspect {
  readonly span: Span;
  readonly mm: number;
  readonly slip: Slip | null;
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
  readonly wouldBe: readonly WouldBe[];
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
  /** How far `outOfSquareMm` may be off by the errors of reading. */
  readonly outOfSquareErrorMm: number;
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
}

/** All that six (or fewer) distances tell about a sheet. */
export interface SquareCheck {
  /** As they were given, before any exchange of names. */
  readonly readings: Readings;
  readonly missing: readonly Span[];
  readonly order: OrderCheck;
  /** Null with fewer than six distances: nothing proves the readings then. */
  readonly flat: FlatCheck | null;
  /** As adjusted by least squares; null with fewer than five distances. */
  readonly holes: Holes | null;
  /** Of these holes; of little worth where `flat` is not `possible`. */
  readonly shape: Shape | null;
  /** True: proved to be a rectangle within measuring error. False: proved not to be. Null: neither, or the readings can't be right. */
  readonly square: boolean | null;
  readonly effect: PrintEffect | null;
  /** The fewest holes that make it square; empty where none is needed or the readings must be taken again first. */
  readonly repunch: readonly Repunch[];
  readonly extra: readonly ExtraCheck[];
  readonly targets: SquareTargets | null;
  readonly readingErrorMm: number;
  readonly names: Readonly<Record<Corner, string>> | null;
}

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
