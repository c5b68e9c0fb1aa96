import type { Point } from '../geometry/types.js';
import type { Lattice, SeamStretch } from '../repeat/types.js';
import { InputError } from '../units/input-error.js';
import { pairInOrder } from './assignment.js';
import { type JudgedPair, judgePair } from './judge-pair.js';
import { pairAtJunctions } from './junction.js';
import { JOIN_DEFAULTS, type JoinOptions, POINT_MM } from './options.js';
import { hasNoDirection, measured, type Pair } from './pair.js';
import { outlineEnds, type Run, type RunEnd, runsOfSide, silentEnds } from './runs.js';
import { ownPlace, pointOnSide, type Seam, seamsOf } from './seam.js';
import { touchesAmong } from './touches.js';
import type { Join, UnitVector } from './types.js';

/**
 * Matches every place where an opening's outline meets a seam with its partner across the seam, under the lattice's step, and says how
 * well they meet.
 *
 * Ends of like kind (an opening begins there, or ends there) within reach are paired along each seam: as many as possible, then with
 * the least sum of offsets. What is left over near a point where seams meet is paired over all seams that meet there. An end
 * without a partner is `open`, or flush where the outline doesn't run on. Corner ends and stretches narrower than a point
 * are never reported. Where there is too little to be cut on one side (`slight`) the other side is cut over the seam: the two have to meet as any, but
 * what is slight by itself, or on both sides, is no opening and has nothing to meet.
 * Places in mm, angles in degrees.
 *
 * Joins come sorted by seam (right, bottom) and place. Their `at` is the own end's place on the unit; for an open end on the left
 * or the top it is that end's own place, while `atMm` is the place opposite it. What is told of them follows the same order.
 *
 * Throws `InputError` when a size, place, tangent or option is not a usable number. No stretches give no joins.
 */
export function checkJoins(
  stretches: readonly SeamStretch[],
  lattice: Lattice,
  options: JoinOptions = JOIN_DEFAULTS,
): { readonly joins: readonly Join[]; readonly told: readonly JoinTold[] } {
  refuseBadInput(stretches, lattice, options);
  const seams = seamsOf(lattice);
  const inks = [...new Set(stretches.map((s) => s.ink))].sort();
  const entries: Entry[] = [];
  for (const ink of inks) {
    const { pairs, unpaired } = pairInk(
      stretches.filter((s) => s.ink === ink),
      lattice,
      seams,
      options,
    );
    const real = pairs.filter(({ own, partner }) => !own.run.slight || !partner.run.slight);
    for (const pair of real) entries.push(pairEntry(judgePair(pair, options), lattice));
    const alone = unpaired.filter((end) => !end.run.slight);
    entries.push(...unpairedEntries(alone, lattice, seams));
  }
  entries.sort((p, q) => order(p.join, q.join));
  return { joins: entries.map(({ join }) => join), told: entries.flatMap(({ told }) => (told === null ? [] : [told])) };
}

/** What there is to tell of joins: a pair, or ends of one opening at one side that have no partner. */
export type JoinTold =
  | { readonly what: 'pair'; readonly judged: JudgedPair; readonly at: Point }
  | { readonly what: 'unpaired'; readonly ends: readonly RunEnd[]; readonly seam: Seam };

interface Entry {
  readonly join: Join;
  readonly told: JoinTold | null;
}

/** All pairs of one ink, and the ends that are left. */
function pairInk(
  stretches: readonly SeamStretch[],
  lattice: Lattice,
  seams: readonly [right: Seam, bottom: Seam],
  options: JoinOptions,
): { readonly pairs: readonly Pair[]; readonly unpaired: readonly RunEnd[] } {
  const pairs: Pair[] = [];
  const left: RunEnd[] = [];
  const corners: RunEnd[] = [];
  for (const seam of seams) {
    const runs = [seam.ownSide, seam.partnerSide].map((side) =>
      runsOfSide(
        stretches.filter((s) => s.side === side),
        seam,
      ),
    );
    const [own, partner] = realEnds(runs, seam);
    const [ownSilent, partnerSilent] = runs.map(silentEnds);
    corners.push(...ownSilent.corners, ...partnerSilent.corners);
    const main = pairSeam(seam, own, partner, options.reachMm);
    // A tip may be just wide enough to count on one side and just too narrow on the other.
    const ownTips = pairSeam(seam, main.own, partnerSilent.points, options.gapMinMm);
    const partnerTips = pairSeam(seam, ownSilent.points, main.partner, options.gapMinMm);
    pairs.push(...main.pairs, ...ownTips.pairs, ...partnerTips.pairs);
    left.push(...ownTips.own, ...partnerTips.partner);
  }
  const around = pairAtJunctions(left, corners, lattice, options);
  const met = new Set(around.flatMap((pair) => [pair.own, pair.partner]));
  return { pairs: [...pairs, ...around], unpaired: left.filter((end) => !met.has(end)) };
}

/** The ends of both sides (the own side first) that have to be met: what only touches the seam on one of them has nothing to meet. */
function realEnds(runs: readonly (readonly Run[])[], seam: Seam): readonly (readonly RunEnd[])[] {
  const ends = runs.map(outlineEnds);
  const near = pairSeam(seam, ends[0], ends[1], POINT_MM);
  const touches = [touchesAmong(near.own, runs[0], seam), touchesAmong(near.partner, runs[1], seam)];
  return ends.map((list, k) => list.filter((end) => !touches[k].has(end)));
}

/** Pairs ends of like kind along one seam; `own` and `partner` in the result are the ends that are left. */
function pairSeam(
  seam: Seam,
  own: readonly RunEnd[],
  partner: readonly RunEnd[],
  reachMm: number,
): { readonly pairs: readonly Pair[]; readonly own: readonly RunEnd[]; readonly partner: readonly RunEnd[] } {
  const pairs: Pair[] = [];
  const met = new Set<RunEnd>();
  for (const kind of ['begin', 'end'] as const) {
    const ours = own.filter((end) => end.kind === kind);
    const theirs = partner.filter((end) => end.kind === kind);
    if (ours.length === 0 || theirs.length === 0) continue;
    const places = [ours, theirs].map((ends) => ends.map((end) => ownPlace(seam, end.side, end.atMm)));
    const matches = pairInOrder(places[0], places[1], { reachMm, periodMm: seam.circular ? seam.lengthMm : null });
    for (const match of matches) {
      const pair = measured(seam, ours[match.own], theirs[match.partner], match.offsetMm);
      pairs.push(pair);
      met.add(pair.own).add(pair.partner);
    }
  }
  return { pairs, own: own.filter((end) => !met.has(end)), partner: partner.filter((end) => !met.has(end)) };
}

function pairEntry(judged: JudgedPair, lattice: Lattice): Entry {
  const { seam, own, partner, offsetMm, gapMm, kinkDeg } = judged.pair;
  const at = pointOnSide(lattice, own.side, own.atMm);
  const join: Join = {
    seam: seam.name,
    ink: own.ink,
    atMm: seam.name === 'right' ? at.y : at.x,
    at,
    offsetMm,
    gapMm,
    kinkDeg,
    state: judged.state,
    flush: judged.flush,
    widthMm: judged.widthMm,
    ways: { own: wayOf(own), partner: wayOf(partner) },
  };
  return { join, told: judged.severity === null ? null : { what: 'pair', judged, at } };
}

/** One thing is told of an opening that nothing meets at either end, else one an end. */
function unpairedEntries(
  ends: readonly RunEnd[],
  lattice: Lattice,
  seams: readonly [right: Seam, bottom: Seam],
): readonly Entry[] {
  const byRun = new Map<Run, RunEnd[]>();
  for (const end of ends) byRun.set(end.run, [...(byRun.get(end.run) ?? []), end]);
  return [...byRun.values()].flatMap((group) => {
    const seam = group[0].side === 'left' || group[0].side === 'right' ? seams[0] : seams[1];
    return group.map(
      (end, k): Entry => ({
        join: {
          seam: seam.name,
          ink: end.ink,
          atMm: ownPlace(seam, end.side, end.atMm),
          at: pointOnSide(lattice, end.side, end.atMm),
          offsetMm: null,
          gapMm: null,
          kinkDeg: null,
          state: 'open' as const,
          flush: !end.runsOn,
          widthMm: end.run.widthMm,
          // The own side is that of the place: an end found on the other side only stands alone there.
          ways: end.side === seam.ownSide ? { own: wayOf(end), partner: null } : { own: null, partner: wayOf(end) },
        },
        told: k === 0 ? { what: 'unpaired', ends: group, seam } : null,
      }),
    );
  });
}

function wayOf(end: RunEnd): UnitVector | null {
  return hasNoDirection(end) ? null : { x: end.tangent.x, y: end.tangent.y };
}

function order(p: Join, q: Join): number {
  return (
    Number(p.seam === 'bottom') - Number(q.seam === 'bottom') ||
    p.atMm - q.atMm ||
    (p.ink < q.ink ? -1 : p.ink > q.ink ? 1 : 0) ||
    p.at.x - q.at.x ||
    p.at.y - q.at.y
  );
}

function refuseBadInput(stretches: readonly SeamStretch[], lattice: Lattice, options: JoinOptions): void {
  for (const key of ['widthMm', 'heightMm'] as const) {
    if (!(lattice[key] > 0 && Number.isFinite(lattice[key]))) {
      throw new InputError(`The unit's ${key} must be a positive number of mm, got ${lattice[key]}.`);
    }
  }
  for (const key of Object.keys(JOIN_DEFAULTS) as (keyof typeof JOIN_DEFAULTS)[]) {
    if (!(options[key] >= 0 && Number.isFinite(options[key]))) {
      throw new InputError(`The join setting ${key} must be a number of 0 or more, got ${options[key]}.`);
    }
  }
  for (const { side, from, to } of stretches) {
    const numbers = [from, to].flatMap((end) => [end.atMm, end.tangent.x, end.tangent.y]);
    // Refined ends of a mere touch may have changed places: such a stretch is a point, not an error.
    if (numbers.every(Number.isFinite)) continue;
    throw new InputError(
      `A stretch of the ${side} side needs finite places and tangents, got ${from.atMm} to ${to.atMm} mm.`,
    );
  }
}
