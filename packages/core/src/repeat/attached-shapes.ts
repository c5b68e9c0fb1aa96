import { boxIndex } from '../geometry/cluster.js';
import type { Box } from '../geometry/types.js';
import { latticePoint, stepsOnto } from './lattice.js';
import type { Lattice } from './types.js';

/** What lies outside the unit but no farther than this from a carried shape is part of the same figure, mm: petals stand 2 to 3 mm apart. */
const NEAR_MM = 3;
/** Boxes that share more than this of what both cover are the same place drawn twice. */
const SAME_PLACE = 0.5;

/**
 * Of the shapes that lie wholly outside the unit, those that belong to a carried one: veins on a leaf, petals of a flower that straddles the
 * seam. Found from neighbour to neighbour. One whose place in the unit is already drawn is a neighbour drawn for show, and stays out.
 * Arguments are indices into `boxes` (mm).
 */
export function attachedShapes(
  outside: readonly number[],
  carried: readonly number[],
  { boxes, inks, lattice }: { boxes: readonly (Box | null)[]; inks: readonly string[]; lattice: Lattice },
): number[] {
  if (outside.length === 0 || carried.length === 0) return [];
  const waiting = new Set(outside.filter((k) => !drawnAtHome(k, { boxes, inks, lattice })));
  const list = [...waiting];
  if (list.length === 0) return [];
  const index = boxIndex(list.map((k) => boxes[k] as Box));
  const found: number[] = [];
  const queue = [...carried];
  for (let at = queue.pop(); at !== undefined; at = queue.pop()) {
    const b = boxes[at] as Box;
    for (const n of index.search(b.x0 - NEAR_MM, b.y0 - NEAR_MM, b.x1 + NEAR_MM, b.y1 + NEAR_MM)) {
      const k = list[n];
      if (!waiting.delete(k)) continue;
      found.push(k);
      queue.push(k);
    }
  }
  return found.sort((a, b) => a - b);
}

function drawnAtHome(
  k: number,
  { boxes, inks, lattice }: { boxes: readonly (Box | null)[]; inks: readonly string[]; lattice: Lattice },
): boolean {
  const own = boxes[k] as Box;
  const unit = { x0: 0, y0: 0, x1: lattice.widthMm, y1: lattice.heightMm };
  return stepsOnto(lattice, own, unit).some((step) => {
    const v = latticePoint(lattice, step);
    const moved = { x0: own.x0 + v.x, y0: own.y0 + v.y, x1: own.x1 + v.x, y1: own.y1 + v.y };
    return boxes.some((b, n) => b !== null && n !== k && inks[n] === inks[k] && sharedPart(moved, b) > SAME_PLACE);
  });
}

/** Area that two boxes share, over the area that they cover together. */
function sharedPart(a: Box, b: Box): number {
  const w = Math.min(a.x1, b.x1) - Math.max(a.x0, b.x0);
  const h = Math.min(a.y1, b.y1) - Math.max(a.y0, b.y0);
  if (w <= 0 || h <= 0) return 0;
  const size = (c: Box): number => (c.x1 - c.x0) * (c.y1 - c.y0);
  return (w * h) / (size(a) + size(b) - w * h);
}
