import type { Point, Side } from '../geometry/types.js';
import type { Finding, Severity } from '../motif/finding.js';
import type { Lattice } from '../repeat/types.js';
import { rounded } from '../units/round.js';
import { gapLimits, kinkLimit } from './measure.js';
import { FIX_FACTOR, type JoinOptions } from './options.js';
import type { Pair } from './pair.js';
import type { Run, RunEnd } from './runs.js';
import { ownPlace, partnerPlace, pointOnSide, type Seam } from './seam.js';

/** A pair and what to think of it. */
export interface JudgedPair {
  readonly pair: Pair;
  /** The narrower of the two openings at the seam, mm. */
  readonly widthMm: number;
  /** Neither outline runs on past the seam. */
  readonly flush: boolean;
  readonly state: 'meets' | 'bends' | 'off';
  /** null where nothing is to be said. */
  readonly severity: 'fix' | 'look' | null;
}

/** Outlines this far from square to the seam, degrees, that go on in one direction are two halves of one line, even where both end flush. */
const SLANTING_DEG = 10;

/**
 * Judges a pair by its gap, then by its kink. A kink alone is a `look`; in a carried outline it is the drawing's own corner and nothing is said
 * of it. Two outlines that end flush and square to the seam may be bars that abut with a small step: a `look`, up to the gap that anyone sees.
 * Slanting ones that go on in one direction are judged like all others.
 */
export function judgePair(pair: Pair, options: JoinOptions): JudgedPair {
  const widthMm = Math.min(...[pair.own, pair.partner].map((end) => end.run.widthMm));
  const { lookMm, fixMm } = gapLimits(widthMm, options);
  const flush = !pair.own.runsOn && !pair.partner.runsOn;
  const bends = pair.kinkDeg !== null && pair.kinkDeg >= kinkLimit(widthMm, options);
  if (pair.gapMm >= lookMm) {
    const mayBeMeant = flush && (bends || !slants(pair)) && pair.gapMm < options.gapMaxMm;
    return { pair, widthMm, flush, state: 'off', severity: pair.gapMm >= fixMm && !mayBeMeant ? 'fix' : 'look' };
  }
  const carried = pair.own.carried && pair.partner.carried;
  return { pair, widthMm, flush, state: bends ? 'bends' : 'meets', severity: bends && !carried ? 'look' : null };
}

/** Each end is measured against its own side: near a point where seams meet, the two may lie on different ones. */
function slants(pair: Pair): boolean {
  const limit = Math.sin((SLANTING_DEG * Math.PI) / 180);
  return [pair.own, pair.partner].every(({ side, tangent }) => {
    const along = side === 'left' || side === 'right' ? tangent.y : tangent.x;
    return Math.abs(along) > limit;
  });
}

/** What to say about a pair; null where it meets. */
export function pairFinding(judged: JudgedPair, at: Point): Finding | null {
  const { pair, widthMm, severity, flush, state } = judged;
  if (severity === null) return null;
  const { seam, own, partner, offsetMm, gapMm, kinkDeg } = pair;
  const opening = `${mm(widthMm)} wide opening`;
  const there = `on the ${edge(partner.side)}, ${along(partner.side, partner.atMm)}`;
  const here = `At the ${edge(own.side)} ${along(own.side, own.atMm)}`;
  const measure = {
    gapMm: rounded(gapMm),
    offsetMm: rounded(offsetMm),
    ...(kinkDeg === null ? {} : { kinkDeg: rounded(kinkDeg) }),
    widthMm: rounded(widthMm),
    seam: seam.name,
    placeMm: rounded(seam.name === 'right' ? at.y : at.x),
    ink: own.ink,
  };
  if (state === 'bends') {
    const bend = `${(kinkDeg ?? 0).toFixed(0)}°`;
    const message = `${here} the outline meets its partner ${there}, but bends by ${bend} there (${opening}): turn one of the two if the bend is not meant.`;
    return { code: 'join-kink', topic: 'joins', severity, message, atMm: at, measure };
  }
  const off = `is off by ${mm(Math.abs(offsetMm))} (gap ${mm(gapMm)} across the line; ${opening})`;
  if (flush && severity === 'look') {
    const message = `${here} an outline that ends flush with the edge ${off} from the one ${there}: leave it if a step is meant, else bring the two together.`;
    return { code: 'join-step', topic: 'joins', severity, message, atMm: at, measure };
  }
  const way = tooFar(seam, offsetMm);
  const message = `${here} the outline ${off}: its partner ${there}, lies too far ${way}; move one of the two until they meet.`;
  return { code: 'join-off', topic: 'joins', severity, message, atMm: at, measure };
}

/** Ends of one opening at one side that have no partner, and the one thing to say about them. */
export interface UnpairedGroup {
  readonly seam: Seam;
  readonly ends: readonly RunEnd[];
  readonly finding: Finding;
}

/** What to say about ends without a partner: one finding for an opening that nothing meets at either end, else one an end. */
export function unpairedFindings(
  ends: readonly RunEnd[],
  lattice: Lattice,
  seams: readonly [right: Seam, bottom: Seam],
  options: JoinOptions,
): readonly UnpairedGroup[] {
  const byRun = new Map<Run, RunEnd[]>();
  for (const end of ends) byRun.set(end.run, [...(byRun.get(end.run) ?? []), end]);
  return [...byRun.values()].map((group) => {
    const side = group[0].side;
    const seam = side === 'left' || side === 'right' ? seams[0] : seams[1];
    return { seam, ends: group, finding: unpairedFinding(group, seam, lattice, options) };
  });
}

function unpairedFinding(group: readonly RunEnd[], seam: Seam, lattice: Lattice, options: JoinOptions): Finding {
  const [end] = group;
  const { side, run } = end;
  const across = side === seam.ownSide ? seam.partnerSide : seam.ownSide;
  const onOwn = ownPlace(seam, side, end.atMm);
  const opposite = side === seam.ownSide ? partnerPlace(seam, onOwn) : onOwn;
  const runsOn = group.some((e) => e.runsOn);
  const here = `At the ${edge(side)} ${along(side, end.atMm)}`;
  const there = `the ${edge(across)}, ${along(across, opposite)}`;
  const whole = group.length > 1;
  const measure = {
    widthMm: rounded(run.widthMm),
    ends: group.length,
    seam: seam.name,
    placeMm: rounded(onOwn),
    ink: end.ink,
  };
  const what = whole ? `an opening ${mm(run.widthMm)} wide` : `one side of an opening ${mm(run.widthMm)} wide`;
  // Carried artwork meets itself by construction: an end without a partner has come to lie within other artwork there.
  const buried = group.every((e) => !e.runsOn || e.carried);
  if (runsOn && buried) {
    const message = `${here} ${what} is carried over the edge and ends within other artwork on ${there}: leave it if it is meant to end so.`;
    return {
      code: 'join-buried',
      topic: 'joins',
      severity: 'look',
      message,
      atMm: pointOnSide(lattice, side, end.atMm),
      measure,
    };
  }
  const message = runsOn
    ? `${here} ${what} runs on past the edge and no outline meets it on ${there}: draw what is missing there, or end it at the edge.`
    : `${here} ${what} ends flush with the edge and no outline meets it on ${there}: leave it if it is meant to end so, else draw its other half.`;
  // A tip so narrow that even its whole width is no gap to mend only touches the seam.
  const severity: Severity = runsOn && run.widthMm >= FIX_FACTOR * options.gapMinMm ? 'fix' : 'look';
  return {
    code: runsOn ? 'join-open' : 'join-flush',
    topic: 'joins',
    severity,
    message,
    atMm: pointOnSide(lattice, side, end.atMm),
    measure,
  };
}

function edge(side: Side): string {
  return `${side} edge`;
}

function along(side: Side, atMm: number): string {
  return side === 'left' || side === 'right' ? `${mm(atMm)} from the top` : `${mm(atMm)} from the left`;
}

function tooFar(seam: Seam, offsetMm: number): string {
  if (seam.name === 'right') return offsetMm > 0 ? 'down' : 'up';
  return offsetMm > 0 ? 'right' : 'left';
}

/** A length for a person: tenths of a millimetre, hundredths below one. */
function mm(value: number): string {
  return `${value.toFixed(Math.abs(value) < 0.995 ? 2 : 1)} mm`;
}
