import { boxOf } from '../geometry/boxes.js';
import { boxIndex } from '../geometry/cluster.js';
import { contourArea, contoursBox } from '../geometry/contour.js';
import { contourLength } from '../geometry/length.js';
import { insideContours } from '../geometry/point-tests.js';
import type { Contour } from '../geometry/types.js';
import { InputError } from '../units/input-error.js';
import { longestWay } from './longest-way.js';
import type { LongOpening, SheetOutline } from './types.js';

/**
 * The openings that run on for longer than `spanMm` without paper across, in the order of their numbers: the longest way inside each from one
 * end to another, by the shortest path between them (its geodesic diameter). So a spiral counts along itself, a broad shape across, and its
 * jags only as far as they reach out. Paper that stands within an opening is gone around: a ring without a tie is half its way round long. Lengths
 * are good to 3 %; `at` is the middle of the way. Of an opening in several parts the longest counts. Only openings with more than twice the span of
 * outline cost anything. Throws an `InputError` for a span that is none.
 */
export function longOpenings(
  outlines: readonly SheetOutline[],
  { spanMm }: { readonly spanMm: number },
): LongOpening[] {
  if (!(spanMm > 0) || !Number.isFinite(spanMm)) {
    throw new InputError(
      `A longest span of ${spanMm} mm leaves no opening at all: give one above 0 mm, such as 50 mm.`,
    );
  }
  const parts = new Map<number, { outer: Contour[]; rims: Contour[] }>();
  for (const { contour, opening } of outlines) {
    const part = parts.get(opening) ?? { outer: [], rims: [] };
    parts.set(opening, part);
    (contourArea(contour) > 0 ? part.outer : part.rims).push(contour);
  }
  const found: LongOpening[] = [];
  for (const [opening, { outer, rims }] of [...parts].sort(([a], [b]) => a - b)) {
    // Along half of its outer outline one comes from everywhere to everywhere on it.
    const long = outer.filter((contour) => contourLength(contour) > 2 * spanMm);
    let longest: LongOpening | null = null;
    rimsWithin(long, rims).forEach((within, k) => {
      const way = longestWay([long[k], ...within], { spanMm });
      if (way && way.lengthMm > spanMm && way.lengthMm > (longest?.lengthMm ?? 0)) longest = { opening, ...way };
    });
    if (longest) found.push(longest);
  }
  return found;
}

/** For each outer outline the rims of paper that stand within it. */
function rimsWithin(outer: readonly Contour[], rims: readonly Contour[]): Contour[][] {
  const within: Contour[][] = outer.map(() => []);
  if (outer.length === 0 || rims.length === 0) return within;
  if (outer.length === 1) return [[...rims]];
  const index = boxIndex(outer.map((contour) => contoursBox([contour]) ?? boxOf([{ x: 0, y: 0 }])));
  for (const rim of rims) {
    const [x, y] = rim.coords;
    const holder = index.search(x, y, x, y).find((k) => insideContours([outer[k]], { x, y }));
    if (holder !== undefined) within[holder].push(rim);
  }
  return within;
}
