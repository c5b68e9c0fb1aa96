import { boxIndex } from '../geometry/cluster.js';
import { insideContours } from '../geometry/point-tests.js';
import { segmentLength, segmentMiddle } from '../geometry/segments.js';
import type { Point } from '../geometry/types.js';
import type { JobResult } from '../job/result.js';
import type { Ink } from '../motif/types.js';
import type { Sheet } from '../stencil/types.js';
import type { Tie, TieKind } from '../strength/types.js';
import type { ImpossibleIsland, SuggestedTies } from '../ties/suggested.js';

/** A tie as a person chooses it from a list: one that stands in the job, or one that is suggested. */
export interface ListedTie {
  readonly id: string;
  readonly kind: TieKind;
  readonly ink: Ink;
  /** Number of its stencil, from 1. */
  readonly stencil: number;
  /** The island that it holds; null where it cuts a long opening, and for one of the job: it holds its island already. */
  readonly island: string | null;
  /** Number of the opening that it crosses; null where none lies under its middle any more, as under a tie of the job. */
  readonly opening: number | null;
  readonly lengthMm: number;
  readonly widthMm: number;
  /** Its middle, mm from the upper left of the unit; on the sheet from the upper left of the field. */
  readonly atMm: Point;
  /** It lies where the drawing breaks anyway; null for one of the job. */
  readonly hidden: boolean | null;
  /** It stands in the job. */
  readonly accepted: boolean;
}

export interface ListedImpossible extends ImpossibleIsland {
  readonly ink: Ink;
  readonly stencil: number;
}

export interface TieList {
  readonly ties: readonly ListedTie[];
  readonly impossible: readonly ListedImpossible[];
  /** Large islands that one tie has to hold alone. */
  readonly once?: readonly ListedImpossible[];
}

/** The ties of a job, those that stand in it before those that are suggested, stencil by stencil. */
export function listTies(
  { job, inks, sheets }: Pick<JobResult, 'job' | 'inks' | 'sheets'>,
  suggestions: readonly SuggestedTies[],
): TieList {
  const ties: ListedTie[] = [];
  const impossible: ListedImpossible[] = [];
  const once: ListedImpossible[] = [];
  for (const { ink, accepted, suggested, impossible: hopeless, once: alone = [] } of suggestions) {
    const stencil = inks.indexOf(ink) + 1;
    const openingAt = openingFinder(sheets.find((sheet) => sheet.ink === ink));
    const listed = (tie: Tie) => {
      const atMm = segmentMiddle(tie);
      const { id, kind } = tie;
      return { id, kind, ink, stencil, opening: openingAt(atMm), widthMm: job.paper.tie.widthMm, atMm };
    };
    for (const tie of accepted) {
      const lengthMm = segmentLength(tie);
      ties.push({ ...listed(tie), island: null, lengthMm, hidden: null, accepted: true });
    }
    for (const tie of suggested) {
      const { island, lengthMm, hidden } = tie;
      ties.push({ ...listed(tie), island, lengthMm, hidden, accepted: false });
    }
    impossible.push(...hopeless.map((one) => ({ ...one, ink, stencil })));
    once.push(...alone.map((one) => ({ ...one, ink, stencil })));
  }
  return once.length > 0 ? { ties, impossible, once } : { ties, impossible };
}

/** Finds the number of the opening in which a point of the first unit lies. */
function openingFinder(sheet: Sheet | undefined): (at: Point) => number | null {
  if (sheet === undefined || sheet.openings.length === 0) return () => null;
  const index = boxIndex(sheet.openings.map(({ box }) => box));
  return ({ x, y }) => {
    const at = { x: x + sheet.field.x0, y: y + sheet.field.y0 };
    const found = index
      .search(at.x, at.y, at.x, at.y)
      .map((k) => sheet.openings[k])
      .filter(({ firstCut, secondCut }) => insideContours([...firstCut, ...secondCut], at));
    return found.length === 0 ? null : Math.min(...found.map(({ number }) => number));
  };
}
