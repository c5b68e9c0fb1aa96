import { METRIC_STEP_MM } from './punch-order.js';
import { LEAN_PUNCH_MM_PER_M, SIDES_FIX_MM } from './repunch.js';
import type { SquareTargets } from './types.js';

/** How a sheet is stepped, as far as its squareness has to do with it. */
export interface StepRun {
  /** How far a join may be off, mm. */
  readonly toleranceMm: number;
  /** Prints that are stepped dot on dot from one check mark to the next, beside another column of them; 1 where the cloth is one sheet wide. */
  readonly prints: number;
}

/** A join off by more is seen, mm: the job file's own default. */
export const JOIN_TOLERANCE_MM = 0.8;

/** Where no job says more: its own defaults. */
export const STEP_RUN: StepRun = { toleranceMm: JOIN_TOLERANCE_MM, prints: 5 };

/** What may differ on a sheet, and from where on a person with a ruler stops, mm. */
export interface SquareLimits extends StepRun {
  /** Top against bottom, left against right: no join of the run is off by more than the tolerance. */
  readonly sidesMm: number;
  /** One diagonal against the other: the sheet leans by no more than is worth a new hole, and by no more than the tolerance. */
  readonly diagonalsMm: number;
  /** The same, but never finer than a ruler is read. */
  readonly stopSidesMm: number;
  readonly stopDiagonalsMm: number;
}

/**
 * What must not differ on a sheet, dry or soaked. The limits are on squareness and not on size: paper that is soaked grows by some tenths of a per cent, evenly along
 * its grain and evenly across it. That moves every side by more than a join stands, and does no harm: the sheet stays a rectangle, and holes and pattern move together. So a
 * size that is off is no reason to stop; opposite sides or diagonals that differ are, in either state, and no such limit can contradict any movement.
 *
 * Sides that differ by d turn each column against the one beside it by d over its height (and each print of a column against the one above, by d over the width), so that the
 * join of the n-th print is off by n · d: d ≤ tolerance / n, and never more than `SIDES_FIX_MM`. A lean of s mm moves no join where the pattern leans with the
 * holes, and each by s where they alone lean: s ≤ tolerance, and s ≤ `LEAN_PUNCH_MM_PER_M`. The diagonals of a parallelogram then differ by 4 · width · s over their sum
 * (p² − q² = 4ab cos θ, any geometry text).
 */
export function squareLimits({ widthMm, heightMm }: SquareTargets, { toleranceMm, prints }: StepRun): SquareLimits {
  const sidesMm = Math.min(SIDES_FIX_MM, toleranceMm / prints);
  const leanMm = Math.min(toleranceMm, (LEAN_PUNCH_MM_PER_M * heightMm) / 1000);
  const diagonalsMm = (2 * widthMm * leanMm) / Math.hypot(widthMm, heightMm);
  return {
    toleranceMm,
    prints,
    sidesMm,
    diagonalsMm,
    stopSidesMm: Math.max(sidesMm, METRIC_STEP_MM),
    stopDiagonalsMm: Math.max(diagonalsMm, METRIC_STEP_MM),
  };
}
