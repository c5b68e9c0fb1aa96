import { cross, gapAcross, kinkBetween } from './measure.js';
import type { RunEnd } from './runs.js';
import type { Seam } from './seam.js';

/** Two ends that have to meet, measured. */
export interface Pair {
  readonly seam: Seam;
  /** The end on the seam's right or bottom side (or in the unit on that side, near a point where seams meet). */
  readonly own: RunEnd;
  readonly partner: RunEnd;
  /** Partner's place minus own place along the seam, under the step. */
  readonly offsetMm: number;
  readonly gapMm: number;
  /** null where one of the two is a corner or a point, which has no direction to speak of. */
  readonly kinkDeg: number | null;
}

/** Measures two ends that face each other across a seam. */
export function measured(seam: Seam, own: RunEnd, partner: RunEnd, offsetMm: number): Pair {
  const bare = hasNoDirection(own) ? own : hasNoDirection(partner) ? partner : null;
  const gapMm =
    bare === null
      ? gapAcross(offsetMm, own.tangent, partner.tangent, seam.along)
      : Math.abs(offsetMm * cross((bare === own ? partner : own).tangent, seam.along));
  const kinkDeg = bare === null ? kinkBetween(own.tangent, partner.tangent) : null;
  return { seam, own, partner, offsetMm, gapMm, kinkDeg };
}

export function hasNoDirection(end: RunEnd): boolean {
  return end.corner || end.run.point;
}
