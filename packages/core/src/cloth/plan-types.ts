import type { Box, Point } from '../geometry/types.js';
import type { Ink } from '../motif/types.js';
import type { Lattice, LatticeStep } from '../repeat/types.js';

/**
 * Places of a plan are on the cloth as it lies on the table, in mm: x across from its left edge, y along from its starting end. What lies
 * at the left of the cloth or before its start has numbers below zero.
 */

/** `along`: the unit's height runs along the cloth. `across`: the sheet lies turned clockwise by a quarter, its left side towards the start. */
export type Direction = 'along' | 'across';

/** `on`: each placement lands on the one before, wet. `every-other`: placements that touch are not printed while their neighbours are wet. */
export type Stepping = 'on' | 'every-other';

/** A cloth, or a part of it, in two sizes. */
export interface ClothSize {
  readonly widthMm: number;
  readonly lengthMm: number;
}

/** What is printed on. */
export interface PlanCloth {
  /** As it was given, and which size that was. */
  readonly given: ClothSize;
  readonly sizes: 'table' | 'finished';
  /** On the table, before it shrinks. */
  readonly table: ClothSize;
  /** After finishing. */
  readonly finished: ClothSize;
  /** 100 · (before − after) / before; above zero shrinks. null where it was not measured: then both sizes are one. */
  readonly shrinkAcrossPercent: number | null;
  readonly shrinkAlongPercent: number | null;
  readonly selvedgeLeftMm: number;
  readonly selvedgeRightMm: number;
  /** What of the cloth is printed: without selvedges and unprinted ends. */
  readonly usable: Box;
  /** From the start of the usable cloth to where every column prints without a gap; above zero only where no placement lies over the start. */
  readonly headWasteMm: number;
  /** The same at the left of the usable cloth, for the rows of a brick. */
  readonly sideWasteMm: number;
}

/** A placement of a sheet's field. */
export interface PlanPlacement {
  /** `c2r5`: column 2, row 5. */
  readonly id: string;
  /** From 1, leftmost first. In a brick it counts within the row. */
  readonly column: number;
  /** From 1 at the start of the cloth. In a drop it counts within the column. */
  readonly row: number;
  /** Lattice coordinates in the lattice of the plan. */
  readonly step: LatticeStep;
  /** The first dot (the one at the upper left of the field, face up). */
  readonly at: Point;
  /** The whole field. */
  readonly field: Box;
  /** What of the field lies on the usable cloth. */
  readonly visible: Box;
  /** Area of `visible` over area of the field, 0 to 1. */
  readonly share: number;
  /** All of the field lies on the usable cloth. */
  readonly whole: boolean;
  /** From 1. Every sheet of the job prints all passes. */
  readonly pass: number;
  /** From 1, within its pass. */
  readonly order: number;
}

/** A strip to cover before it is printed over. */
export interface Mask {
  readonly side: 'start' | 'end' | 'left' | 'right';
  /** The strip, on the cloth and beyond it. */
  readonly box: Box;
  /** How much of its width lies on cloth, and how much beyond the cloth, where waste has to be laid. */
  readonly onClothMm: number;
  readonly beyondMm: number;
}

/** What stays plain, or would if no placement were cut. */
export interface Leftover {
  /** Beside the whole columns, across the cloth. */
  readonly acrossMm: number;
  /** Behind the last whole row of the first column, along the cloth. */
  readonly alongMm: number;
  /** Usable cloth on which nothing prints. */
  readonly plainMm2: number;
}

/** One pass of one sheet. */
export interface PlanPass {
  readonly pass: number;
  readonly placements: number;
  /** The way along the placements in their order, mm. */
  readonly walkMm: number;
}

/** How the passes were found. */
export interface PassChoice {
  readonly stepping: Stepping;
  /** Steps to placements that must not print while this one is wet; of each and its opposite, both. */
  readonly conflicts: readonly LatticeStep[];
  readonly count: number;
  /** No plan has fewer passes than this: so many placements stand in each other's way, each in every other's. */
  readonly least: number;
  /** What taking the first free pass for each placement in turn needs. */
  readonly greedy: number;
  /** For `on`: wipe the back of the sheet after so many placements. */
  readonly wipeEvery: number | null;
}

/** A mark on the cloth, measured from the zero of the ground line. */
export interface CheckMark {
  readonly id: string;
  readonly at: Point;
  /** From the zero, to the right and along the cloth. */
  readonly acrossMm: number;
  readonly alongMm: number;
}

/** The straight line that everything is measured from. */
export interface GroundLine {
  /** Across the cloth: the left dots of the fields that it runs along. */
  readonly xMm: number;
  readonly fromMm: number;
  readonly toMm: number;
  /** Where all measures begin: the marked dot of the placement at the plan's origin. */
  readonly zero: Point;
  /** Name of the dot that is marked: the one at the field's upper left as it lies on the cloth. */
  readonly dot: string;
  readonly every: number;
  /** Where that dot of every fifth (`every`) placement belongs, for all columns: 1, 6, 11 … */
  readonly marks: readonly CheckMark[];
}

/** A step of the marking walk: only dots are marked. `from` is null where the sheet is laid by a check mark: the first, and what has no neighbour. */
export interface MarkingStep {
  readonly id: string;
  readonly from: string | null;
}

/** A size of the unit that fills the usable width exactly. */
export interface FittingSize {
  /** How many units across the cloth. */
  readonly repeats: number;
  /** What the unit's width and height have to be multiplied by. */
  readonly scale: number;
  /** The unit's own width and height then, mm on the table. */
  readonly widthMm: number;
  readonly heightMm: number;
}

/** How much cloth to order. */
export interface LengthOrder {
  readonly finishedMm: number;
  readonly wholeRepeats: boolean;
  /** Whole repeats in it; null where they are not asked for. */
  readonly repeats: number | null;
  /** The printed length on the table. */
  readonly printedMm: number;
  /** The printed length after finishing: at least `finishedMm`. */
  readonly printedFinishedMm: number;
  /** With the unprinted ends and what a start half a step in costs. */
  readonly orderMm: number;
}

/** Lengths to be cut from the printed cloth and joined side by side. */
export interface PanelPlan {
  readonly count: number;
  readonly finishedMm: number;
  /** One panel, on the table. */
  readonly lengthMm: number;
  /** Whole units across a panel; the rest of the width is trimmed. 0: the cloth is narrower than one, and panels can't match. */
  readonly columns: number;
  readonly trimmedMm: number;
  /** The pattern comes again after so much cloth. */
  readonly repeatMm: number;
  readonly panels: readonly Panel[];
  /** From the start of the first to the end of the last. */
  readonly neededMm: number;
  /** Cloth between panels. */
  readonly wasteMm: number;
  /** All of them lie on the usable cloth. */
  readonly fits: boolean;
}

/** One panel on the cloth, mm from the cloth's start. */
export interface Panel {
  readonly fromMm: number;
  readonly toMm: number;
  /** From the end of this one to the start of the next, so that they match; 0 after the last. */
  readonly wasteMm: number;
}

/** When a pass is printed. Days from 1; minutes from the start of the day's work. */
export interface TimedPass {
  readonly sheet: number;
  readonly face: 'front' | 'back';
  readonly pass: number;
  readonly minutes: number;
  readonly startDay: number;
  readonly startMinute: number;
  readonly endDay: number;
  readonly endMinute: number;
}

/** An estimate of the time; its inputs are in it. */
export interface Schedule {
  readonly secondsAPlacement: number;
  readonly dryingMinutes: number;
  readonly hoursADay: number;
  readonly passes: readonly TimedPass[];
  /** Passes of the mean length in a day's work; below 1 where one takes longer than a day. */
  readonly passesADay: number;
  readonly days: number;
}

/** An estimate of the paste or colour of one ink; its inputs are in `PasteEstimate`. */
export interface InkPaste {
  readonly ink: Ink;
  /** Sheets that print it. */
  readonly sheets: number;
  /** All openings of those sheets, first and second cut. */
  readonly openMm2: number;
  /** What goes onto the cloth. */
  readonly printedMl: number;
  /** What to mix: what is printed, and the share on top for tool and bowl. */
  readonly ml: number;
  readonly grams: number;
}

/** An estimate of what is needed; its inputs are in it. */
export interface PasteEstimate {
  readonly filmMm: number;
  readonly extraPercent: number;
  readonly densityGPerMl: number;
  /** Placements, cut ones counted by their share of area, on all faces. */
  readonly placements: number;
  readonly inks: readonly InkPaste[];
  readonly ml: number;
  readonly grams: number;
}

/** An estimate of how many cut sheets the run wears out, for each stencil; its inputs are in it. */
export interface WearEstimate {
  readonly gauze: boolean;
  /** Placements that a sheet lasts. */
  readonly placementsASheet: number;
  /** Days of soaking and printing that a sheet lasts; null for no bound. */
  readonly daysASheet: number | null;
  readonly sheets: readonly {
    readonly sheet: number;
    readonly ink: Ink;
    readonly days: number;
    readonly needed: number;
  }[];
}

/** The back of the cloth: the sheet turned over, the drop reversed. Places as seen from the back, x from the edge that is then left. */
export interface BackFace {
  /** Where the first dot of each placement lies; same order as the plan's placements. */
  readonly at: readonly Point[];
  readonly lattice: Lattice;
}

/** How a run is printed along a cloth. */
export interface Plan {
  readonly cloth: PlanCloth;
  readonly direction: Direction;
  readonly start: 'above' | 'in';
  readonly fill: 'cover' | 'whole';
  /** The lattice of the sheet's field as it lies on the cloth. */
  readonly lattice: Lattice;
  /** The paper around the field of a placement, from the upper left of the field as it lies on the cloth. */
  readonly sheetBox: Box;
  /** The place of lattice step 0, 0. */
  readonly origin: Point;
  /** Number of columns, and of rows in the longest column, on the cloth. */
  readonly across: number;
  readonly along: number;
  /** Column by column (row by row in a brick). */
  readonly placements: readonly PlanPlacement[];
  readonly whole: number;
  readonly cut: number;
  readonly masks: readonly Mask[];
  readonly leftover: Leftover;
  /** How much of a unit is trimmed off because the cloth is narrower; 0 where it is not. */
  readonly trimmedWidthMm: number;
  readonly fittingSizes: readonly FittingSize[];
  readonly ground: GroundLine | null;
  /** Before anything is printed; null for `stepping: 'on'`. */
  readonly marking: readonly MarkingStep[] | null;
  readonly choice: PassChoice;
  /** Of one sheet on one face. */
  readonly passes: readonly PlanPass[];
  readonly schedule: Schedule;
  readonly paste: PasteEstimate;
  readonly wear: WearEstimate;
  readonly order: LengthOrder | null;
  readonly panels: PanelPlan | null;
  readonly back: BackFace | null;
}
