import type { FullPlanOptions } from '../cloth/plan-options.js';
import type { Point } from '../geometry/types.js';
import type { Ink } from '../motif/types.js';
import type { ProofOffset } from '../proof/types.js';
import type { PaperMovement } from '../register/types.js';
import type { Repeat } from '../repeat/types.js';
import type { KeptNumber, Practice } from '../stencil/types.js';
import type { Pace, PaperRules, Tie, TieRules } from '../strength/types.js';
import type { TakenAt } from './taken-at.js';

/** How a shape that pokes out of the unit is read. */
export type Spill = 'auto' | 'carry' | 'trim';

/** The stencil paper: what it is, what is asked of it, and what is asked of ties. */
export interface JobPaper {
  readonly kind: 'treated' | 'card';
  readonly rules: PaperRules;
  readonly tie: TieRules;
}

/** A job with every default filled in and all lengths in mm: what `readJob` makes of a job file. */
export interface Job {
  readonly title: string;
  /** As written in the job file; relative to it. */
  readonly motif: string;
  readonly fonts: readonly string[];
  readonly date: string;
  readonly revision: string;
  /** `widthMm` scales the artwork evenly; `heightMm` re-frames it without stretching. */
  readonly size: { readonly widthMm: number | null; readonly heightMm: number | null };
  readonly repeat: Repeat;
  /** Units on one sheet. */
  readonly across: number;
  readonly down: number;
  readonly spill: Spill;
  /** What the dark of the drawing means. */
  readonly drawn: 'cut' | 'cloth';
  readonly method: 'resist' | 'direct';
  readonly hairlines: 'area' | 'line';
  readonly paperColour: Ink;
  /** Inks to cut; null for all but the paper colour. */
  readonly cut: readonly Ink[] | null;
  readonly joins: {
    readonly reachMm: number;
    /** Share of the opening's width at the seam from which a gap is a `look`, and the bounds of that, mm. */
    readonly gapShare: number;
    readonly gapMinMm: number;
    readonly gapMaxMm: number;
    readonly kinkFineDeg: number;
    readonly kinkBroadDeg: number;
    /** Openings narrower than this at the seam take `kinkFineDeg`. */
    readonly broadMm: number;
  };
  readonly hold: { readonly mode: 'band' | 'crossing'; readonly widthMm: number | null };
  /** How far lead cuts run past the seam. */
  readonly lapMm: number;
  readonly practice: Practice;
  /** Dots are pricked through the joined cartoon, or measured on the soaked sheet. */
  readonly punch: 'dry' | 'wet';
  /** Punches that the dyer owns, mm across, smallest first; holes that none of them fits are cut by knife. */
  readonly punchesMm: readonly number[];
  /** How far the paper moves when it is soaked; null where it was not measured. */
  readonly movement: PaperMovement | null;
  /** Whether gauze is stuck on stands in `practice`. */
  readonly paper: JobPaper;
  /** One ink cut as two sheets that print one after the other; the second laps over the edges of the first by `overlapMm`. */
  readonly double: { readonly on: boolean; readonly overlapMm: number };
  readonly pace: Pace;
  /** The unit's size at which ties, numbers, done marks and proofs were taken; `followSize` brings places to another. */
  readonly takenAt: TakenAt;
  /** Accepted ties by ink, mm on the unit (at the size of `takenAt`). Release ties only where there is gauze. */
  readonly ties: Readonly<Record<Ink, readonly Tie[]>>;
  /** Numbers that openings keep from run to run, by ink. */
  readonly numbers: Readonly<Record<Ink, readonly KeptNumber[]>>;
  /** Numbers already cut, by ink: of a sheet of the size of `takenAt`. */
  readonly done: Readonly<Record<Ink, readonly number[]>>;
  /** What printed proofs tell, by stencil: the second cut follows it. Of a sheet of the size of `takenAt`. */
  readonly proof: Readonly<Record<string, readonly ProofOffset[]>>;
  readonly sheet: {
    readonly borderMm: number;
    readonly trailingMm: number;
    /** Leading dots, which print, and trailing ones, for sighting. */
    readonly dotMm: number;
    readonly sightDotMm: number;
    /** Dots go where they show least, instead of on the corners. */
    readonly seat: boolean;
  };
  readonly pages: {
    /** `A4`, `Letter`, … or `WIDTHxHEIGHT` with a unit. */
    readonly paper: string;
    readonly orientation: 'auto' | 'portrait' | 'landscape';
    readonly marginMm: number;
    readonly overlapMm: number;
    readonly mirror: boolean;
    readonly skipBlank: boolean;
    /** Printer correction: what to multiply by so that the bars measure true. */
    readonly scaleAcross: number;
    readonly scaleAlong: number;
  };
  readonly cloth: {
    readonly widthMm: number;
    readonly lengthMm: number;
    readonly colour: Ink;
    readonly dye: Ink;
    readonly seams: boolean;
    readonly dots: boolean;
    readonly findings: boolean;
    /** Whether width and length are those on the table or those after finishing. */
    readonly sizes: 'table' | 'finished';
    /** 100 · (before − after) / before; null where it was not measured. */
    readonly shrinkAlongPercent: number | null;
    readonly shrinkAcrossPercent: number | null;
    /** `across`: the sheet lies turned clockwise by a quarter. */
    readonly direction: FullPlanOptions['direction'];
    /** Unprinted sides and ends, on the table. */
    readonly selvedgeLeftMm: number;
    readonly selvedgeRightMm: number;
    readonly startMm: number;
    readonly endMm: number;
  };
  /** How the run along the cloth is planned. */
  readonly plan: Omit<FullPlanOptions, 'cloth' | 'direction'>;
}

/** A tie that is left out. `astray`: its ends find no two banks of paper. `broad`: it leads across an opening, and is wider than the paper on which it lands. */
export interface StrandedTie {
  readonly ink: Ink;
  readonly id: string;
  readonly why: 'astray' | 'broad';
  /** Its middle, unit mm. */
  readonly atMm: Point;
}
