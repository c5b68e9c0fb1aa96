import type { Box, Ink, Job, Point, TieKind } from '@okuri/core';
import { boxOf, type LatticeStep, pointDistance, stepsOnto, tieNumber } from '@okuri/core/inside';
import type { TiesReply } from '../engine/protocol';
import { boxToPattern, type Plane, stepped, toShown } from './plane';

/** A tie as it is shown and chosen. Places on the unit, mm. */
export interface ShownTie {
  readonly id: string;
  readonly ink: Ink;
  readonly kind: TieKind;
  /** It stands in the job; else it is suggested. */
  readonly stands: boolean;
  readonly from: Point;
  readonly to: Point;
}

/** One of a tie's ends. */
export type TieEndName = 'from' | 'to';

/** A tie, told from all others of a job. */
export interface TieName {
  readonly ink: Ink;
  readonly id: string;
  readonly stands: boolean;
}

/** A tie in one of the places where it stands on the plane, mm on the plane. */
export interface TieCopy {
  readonly tie: ShownTie;
  readonly step: LatticeStep;
  readonly from: Point;
  readonly to: Point;
}

export function isSameTie(a: TieName | null, b: TieName | null): boolean {
  return a !== null && b !== null && a.ink === b.ink && a.id === b.id && a.stands === b.stands;
}

/** The ties of the job as it is now, and those that were suggested last and are not left out; of an ink, or of all. */
export function shownTies(
  job: Pick<Job, 'ties'>,
  reply: Pick<TiesReply, 'suggested'> | null,
  { ink = null, leftOut }: { readonly ink?: Ink | null; readonly leftOut: ReadonlySet<string> },
): ShownTie[] {
  const standing = Object.entries(job.ties).flatMap(([own, list]) =>
    list.map(({ id, kind, from, to }): ShownTie => ({ id, ink: own, kind, stands: true, from, to })),
  );
  const suggested = (reply?.suggested ?? []).flatMap(({ ink: own, suggested }) =>
    suggested.map(({ id, kind, from, to }): ShownTie => ({ id, ink: own, kind, stands: false, from, to })),
  );
  const open = suggested.filter(
    (tie) =>
      !leftOut.has(placeKey(tie)) &&
      !standing.some((own) => own.ink === tie.ink && tieNumber(own.id) === tieNumber(tie.id)),
  );
  return [...standing, ...open].filter((tie) => ink === null || tie.ink === ink);
}

/** Where a suggested tie lies, to a tenth of a mm: what is left out stays so when it is suggested again by another id. */
export function placeKey({ ink, from, to }: Pick<ShownTie, 'ink' | 'from' | 'to'>): string {
  return [ink, ...[from.x, from.y, to.x, to.y].map((mm) => mm.toFixed(1))].join(' ');
}

/** All places where ties stand in a part of the plane (mm on the plane). */
export function tieCopies(ties: readonly ShownTie[], plane: Plane, sight: Box): TieCopy[] {
  const seen = boxToPattern(plane, sight);
  const { reach, lattice } = plane;
  const within = {
    x0: Math.max(seen.x0, reach.x0),
    y0: Math.max(seen.y0, reach.y0),
    x1: Math.min(seen.x1, reach.x1),
    y1: Math.min(seen.y1, reach.y1),
  };
  if (within.x0 >= within.x1 || within.y0 >= within.y1) return [];
  return ties.flatMap((tie) =>
    stepsOnto(lattice, boxOf([tie.from, tie.to], ROOM_MM), within).map((step) => ({
      tie,
      step,
      from: toShown(plane, stepped(lattice, tie.from, step)),
      to: toShown(plane, stepped(lattice, tie.to, step)),
    })),
  );
}

/** The tie nearest to a place of the plane, not farther than `reachMm` from it; null where none is. */
export function tieNear(copies: readonly TieCopy[], at: Point, reachMm: number): TieCopy | null {
  let best: TieCopy | null = null;
  let least = reachMm;
  for (const copy of copies) {
    const far = pointDistance(copy, at);
    if (far > least) continue;
    least = far;
    best = copy;
  }
  return best;
}

const ROOM_MM = 0.5;
