import { cross } from '../geometry/points.js';
import { SEAM_SNAP_MM } from '../repeat/cell.js';
import { gapAcross, kinkBetween } from './measure.js';
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

/** Outlines that turn by more than this at the seam, degrees, have a corner there: one that goes straight on is traced to a tenth of it. */
const CORNER_DEG = 0.5;
/** How far beside the seam a corner may lie and still be drawn on it, mm: within the snap of either unit. */
const BESIDE_MM = 2 * SEAM_SNAP_MM;

/** Measures two ends that face each other across a seam. */
export function measured(seam: Seam, own: RunEnd, partner: RunEnd, apartMm: number): Pair {
  const bare = hasNoDirection(own) ? own : hasNoDirection(partner) ? partner : null;
  const kinkDeg = kinkOf(own, partner);
  const offsetMm = unlessCorner(apartMm, seam, own, partner);
  const gapMm =
    bare === null
      ? gapAcross(offsetMm, own.tangent, partner.tangent, seam.along)
      : Math.abs(offsetMm * cross((bare === own ? partner : own).tangent, seam.along));
  return { seam, own, partner, offsetMm, gapMm, kinkDeg };
}

/** The angle between two ends that face each other, degrees; null where one of them has no direction. */
export function kinkOf(own: RunEnd, partner: RunEnd): number | null {
  return hasNoDirection(own) || hasNoDirection(partner) ? null : kinkBetween(own.tangent, partner.tangent);
}

/**
 * An offset along a seam, or 0 where a corner explains it, mm. An outline that runs beside the seam, nearer to it than the snap, and turns
 * off there comes to the seam anywhere between the places where it enters the snap and where it turns: along the seam that is the snap over
 * the sine of its angle to it. Where neither end was moved onto the seam both are where they were drawn, and nothing is to be explained.
 */
export function unlessCorner(offsetMm: number, seam: Seam, own: RunEnd, partner: RunEnd): number {
  if (!own.moved && !partner.moved) return offsetMm;
  const kinkDeg = kinkOf(own, partner);
  if (kinkDeg !== null && kinkDeg < CORNER_DEG) return offsetMm;
  const sines = [own, partner]
    .filter((end) => !hasNoDirection(end))
    .map((end) => Math.abs(cross(end.tangent, seam.along)));
  const sine = Math.min(1, ...sines);
  return Math.abs(offsetMm) * sine <= BESIDE_MM ? 0 : offsetMm;
}

export function hasNoDirection(end: RunEnd): boolean {
  return end.corner || end.run.point;
}
