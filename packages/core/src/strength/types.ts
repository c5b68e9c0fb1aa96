import type { Box, Contour, Point } from '../geometry/types.js';

/**
 * An outline of an opening as it is cut, mm. A positive area is the outside of an opening, a negative one the rim of paper that stands within
 * it (y runs down). `opening` says which opening of the sheet it belongs to: any whole number from 0.
 */
export interface SheetOutline {
  readonly contour: Contour;
  readonly opening: number;
}

/** A sheet of paper with what is cut out of it. Outlines do not cross each other; in single points they may touch. Sheet mm. */
export interface CutPaper {
  readonly edge: Box;
  readonly outlines: readonly SheetOutline[];
}

/** A straight way across an opening from one bank of paper to another. */
export interface Span {
  readonly from: Point;
  readonly to: Point;
  readonly lengthMm: number;
}

/** Paper that no paper of positive width connects to the edge of the sheet: it falls out. */
export interface Island {
  /** `1`, `2`, … in the order in which they must be held: outer ones before those within them, else reading order. */
  readonly id: string;
  /** The opening that surrounds it. */
  readonly opening: number;
  /** Its outer rim, turned so that its area is positive. */
  readonly outline: Contour;
  readonly box: Box;
  /** Its paper alone: what is cut out within it is taken off. */
  readonly areaMm2: number;
  /** A point on its paper. */
  readonly at: Point;
  /** The island on which its opening lies: that one must be held first; null where the opening lies in paper that hangs on the edge. */
  readonly within: string | null;
  /** How many islands it lies within. */
  readonly depth: number;
  /** The shortest way across its opening to the paper around that opening. */
  readonly span: Span | null;
}

/** When paper comes loose: with the first cut, with the second (only the uncut held margin held it), or when the ties are cut away. */
export type DropsAt = 'first' | 'second' | 'release';

export interface LooseIsland extends Island {
  readonly dropsAt: DropsAt;
}

/** A place where a strip of paper (a neck) or of an opening (a slit) is narrow. */
export interface NarrowPlace {
  /** Its least width, exact on the curves. */
  readonly widthMm: number;
  /** The two points on the two banks. */
  readonly from: Point;
  readonly to: Point;
  /** Middle of the two. */
  readonly atMm: Point;
  /** How long the strip is narrower than asked for, along its middle. */
  readonly lengthMm: number;
  /** The openings on the two banks; -1 is the edge of the sheet. Of a slit both are the opening itself. */
  readonly openings: readonly [number, number];
  /** What lies beyond hangs on this place alone. Always false for a slit. */
  readonly weak: boolean;
  /** Paper that hangs on it alone, mm²; 0 where it is not weak. */
  readonly hangsMm2: number;
}

/** A tongue of paper with one free end. */
export interface Tongue {
  readonly rootMm: number;
  readonly lengthMm: number;
  /** Middle of its root, and its tip. */
  readonly root: Point;
  readonly tip: Point;
  readonly opening: number;
}

/** An opening that runs on for long without paper across. */
export interface LongOpening {
  readonly opening: number;
  readonly lengthMm: number;
  readonly at: Point;
}

/** How much of the field is cut away. Shares are 0 to 1. */
export interface CutAway {
  readonly share: number;
  /** The band across the whole field of which most is cut away, and its share. */
  readonly weakestBand: Box;
  readonly bandShare: number;
}

/** What it takes to cut one opening, or all. */
export interface CuttingWork {
  readonly lengthMm: number;
  /** Corners at which the knife stops, is lifted and set down again. */
  readonly corners: number;
  /** Length of outline that bends tighter than the blade turns, mm, and in how many places. */
  readonly tightMm: number;
  readonly tightPlaces: number;
  /** Corners in quick succession where the eye sees one line: a jerky outline. */
  readonly jerks: number;
  /** Estimates from a pace: the cutter's own where the job has it, else a usual one. */
  readonly minutes: number;
  readonly blades: number;
}

/** The work on one opening, and where its trouble lies. */
export interface OpeningWork extends CuttingWork {
  readonly opening: number;
  /** Its first jerky place and its longest tight one; null where it has none. */
  readonly jerkAt: Point | null;
  readonly tightAt: Point | null;
}

export type TieKind = 'printed' | 'release';

/**
 * A strip of paper left standing across an opening. Ends on the two banks, mm on the unit. A `printed` tie stays and shows on the cloth; a
 * `release` tie is cut away when the gauze holds.
 */
export interface Tie {
  readonly id: string;
  readonly kind: TieKind;
  readonly from: Point;
  readonly to: Point;
}

/** What is asked of ties. Lengths in mm. */
export interface TieRules {
  readonly widthMm: number;
  /** How much wider on each side an end gets. */
  readonly flareMm: number;
  /** Islands above this get two. */
  readonly largeMm2: number;
  /** Spend up to half as much length again on places where the drawing breaks anyway. */
  readonly hide: boolean;
}

/** What is asked of the paper. Lengths in mm. */
export interface PaperRules {
  readonly neckMm: number;
  readonly slitMm: number;
  /** Longest opening without a tie across. */
  readonly spanMm: number;
  /** Longest tongue, in roots. */
  readonly tongueRatio: number;
  /** The way the spatula is drawn over the sheet. */
  readonly stroke: Stroke;
  /** A blade turns this tight. */
  readonly turnMm: number;
}

export type Stroke = 'down' | 'up' | 'left' | 'right';

/** The pace of the person who cuts. */
export interface Pace {
  readonly mmPerMinute: number;
  readonly secondsPerCorner: number;
  readonly bladeMm: number;
}

/** A tie as it stands on the sheet, sheet mm. One tie of the unit may stand in several places. */
export interface SheetTie extends Tie {
  readonly outline: Contour;
}

/** What is known of the paper of one sheet. Sheet mm. */
export interface PaperReport {
  readonly rules: PaperRules;
  /** The ground itself is cut: one finding says so, instead of one for each island. */
  readonly groundCut: boolean;
  readonly islands: readonly LooseIsland[];
  readonly necks: readonly NarrowPlace[];
  readonly slits: readonly NarrowPlace[];
  readonly tongues: readonly Tongue[];
  readonly longOpenings: readonly LongOpening[];
  readonly cutAway: CutAway;
  readonly work: CuttingWork;
  /** By which the work is estimated. */
  readonly pace: Pace;
  /** The work of each opening, in the order of the sheet's openings. */
  readonly workOf: readonly OpeningWork[];
}
