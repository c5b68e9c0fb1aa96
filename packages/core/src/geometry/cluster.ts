import Flatbush from 'flatbush';
import type { Box } from './types.js';

/**
 * Groups boxes that touch or overlap, directly or through others. Returns the groups as lists of indices, in order of their first
 * member. A spatial index keeps it O(n log n) while boxes overlap a bounded number of others.
 */
export function clusterBoxes(boxes: readonly Box[]): number[][] {
  if (boxes.length === 0) return [];
  const parent = boxes.map((_, k) => k);
  const root = (k: number): number => {
    let r = k;
    while (parent[r] !== r) r = parent[r];
    while (parent[k] !== r) [k, parent[k]] = [parent[k], r];
    return r;
  };
  const index = boxIndex(boxes);
  for (let k = 0; k < boxes.length; k++) {
    const b = boxes[k];
    index.search(b.x0, b.y0, b.x1, b.y1, (other) => {
      if (other > k) {
        const a = root(k);
        const c = root(other);
        if (a !== c) parent[Math.max(a, c)] = Math.min(a, c);
      }
      return false;
    });
  }
  const groups = new Map<number, number[]>();
  for (let k = 0; k < boxes.length; k++) {
    const r = root(k);
    const group = groups.get(r);
    if (group) group.push(k);
    else groups.set(r, [k]);
  }
  return [...groups.values()];
}

/** A spatial index over boxes; `search` gives their indices. At least one box. */
export function boxIndex(boxes: readonly Box[]): Flatbush {
  const index = new Flatbush(boxes.length);
  for (const b of boxes) index.add(b.x0, b.y0, b.x1, b.y1);
  index.finish();
  return index;
}
