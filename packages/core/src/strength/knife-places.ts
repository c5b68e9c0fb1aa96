import type { Contour, Point } from '../geometry/types.js';
import { cyclicRuns } from './cyclic-runs.js';
import { type Bend, CORNER_TURN, outlineBends } from './outline-bends.js';
import type { OutlineWalk } from './outline-walk.js';

/** A bend of a smaller radius is a corner, mm: the round that the thickness of a blade's tip leaves (common practice, no published source). */
export const CORNER_RADIUS_MM = 0.3;
/** Turns of one hand nearer to each other than this are one stop of the knife, mm: what a knife can do. */
const ONE_STOP_MM = 0.2;
/** Round a bend that turns farther the knife goes on its way round a tiny hole, radians (225°): there is no tip at which it stops. */
const TIP_TURN = (225 * Math.PI) / 180;
/**
 * What stands off the line by less is not seen, and not cut, mm. The short reach to both sides finds small teeth: a knife is good to 0.2 mm. The
 * long one finds blunt corners, of which one of 30° stands off by 0.26 mm.
 */
const SHORT_LOOK = { reachMm: 0.5, seenMm: 0.2 };
const LONG_LOOK = { reachMm: 1, seenMm: 0.25 };
/** On a small hole the line is looked at over this share of its outline only. */
const REACH_SHARE = 1 / 8;
/** The least turn that the eye takes for a corner, radians (8°): half as much again as a circle in 64 sides has. */
const JERK_TURN = (8 * Math.PI) / 180;
/** Small corners follow each other in quick succession at most this far apart, mm. */
const JERK_GAP_MM = 3;
/** So many small corners make a jerky place. */
const JERK_CORNERS = 5;
/** A jerky stretch is one place for every so many mm. */
const JERK_PLACE_MM = 10;
/** A tight bend that turns less is passed without trouble, radians (10°). */
const TIGHT_TURN = (10 * Math.PI) / 180;
/** Opposite turns that lie together within this are one, mm: handles of almost no length, debris of a cut. */
const DEBRIS_MM = 0.02;

/** A stretch of outline that is tighter than the blade turns. */
export interface TightPlace {
  readonly at: Point;
  readonly lengthMm: number;
}

/** Where on an outline the knife has trouble. */
export interface KnifePlaces {
  readonly corners: readonly Point[];
  readonly tight: readonly TightPlace[];
  readonly jerks: readonly Point[];
}

export interface KnifePlacesOptions {
  /** A blade turns this tight, mm. */
  readonly turnMm: number;
  /** Whether the outline is not cut at a place; the knife has no corner there. */
  readonly isUncut?: (at: Point) => boolean;
}

/**
 * Where the knife stops, turns tight or is led astray on one outline.
 *
 * **Corners**: turns of one hand within 0.2 mm of each other, on the spot or with a radius under 0.3 mm, of 30° (where a knife is lifted and set
 * anew rather than led on) to 225° in all. Where other turns crowd within 1 mm, only those that are seen: that stand off the line by 0.2 mm over
 * 0.5 mm to both sides, or by 0.25 mm over 1 mm.
 *
 * **Tight places**: stretches with a radius of curvature under `turnMm` that turn by 10° or more, corners and the flanks of corners (up to
 * `turnMm` of length beside one) left out.
 *
 * **Jerks**: five or more small corners not more than 3 mm apart, each a turn of 8° or more that is no corner as above, stands off its line by
 * less than 0.25 mm over 1 mm to both sides, and differs by 8° or more from the mean of the turns before and after it. The last tells a bad trace
 * from a curve in facets, whose turns are alike; the standing off tells it from teeth and stars, which are larger than a knife's accuracy. A
 * jerky stretch counts once for every 10 mm. What lies in one is no tight place.
 */
export function knifePlaces(contour: Contour, { turnMm, isUncut = () => false }: KnifePlacesOptions): KnifePlaces {
  const traced = outlineBends(contour, { turnMm, cornerMm: CORNER_RADIUS_MM });
  const { walk } = traced;
  const cut = withoutDebris(traced.bends, walk).filter((b) => !isUncut(walk.pointAt((b.from + b.to) / 2)));
  const turns = cyclicRuns(cut, {
    around: walk.lengthMm,
    joined: (a, b, gap) => gap <= 1e-3 && a.turn * b.turn > 0,
  }).map((run) => asTurn(run, walk));
  const corners = cornerTurns(cut, turns, walk);
  const jerks = jerkyRuns(turns, corners, walk);
  const taken = new Set([...jerks.flatMap((run) => run.flatMap((turn) => turn.bends))]);
  return {
    corners: corners.map((corner) => walk.pointAt(corner.at)),
    tight: tightRuns(cut, { corners, taken, turnMm, walk }),
    jerks: jerks.flatMap((run) => {
      const from = run[0].from;
      const last = run[run.length - 1];
      const length = last.to - from + (last.from < from ? walk.lengthMm : 0);
      const count = Math.max(1, Math.round(length / JERK_PLACE_MM));
      return Array.from({ length: count }, (_, k) => walk.pointAt(from + ((k + 0.5) * length) / count));
    }),
  };
}

/** Bends of one hand that follow each other. */
interface Turn {
  readonly bends: readonly Bend[];
  readonly from: number;
  readonly to: number;
  /** Middle of its turning. */
  readonly at: number;
  readonly turn: number;
}

function asTurn(bends: readonly Bend[], walk: OutlineWalk): Turn {
  const { from } = bends[0];
  let turn = 0;
  let moment = 0;
  let to = from;
  for (const bend of bends) {
    // A run may go on past the outline's start.
    const lap = bend.from < from ? walk.lengthMm : 0;
    turn += bend.turn;
    moment += bend.turn * ((bend.from + bend.to) / 2 + lap);
    to = bend.to + lap;
  }
  return { bends, from, to, at: moment / turn, turn };
}

/** Opposite bends on one spot put together. */
function withoutDebris(bends: readonly Bend[], walk: OutlineWalk): Bend[] {
  const out: Bend[] = [];
  for (const bend of bends) {
    const last = out[out.length - 1];
    if (last === undefined || last.turn * bend.turn > 0 || bend.to - last.from > DEBRIS_MM) {
      out.push(bend);
      continue;
    }
    out.pop();
    const turn = last.turn + bend.turn;
    if (Math.abs(turn) > 1e-3) out.push({ from: last.from, to: bend.to, turn, kind: 'node', lengthMm: 0 });
  }
  if (out.length > 2) {
    const [first, last] = [out[0], out[out.length - 1]];
    if (first.turn * last.turn < 0 && first.to + walk.lengthMm - last.from <= DEBRIS_MM) {
      out.pop();
      out[0] = {
        from: last.from - walk.lengthMm,
        to: first.to,
        turn: first.turn + last.turn,
        kind: 'node',
        lengthMm: 0,
      };
    }
  }
  return out;
}

function cornerTurns(bends: readonly Bend[], turns: readonly Turn[], walk: OutlineWalk): Turn[] {
  // Nodes that turn by less may be the facets of a curve.
  const sharp = bends.filter(({ kind, turn }) => kind === 'sharp' || (kind === 'node' && Math.abs(turn) >= JERK_TURN));
  const stops = cyclicRuns(sharp, {
    around: walk.lengthMm,
    joined: (a, b, gap) => gap <= ONE_STOP_MM && a.turn * b.turn > 0,
  }).map((run) => asTurn(run, walk));
  const large = turns.filter((turn) => Math.abs(turn.turn) >= JERK_TURN);
  return stops.filter((stop) => {
    const size = Math.abs(stop.turn);
    if (size < CORNER_TURN || size > TIP_TURN) return false;
    if (isSeen(walk, stop.at, SHORT_LOOK) || isSeen(walk, stop.at, LONG_LOOK)) return true;
    return !isCrowded(stop, large, walk.lengthMm);
  });
}

function isSeen(walk: OutlineWalk, at: number, { reachMm, seenMm }: typeof SHORT_LOOK): boolean {
  const reach = Math.min(reachMm, walk.lengthMm * REACH_SHARE);
  return walk.standsOff(at, reach) >= (seenMm * reach) / reachMm;
}

/** Whether other turns lie within 1 mm of a stop. */
function isCrowded(stop: Turn, large: readonly Turn[], around: number): boolean {
  const reach = LONG_LOOK.reachMm;
  let a = 0;
  let b = large.length;
  while (a < b) {
    const middle = (a + b) >> 1;
    if (large[middle].at < stop.at) a = middle + 1;
    else b = middle;
  }
  const n = large.length;
  for (let k = a - 2; k <= a + 1; k++) {
    const other = large[((k % n) + n) % n];
    if (other === undefined || other.bends.some((bend) => stop.bends.includes(bend))) continue;
    const apart = Math.abs(other.at - stop.at);
    if (Math.min(apart, around - apart) <= reach) return true;
  }
  return false;
}

function jerkyRuns(turns: readonly Turn[], corners: readonly Turn[], walk: OutlineWalk): Turn[][] {
  const n = turns.length;
  if (n < JERK_CORNERS) return [];
  const around = walk.lengthMm;
  const inCorner = new Set(corners.flatMap((corner) => corner.bends));
  /** Turn of a neighbour that is near enough to belong to the same line. */
  const near = (k: number, by: 1 | -1): number => {
    const other = turns[(k + by + n) % n];
    const [a, b] = by > 0 ? [turns[k], other] : [other, turns[k]];
    const gap = b.from - a.to + (b.from < a.from ? around : 0);
    return gap <= JERK_GAP_MM ? other.turn : 0;
  };
  const small = turns.filter((turn, k) => {
    if (Math.abs(turn.turn) < JERK_TURN || turn.bends.some((bend) => inCorner.has(bend))) return false;
    if (Math.abs(turn.turn - (near(k, -1) + near(k, 1)) / 2) < JERK_TURN) return false;
    return !isSeen(walk, turn.at, LONG_LOOK);
  });
  const runs = cyclicRuns(small, { around, joined: (_a, _b, gap) => gap <= JERK_GAP_MM });
  return runs.filter((run) => run.length >= JERK_CORNERS);
}

interface TightOptions {
  readonly corners: readonly Turn[];
  readonly taken: ReadonlySet<Bend>;
  readonly turnMm: number;
  readonly walk: OutlineWalk;
}

function tightRuns(bends: readonly Bend[], { corners, taken, turnMm, walk }: TightOptions): TightPlace[] {
  const inCorner = new Set(corners.flatMap((corner) => corner.bends));
  const curved = bends.filter((bend) => (bend.kind !== 'node' || inCorner.has(bend)) && !taken.has(bend));
  const runs = cyclicRuns(curved, {
    around: walk.lengthMm,
    joined: (a, b, gap) => gap <= ONE_STOP_MM && a.turn * b.turn > 0,
  });
  return runs.flatMap((run) => {
    const tight = run.filter((bend) => !inCorner.has(bend));
    if (tight.length === 0) return [];
    const { turn, at } = asTurn(tight, walk);
    const lengthMm = tight.reduce((sum, bend) => sum + bend.lengthMm, 0);
    if (Math.abs(turn) < TIGHT_TURN || (tight.length < run.length && lengthMm <= turnMm)) return [];
    return [{ at: walk.pointAt(at), lengthMm }];
  });
}
