import Flatbush from 'flatbush';
import type { Box } from './types.js';
import { UnionFind } from './union-find.js';

/**
 * Groups boxes that touch or overlap, directly or through others. Returns the groups as lists of indices, in order of their first
 * member. A spatial index keeps it O(n log n) while boxes overlap a bounded number of others.
 */
export function clusterBoxes(boxes: readonly Box[]): number[][] {
  if (boxes.length === 0) return [];
  const sets = new UnionFind(boxes.length);
  const index = boxIndex(boxes);
  for (let k = 0; k < boxes.length; k++) {
    const b = boxes[k];
    index.search(b.x0, b.y0, b.x1, b.y1, (other) => {
      if (other > k) sets.join(k, other);
      return false;
    });
  }
  return sets.groups();
}

/** A spatial index over boxes; `search` gives their indices. At least one box. */
export function boxIndex(boxes: readonly Box[]): Flatbush {
  const index = new Flatbush(boxes.length);
  for (const b of boxes) index.add(b.x0, b.y0, b.x1, b.y1);
  index.finish();
  return index;
}
