import type { Point, Side } from '../geometry/types.js';
import type { Ink } from '../motif/types.js';
import type { SeamEnd, SeamStretch } from '../repeat/types.js';
import { POINT_MM } from './options.js';
import type { Seam } from './seam.js';

/** An end of a run: a place where an outline meets a side of the unit. */
export interface RunEnd {
  readonly side: Side;
  readonly ink: Ink;
  readonly atMm: number;
  readonly kind: 'begin' | 'end';
  /** Unit tangent, out of the unit. */
  readonly tangent: Point;
  readonly runsOn: boolean;
  /** The end is the side's own corner, not (for certain) an outline. */
  readonly corner: boolean;
  /** A corner was moved onto the seam here from within its snap. */
  readonly moved: boolean;
  /** The outline was carried over the seams, so that both its sides are one drawing. */
  readonly carried: boolean;
  readonly run: Run;
}

/** A stretch of a side, or two that are one round the corner of a seam that closes on itself. */
export interface Run {
  readonly side: Side;
  readonly ink: Ink;
  /** null where the run has no such end: it goes all the way round. */
  readonly from: RunEnd | null;
  readonly to: RunEnd | null;
  readonly widthMm: number;
  /** So narrow that it only touches. */
  readonly point: boolean;
  /** Too small or too narrow within its unit to be cut there: nothing has to meet it. */
  readonly slight: boolean;
}

/**
 * The runs of one side, from its stretches (one ink). On a seam that closes on itself a stretch that touches the end of the side
 * and one that touches its start are one run: their corner ends vanish. A corner end whose counterpart is missing stays,
 * marked `corner`.
 */
export function runsOfSide(
  stretches: readonly SeamStretch[],
  seam: Pick<Seam, 'circular' | 'lengthMm'>,
): readonly Run[] {
  const sorted = [...stretches].sort((p, q) => p.from.atMm - q.from.atMm || p.to.atMm - q.to.atMm);
  // Near a corner both ends of a tiny stretch may be marked: which of the two corners it is shows in the place.
  const middle = seam.lengthMm / 2;
  const first = sorted.find((s) => s.from.corner && s.from.atMm < middle);
  const last = sorted.findLast((s) => s.to.corner && s.to.atMm > middle);
  if (!seam.circular || first === undefined || last === undefined) return sorted.map((s) => runFrom(s, s.from, s.to));
  if (first === last) {
    return sorted.map((s) => (s === first ? runFrom(s, null, null) : runFrom(s, s.from, s.to)));
  }
  const slight = last.slight === true && first.slight === true;
  const joined = runFrom({ ...last, slight }, last.from, first.to, first.to.atMm - first.from.atMm);
  return [...sorted.filter((s) => s !== first && s !== last).map((s) => runFrom(s, s.from, s.to)), joined];
}

/** The ends of runs that an outline makes for certain: no corners, no points. */
export function outlineEnds(runs: readonly Run[]): readonly RunEnd[] {
  return runs.filter((run) => !run.point).flatMap((run) => endsOf(run).filter((end) => !end.corner));
}

/** The ends that are there but don't have to be met by anything: lone corners of runs, and both ends of points. */
export function silentEnds(runs: readonly Run[]): {
  readonly corners: readonly RunEnd[];
  readonly points: readonly RunEnd[];
} {
  return {
    corners: runs.filter((run) => !run.point).flatMap((run) => endsOf(run).filter((end) => end.corner)),
    points: runs.filter((run) => run.point).flatMap(endsOf),
  };
}

function endsOf(run: Run): readonly RunEnd[] {
  return [run.from, run.to].filter((end) => end !== null);
}

function runFrom(stretch: SeamStretch, from: SeamEnd | null, to: SeamEnd | null, more = 0): Run {
  const { side, ink } = stretch;
  const widthMm = stretch.to.atMm - stretch.from.atMm + more;
  const run: { -readonly [K in keyof Run]: Run[K] } = {
    side,
    ink,
    from: null,
    to: null,
    widthMm,
    point: widthMm < POINT_MM,
    slight: stretch.slight === true,
  };
  // `kind` follows from which end it is, so that a run joined round the corner can't contradict itself.
  if (from !== null)
    run.from = { ...pick(from), side, ink, kind: 'begin', carried: from.carried ?? stretch.carried, run };
  if (to !== null) run.to = { ...pick(to), side, ink, kind: 'end', carried: to.carried ?? stretch.carried, run };
  return run;
}

function pick(end: SeamEnd): Pick<RunEnd, 'atMm' | 'tangent' | 'runsOn' | 'corner' | 'moved'> {
  const { atMm, tangent, runsOn, corner, moved = false } = end;
  return { atMm, tangent, runsOn, corner, moved };
}
