import type { Island } from '../strength/types.js';
import type { TieGroup } from './tie-group.js';
import type { PaperBanks } from './tie-nodes.js';

/** Openings with islands, those together that lie about one island where they touch; in the order of the islands. */
export function groupOpenings(islands: readonly Island[], banks: PaperBanks): TieGroup[] {
  const parent = new Map<number, number>();
  const root = (k: number): number => {
    let r = k;
    for (let next = parent.get(r); next !== undefined; next = parent.get(r)) {
      const after = parent.get(next);
      if (after !== undefined) parent.set(r, after);
      r = next;
    }
    return r;
  };
  const join = (j: number, k: number): void => {
    const [p, q] = [root(j), root(k)];
    if (p !== q) parent.set(Math.max(p, q), Math.min(p, q));
  };
  for (const [island, openings] of banks.about) for (const opening of openings) join(island.opening, opening);
  const openingsOf = new Map<number, number[]>();
  for (const opening of banks.openings.keys()) {
    const list = openingsOf.get(root(opening));
    if (list) list.push(opening);
    else openingsOf.set(root(opening), [opening]);
  }
  const groups = new Map<string, { openings: readonly number[]; members: Island[] }>();
  for (const island of islands) {
    const r = root(island.opening);
    // Touching openings may lie on different islands, of which one is held first.
    const key = `${r} ${island.within}`;
    const group = groups.get(key) ?? { openings: openingsOf.get(r) ?? [], members: [] };
    group.members.push(island);
    groups.set(key, group);
  }
  return [...groups.values()];
}

/** Supports that islands need: two above a size, and for what holds such a one. */
export function needsOf(
  islands: readonly Island[],
  byId: ReadonlyMap<string, Island>,
  largeMm2: number,
): Map<Island, number> {
  const needs = new Map(islands.map((i) => [i, 1]));
  for (const island of islands) {
    if (!(island.areaMm2 > largeMm2)) continue;
    for (let at: Island | undefined = island; at && needs.get(at) !== 2; ) {
      needs.set(at, 2);
      at = at.within === null ? undefined : byId.get(at.within);
    }
  }
  return needs;
}
