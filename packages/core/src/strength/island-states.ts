import type { Point } from '../geometry/types.js';
import { looseParts } from './islands.js';
import type { CutPaper, DropsAt, Island, LooseIsland } from './types.js';

/** Two areas of one piece of paper differ by less than this share where nothing was cut off it. */
const SAME_SHARE = 0.01;

/**
 * The islands of a sheet through its states of cutting, each listed once, with the first state in which it is loose: after the first cut,
 * after the second, after the release ties were cut away (`release`; null where there are none). First cut's islands come first, and in each state
 * outer ones before those within them. Ids are `1`, `2`, … over the whole list.
 *
 * Every cut only takes paper away, so a later island is part of one earlier piece of paper. Where that was an island, it is the same one
 * if its area is the same within 1 %, or if it is the largest part that is left: it is listed as it was when it came loose. Smaller parts that a later cut
 * takes off an island are listed on their own, in that later state, as what holds the island does not hold them. An island that a later
 * cut removes wholly stays listed. `within` names the island around in the state in which it came loose.
 */
export function islandStates(first: CutPaper, second: CutPaper, release: CutPaper | null): LooseIsland[] {
  const states: (readonly [DropsAt, CutPaper])[] = [
    ['first', first],
    ['second', second],
  ];
  if (release) states.push(['release', release]);
  const listed: LooseIsland[] = [];
  let earlierAt: (at: Point) => Known | null = () => null;
  for (const [dropsAt, paper] of states) {
    const { islands, islandAt } = looseParts(paper);
    const ids = new Map<string, string>();
    for (const [island, earlier] of knownIslands(islands, earlierAt)) ids.set(island.id, earlier.id);
    for (const island of islands) {
      if (ids.has(island.id)) continue;
      const id = String(listed.length + 1);
      ids.set(island.id, id);
      // Outer islands come first, so the island around has its number by now.
      const within = island.within === null ? null : (ids.get(island.within) ?? null);
      listed.push({ ...island, id, within, dropsAt });
    }
    earlierAt = (at) => {
      const island = islandAt(at);
      return island && { id: ids.get(island.id) as string, areaMm2: island.areaMm2 };
    };
  }
  return listed;
}

/** An island of the state before, by the id under which it is listed. */
interface Known {
  readonly id: string;
  readonly areaMm2: number;
}

/** Which islands are still those of the state before. */
function knownIslands(islands: readonly Island[], earlierAt: (at: Point) => Known | null): Map<Island, Known> {
  const known = new Map<Island, Known>();
  const largest = new Map<string, Island>();
  for (const island of islands) {
    const earlier = earlierAt(island.at);
    if (!earlier) continue;
    if (Math.abs(island.areaMm2 - earlier.areaMm2) <= SAME_SHARE * earlier.areaMm2) {
      known.set(island, earlier);
      largest.set(earlier.id, island);
      continue;
    }
    const other = largest.get(earlier.id);
    if (other && other.areaMm2 >= island.areaMm2) continue;
    if (other) known.delete(other);
    known.set(island, earlier);
    largest.set(earlier.id, island);
  }
  return known;
}
