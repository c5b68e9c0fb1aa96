import { boxIndex } from '../geometry/cluster.js';
import type { Point } from '../geometry/types.js';
import { type FlatRing, pointBetween, ringHolds } from './flat-ring.js';

/** How rings lie within one another. */
export interface Nest {
  /** The innermost ring around each ring; -1 where none is. */
  readonly parents: readonly number[];
  /** The innermost ring around a point; -1 where none is. */
  readonly around: (at: Point) => number;
}

/**
 * Nests rings that do not cross (they may touch). Every ring is looked up by a point well within it, so that touching does no harm; a
 * spatial index of boxes, and one of sides in long rings, keeps it O(n log n) while rings overlap a bounded number of others.
 */
export function nestRings(rings: readonly FlatRing[]): Nest {
  if (rings.length === 0) return { parents: [], around: () => -1 };
  const index = boxIndex(rings.map((r) => r.box));
  const innermost = (at: Point, aboveMm2: number): number => {
    let found = -1;
    let least = Infinity;
    index.search(at.x, at.y, at.x, at.y, (k) => {
      const size = Math.abs(rings[k].areaMm2);
      // Of rings around one point, the smaller lies within the larger.
      if (size > aboveMm2 && size < least && ringHolds(rings[k], at)) {
        found = k;
        least = size;
      }
      return false;
    });
    return found;
  };
  return {
    parents: rings.map((ring) => innermost(pointBetween(ring, []), Math.abs(ring.areaMm2))),
    around: (at) => innermost(at, 0),
  };
}
