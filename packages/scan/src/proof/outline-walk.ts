import type { Point } from '@okuri/core';
import type { FlatRing } from '@okuri/core/inside';
import { CORNER_DEG, turnAt } from './planned-edges.js';

/** A way along a planned outline, from a place on it. mm. */
export interface OutlineWalk {
  /** The place first. At least two, none twice. */
  readonly points: readonly Point[];
  /** The opening lies to the right hand of the way: it follows the ring's own sense. */
  readonly onward: boolean;
  /** How far behind the place the outline has a corner, mm; infinite where it has none within the reach. */
  readonly cornerBehindMm: number;
  /** It ends in a corner, not because its reach is used up. */
  readonly toCorner: boolean;
}

/** A place on a ring: on side `side`, `share` of the way along it. */
export interface RingPlace {
  readonly ring: FlatRing;
  readonly side: number;
  readonly share: number;
}

/** Walks along a ring from a place, on in the ring's own sense or back, until a corner or as far as `reachMm`. */
export function walkFrom(
  place: RingPlace,
  { onward, reachMm }: { readonly onward: boolean; readonly reachMm: number },
): OutlineWalk {
  const ahead = stretch(place, onward, reachMm);
  const behind = stretch(place, !onward, reachMm);
  return {
    points: ahead.points,
    onward,
    cornerBehindMm: behind.corner ? behind.lengthMm : Infinity,
    toCorner: ahead.corner,
  };
}

/** Shorter steps are rounding, mm. */
const STEP_MM = 1e-7;

function stretch(
  { ring, side, share }: RingPlace,
  onward: boolean,
  reachMm: number,
): { points: Point[]; lengthMm: number; corner: boolean } {
  const { x, y } = ring;
  const count = x.length;
  const node = (k: number): Point => ({ x: x[k], y: y[k] });
  const [a, b] = [node(side), node((side + 1) % count)];
  const points = [{ x: a.x + share * (b.x - a.x), y: a.y + share * (b.y - a.y) }];
  let lengthMm = 0;
  for (let step = 0; step < count; step++) {
    const k = onward ? (side + 1 + step) % count : (side - step + 2 * count) % count;
    const last = points[points.length - 1];
    const length = Math.hypot(x[k] - last.x, y[k] - last.y);
    lengthMm += length;
    if (length > STEP_MM) points.push(node(k));
    if (turnAt(ring, k) > CORNER_DEG) return { points, lengthMm, corner: true };
    if (lengthMm >= reachMm) break;
  }
  return { points, lengthMm, corner: false };
}
