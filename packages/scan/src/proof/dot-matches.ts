import type { Point } from '@okuri/core';
import { type Dot, distance, type SquareIndex } from '@okuri/core/inside';
import type { FoundDot } from '../types.js';

/** A printed dot may measure this much less and more than its hole: paste spreads. */
const DIAMETER = { least: 0.5, most: 2.6 } as const;

/** A mark of the picture that may be a dot, on a plane in which distances are compared: its own mm, or px. */
export interface Mark {
  readonly at: Point;
  readonly diameter: number;
  /** As it was found, px. */
  readonly dot: FoundDot;
}

/** A dot of the sheet, and the mark that may be its print. */
export interface DotMatch {
  readonly dot: Dot;
  readonly mark: Mark;
}

/** Whether a mark has the size of a dot's print; `scale` is what the mark's plane has to a mm of the sheet. */
export function hasDotSize({ diameter }: Pick<Mark, 'diameter'>, { diameterMm }: Dot, scale: number): boolean {
  const times = diameter / (diameterMm * scale);
  return times >= DIAMETER.least && times <= DIAMETER.most;
}

/** The nearest mark within `reach` (at most the side of a square) that is wanted. */
export function nearestMark(
  marks: SquareIndex<Mark>,
  at: Point,
  reach: number,
  wanted: (mark: Mark) => boolean,
): Mark | null {
  let best: Mark | null = null;
  let least = reach;
  for (const mark of marks.around(at)) {
    const away = distance(mark.at, at);
    if (away > least || !wanted(mark)) continue;
    least = away;
    best = mark;
  }
  return best;
}
