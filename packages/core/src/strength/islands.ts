import { contoursBox, reverseContour } from '../geometry/contour.js';
import type { Box, Point } from '../geometry/types.js';
import { type FlatRing, flatRing, pointBetween } from './flat-ring.js';
import { nearestPlaces } from './nearest-places.js';
import { type Nest, nestRings } from './nest.js';
import { loopsOfTouches, SPECK_MM2 } from './touch-loops.js';
import { findTouches } from './touching.js';
import type { CutPaper, Island } from './types.js';

/** The islands of a sheet, and a way to tell on which of them a place lies. */
export interface LooseParts {
  readonly islands: readonly Island[];
  /** The island on whose own paper a place lies; null where it is cut out or hangs on the edge. Sheet mm. */
  readonly islandAt: (at: Point) => Island | null;
}

/**
 * The islands of a sheet: paper that no paper of positive width connects to its edge. What openings cut off that touch, or come nearer than
 * `HOLDS_MM` to each other or to themselves, is an island too. Outer islands come before those in openings on them, else in reading
 * order. Outlines must not cross, and paper that reaches the edge of the sheet counts as held. Paper below `SPECK_MM2` is left out.
 */
export function findIslands(paper: CutPaper): Island[] {
  return [...looseParts(paper).islands];
}

/** See `findIslands`. */
export function looseParts({ outlines }: CutPaper): LooseParts {
  const drawn = outlines.flatMap(({ contour, opening }) => flatRing(contour, opening) ?? []);
  const { rings, nest } = ringsThatCut(drawn);
  const { parents } = nest;
  const within: FlatRing[][] = rings.map(() => []);
  rings.forEach((ring, k) => {
    const parent = parents[k];
    if (ring.areaMm2 > 0 && parent >= 0 && rings[parent].areaMm2 < 0) within[parent].push(ring);
  });
  const depths = rimDepths(rings, parents);
  const rims = [...depths.keys()].map((k) => ({ k, depth: depths.get(k) ?? 0, at: pointBetween(rings[k], within[k]) }));
  rims.sort((a, b) => a.depth - b.depth || inReadingOrder(a.at, b.at));
  const byRing = new Map<number, Island>();
  rims.forEach(({ k, depth, at }, place) => {
    const rim = rings[k];
    const around = parents[k];
    const outline = reverseContour(rim.contour);
    const opening = around >= 0 && rings[around].areaMm2 > 0 ? around : -1;
    const outer = opening >= 0 ? rimAround(parents[opening], rings, parents) : -1;
    const span = opening >= 0 ? nearestPlaces(rim, rings[opening]) : null;
    byRing.set(k, {
      id: String(place + 1),
      opening: rim.opening,
      outline,
      box: contoursBox([outline]) as Box,
      areaMm2: within[k].reduce((sum, cut) => sum - cut.areaMm2, -rim.areaMm2),
      at,
      within: byRing.get(outer)?.id ?? null,
      depth,
      span: span && { from: span.from, to: span.to, lengthMm: span.lengthMm },
    });
  });
  return {
    islands: [...byRing.values()],
    islandAt: (at) => byRing.get(nest.around(at)) ?? null,
  };
}

/** The rings, those that touch in a circle put together anew, and how they lie within one another. */
function ringsThatCut(drawn: readonly FlatRing[]): { rings: readonly FlatRing[]; nest: Nest } {
  const nest = nestRings(drawn);
  const regions = drawn.map((ring, k) => (ring.areaMm2 < 0 ? k : nest.parents[k]));
  const touches = findTouches(drawn, regions);
  if (touches.length === 0) return { rings: drawn, nest };
  const rings = loopsOfTouches(drawn, touches);
  return { rings, nest: nestRings(rings) };
}

/** How many rims lie around each rim that is large enough to be an island. */
function rimDepths(rings: readonly FlatRing[], parents: readonly number[]): Map<number, number> {
  const depths = new Map<number, number>();
  const depthOf = (k: number): number => {
    const known = depths.get(k);
    if (known !== undefined) return known;
    const outer = rimAround(parents[k], rings, parents);
    const depth = outer < 0 ? 0 : depthOf(outer) + 1;
    depths.set(k, depth);
    return depth;
  };
  rings.forEach((ring, k) => {
    if (ring.areaMm2 <= -SPECK_MM2) depthOf(k);
  });
  return depths;
}

/** The innermost rim of an island at or around a ring; -1 where none is. */
function rimAround(k: number, rings: readonly FlatRing[], parents: readonly number[]): number {
  let at = k;
  while (at >= 0 && rings[at].areaMm2 > -SPECK_MM2) at = parents[at];
  return at;
}

/** Top to bottom in rows of a millimetre, then left to right. */
export function inReadingOrder(a: Point, b: Point): number {
  return Math.round(a.y) - Math.round(b.y) || a.x - b.x || a.y - b.y;
}
