import type { Point } from '../geometry/types.js';
import type { LatticeStep, Repeat } from '../repeat/types.js';
import type { SheetStep } from './dots.js';
import type { Laying, RigidMotion } from './drift-motion.js';
import type { Holes } from './types.js';

/** A dot by its name and its place, mm. */
export interface PlacedDot {
  readonly name: string;
  readonly at: Point;
}

/** The sheet as the job has it: what is stepped, and by which dots. */
export interface DriftSheet {
  /** Width and height of the field between the corner holes, mm, in the state in which the holes were measured (wet or dry). */
  readonly widthMm: number;
  readonly heightMm: number;
  /** How the **sheet** repeats, see `sheetRepeat`; with one unit on a sheet the job's repeat. */
  readonly repeat: Repeat;
  /** Dots, mm from the upper left of the field. Default: those of `sheetDots`. */
  readonly dots?: readonly PlacedDot[];
  /** Steps and their pairs of dots. Default: those of `sheetSteps`. */
  readonly steps?: readonly SheetStep[];
  /** Dots between the corners as they were measured, in the frame of the holes. Without one its place is interpolated between the corners. */
  readonly extra?: readonly PlacedDot[];
}

/** `columns`: down the first column, then each column from its neighbour. `rows`: across the first row, then each row from the one above. */
export type DriftLines = 'columns' | 'rows';

export interface DriftOptions {
  /** Placements down the cloth and across it. */
  readonly down: number;
  readonly across: number;
  /** How far a join may be off, mm. */
  readonly toleranceMm: number;
  /** How the cloth is walked. Default: columns; rows in a brick, whose columns are staggered. */
  readonly lines?: DriftLines;
}

/** Where a dot really is, and how that is known. `interpolated`: assumed to be the same share of the sides as on the job's sheet. */
export interface DriftDot {
  readonly name: string;
  /** On the job's sheet, mm from the upper left of the field. */
  readonly jobAt: Point;
  /** In the frame of the holes, mm. */
  readonly at: Point;
  readonly known: 'corner' | 'measured' | 'interpolated';
}

/** A step as this sheet makes it. */
export interface DriftStep {
  readonly to: 'right' | 'bottom';
  /** The lattice step. */
  readonly by: LatticeStep;
  /** The job's step, mm. */
  readonly vector: Point;
  readonly pairs: SheetStep['pairs'];
  readonly laying: Laying;
  /** The new placement in the frame of the old one. */
  readonly motion: RigidMotion;
}

/** Two places of the sheet that coincide on the cloth where a neighbour lies `by` from a placement. In the frame of the holes, mm. */
export interface SeamContact {
  readonly onEarlier: Point;
  readonly onLater: Point;
}

/** A neighbour that shares a seam of positive length, and the two ends of what they share. */
export interface SeamNeighbour {
  readonly by: LatticeStep;
  readonly contacts: readonly [SeamContact, SeamContact];
}

/** The sheet with everything that stepping it needs. */
export interface DriftModel {
  readonly holes: Holes;
  readonly sheet: DriftSheet;
  readonly lines: DriftLines;
  readonly dots: readonly DriftDot[];
  /** The step within a line (down a column); null where lines have one placement and it has no dots. */
  readonly within: DriftStep | null;
  /** The step from line to line; null where there is one line. */
  readonly between: DriftStep | null;
  /** Neighbours that come later when placements are numbered line by line. */
  readonly neighbours: readonly SeamNeighbour[];
}

/** A placement and how it lies on the cloth: from the frame of the holes to that of the cloth, mm. */
export interface DriftedPlacement {
  /** Lattice step of the job's place, in the basis of `makeLattice` with the sheet's repeat. */
  readonly step: LatticeStep;
  /** Counted from 0. In a drop, row r of a column is the r-th placement whose job's place is not above the first of the first column; a brick likewise. */
  readonly column: number;
  readonly row: number;
  readonly motion: RigidMotion;
}

/** A join between two placements. */
export interface DriftJoin {
  /** The later placement in the numbering line by line. */
  readonly column: number;
  readonly row: number;
  readonly step: LatticeStep;
  readonly with: { readonly column: number; readonly row: number; readonly step: LatticeStep };
  /** The farthest that corresponding places of the shared seam lie apart, mm. */
  readonly mm: number;
  /** Where on the cloth that is, mm: halfway between the two places. */
  readonly at: Point;
  /** The later was stepped from the earlier: its error is that of the second dot alone. */
  readonly stepped: boolean;
}

/** What a line does: a column, or the row of columns. */
export interface LineDrift {
  readonly step: DriftStep;
  /** Direction of one step against the job's, deg (above zero: clockwise as seen), and the same as mm sideways a metre. */
  readonly leanDeg: number;
  readonly leanMmPerM: number;
  /** Each placement turns so much against the one before, deg (above zero: clockwise as seen). */
  readonly turnDeg: number;
  /** Radius of the circle on which the first dots lie, mm; null where they lie on a straight line. */
  readonly radiusMm: number | null;
  /** Length of one step minus the job's, mm. */
  readonly growthMm: number;
  /** The marks of the second pair lie so much farther apart from the first than its dots, mm: a join error in every placement. */
  readonly secondDotMm: number;
  readonly over: LineTotal;
}

/** A line from its first placement to its last, by their upper left holes, against the job's places. */
export interface LineTotal {
  /** Steps from the first placement to the last. */
  readonly steps: number;
  /** Too far along the job's direction, and sideways (above zero: clockwise of it), mm. */
  readonly growthMm: number;
  readonly sidewaysMm: number;
  /** The direction from the first to the last against the job's, deg, and as mm sideways a metre. */
  readonly leanDeg: number;
  readonly leanMmPerM: number;
  readonly turnDeg: number;
}

/** What a sheet does on cloth when it is stepped dot on dot. */
export interface Drift {
  readonly model: DriftModel;
  readonly down: number;
  readonly across: number;
  readonly toleranceMm: number;
  /** Down the first column (in `rows`: across the first row); null where it has one placement. */
  readonly within: LineDrift | null;
  /** From column to column (in `rows`: from row to row); null where there is one. */
  readonly between: LineDrift | null;
  /** The first join above the tolerance, in the numbering line by line; null where all are within. */
  readonly firstOver: DriftJoin | null;
  /** The worst join of the last placement; null where the cloth has one placement. */
  readonly last: DriftJoin | null;
  /** The worst of all; of equals the first. */
  readonly worst: DriftJoin | null;
}
