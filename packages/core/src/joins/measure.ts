import { cross } from '../geometry/points.js';
import type { Point } from '../geometry/types.js';
import { FIX_FACTOR, type JoinOptions } from './options.js';

/** Below this length the sum of two unit tangents has no direction (their own rounding is about 1e-16 of it). */
const NO_DIRECTION = 1e-9;

/**
 * Angle in degrees, 0 to 180, between two outlines that should go on in each other. Both tangents point out of their own
 * unit, so outlines that go on without a bend have opposite ones. Zero vectors give 0.
 */
export function kinkBetween(own: Point, partner: Point): number {
  const sine = cross(own, partner);
  const cosine = -(own.x * partner.x + own.y * partner.y);
  if (sine === 0 && cosine === 0) return 0;
  return (Math.atan2(Math.abs(sine), cosine) * 180) / Math.PI;
}

/**
 * The direction, out of the own unit, in which two outlines cross from one into the other: the mean of the own tangent and
 * of the partner's turned round. null where they cancel out.
 */
export function meanDirection(own: Point, partner: Point): Point | null {
  const x = own.x - partner.x;
  const y = own.y - partner.y;
  const length = Math.hypot(x, y);
  return length < NO_DIRECTION ? null : { x: x / length, y: y / length };
}

/**
 * Distance in mm between two outlines, measured across them: the offset times the sine of the angle at which they cross
 * the seam. It is what the eye sees; a shallow crossing has a large offset and a small gap. `along` is the seam's unit vector.
 */
export function gapAcross(offsetMm: number, own: Point, partner: Point, along: Point): number {
  const direction = meanDirection(own, partner);
  const sine =
    direction === null
      ? Math.max(Math.abs(cross(own, along)), Math.abs(cross(partner, along)))
      : cross(direction, along);
  return Math.abs(offsetMm * sine);
}

/** From which gap (mm) on a join is a `look` and a `fix`, for an opening of this width (mm) at the seam. Over `gapMaxMm` it is always a `fix`. */
export function gapLimits(
  widthMm: number,
  options: Pick<JoinOptions, 'gapShare' | 'gapMinMm' | 'gapMaxMm'>,
): { readonly lookMm: number; readonly fixMm: number } {
  const lookMm = Math.min(options.gapMaxMm, Math.max(options.gapMinMm, options.gapShare * widthMm));
  return { lookMm, fixMm: Math.min(options.gapMaxMm, FIX_FACTOR * lookMm) };
}

/** From which kink (degrees) on a join is a `look`, for an opening of this width (mm) at the seam. */
export function kinkLimit(
  widthMm: number,
  options: Pick<JoinOptions, 'kinkFineDeg' | 'kinkBroadDeg' | 'broadMm'>,
): number {
  return widthMm < options.broadMm ? options.kinkFineDeg : options.kinkBroadDeg;
}
