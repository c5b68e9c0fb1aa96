import type { Point } from '../geometry/types.js';
import type { Ink } from '../motif/types.js';
import type { Tie } from '../strength/types.js';

/** A tie that might stand, mm on the unit. */
export interface SuggestedTie extends Tie {
  /** The island that it holds; null where it cuts a long opening. */
  readonly island: string | null;
  readonly lengthMm: number;
  /** It lies where the drawing breaks anyway. */
  readonly hidden: boolean;
}

/** Paper that no tie can hold, and why. */
export interface ImpossibleIsland {
  readonly island: string;
  readonly areaMm2: number;
  /** A point on its paper, mm on the unit. */
  readonly atMm: Point;
  /** A clause for a sentence: `no room for a tie of 2 mm`. */
  readonly reason: string;
}

/** The ties of one ink: those of the job, and those that would hold what is still loose. Ids of the suggested go on after the accepted ones. */
export interface SuggestedTies {
  readonly ink: Ink;
  readonly accepted: readonly Tie[];
  readonly suggested: readonly SuggestedTie[];
  readonly impossible: readonly ImpossibleIsland[];
  /** Large islands for which a second tie finds no place, and why; none where it is left out. */
  readonly once?: readonly ImpossibleIsland[];
}
