import { gapLimits, kinkLimit } from './measure.js';
import type { JoinOptions } from './options.js';
import type { Pair } from './pair.js';

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
