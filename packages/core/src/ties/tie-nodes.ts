import { boxIndex } from '../geometry/cluster.js';
import { contourArea, contoursBox } from '../geometry/contour.js';
import type { Box, Contour, Point } from '../geometry/types.js';
import { looseParts } from '../strength/islands.js';
import type { CutPaper, Island } from '../strength/types.js';

/** How far beyond a bank one looks to see whose paper it is, mm: more than what holds no paper, less than any knife cuts. */
const BEYOND_MM = 0.003;
/** Boxes of one outline, turned either way, agree to this, mm. */
const SAME_BOX_MM = 1e-6;

/** The openings of a sheet and the islands on their banks. */
export interface PaperBanks {
  /** The outlines of every opening. */
  readonly openings: ReadonlyMap<number, readonly Contour[]>;
  /** Islands that stand in every opening. */
  readonly members: ReadonlyMap<number, readonly Island[]>;
  /** Openings by whose banks an island lies that is no single rim (what openings cut off that touch). */
  readonly mixed: ReadonlySet<number>;
  /** Such islands, each with the openings about it. */
  readonly about: ReadonlyMap<Island, readonly number[]>;
  /**
   * The island whose paper stands behind a place of a bank: outline number `bank` of the opening, looked at along the unit vector `way`.
   * `held` where that paper is no island of the list.
   */
  readonly behind: (opening: number, bank: number, at: Point, way: Point) => Island | 'held' | null;
}

/**
 * Sorts the outlines of a sheet by opening and finds out which of the islands given stands behind which bank. Near linear: places are only
 * looked up one by one where openings touch.
 */
export function paperBanks(paper: CutPaper, islands: readonly Island[]): PaperBanks {
  const openings = new Map<number, Contour[]>();
  for (const { contour, opening } of paper.outlines) push(openings, opening, contour);
  const members = new Map<number, Island[]>();
  for (const island of islands) push(members, island.opening, island);
  const byId = new Map(islands.map((i) => [i.id, i]));
  const rims = new Map<number, (Island | 'outer' | null)[]>();
  const single = new Set<Island>();
  for (const [opening, list] of members) {
    const byCorner = [...list].sort((a, b) => a.box.x0 - b.box.x0);
    const row = (openings.get(opening) ?? []).map((contour) => {
      if (contourArea(contour) >= 0) return 'outer';
      const found = islandOf(contoursBox([contour]) as Box, byCorner);
      if (found) single.add(found);
      return found;
    });
    rims.set(opening, row);
  }
  const composite = islands.filter((i) => !single.has(i));
  const mixed = new Set<number>();
  const lookUp = composite.length > 0 ? placeLookUp(paper, islands) : null;
  const about = openingsAbout(composite, openings);
  for (const list of about.values()) for (const opening of list) mixed.add(opening);
  const behind = (opening: number, bank: number, at: Point, way: Point): Island | 'held' | null => {
    if (lookUp && mixed.has(opening)) return lookUp({ x: at.x + BEYOND_MM * way.x, y: at.y + BEYOND_MM * way.y });
    const rim = rims.get(opening)?.[bank];
    if (rim !== undefined && rim !== 'outer') return rim;
    const around = members.get(opening)?.[0]?.within ?? null;
    return (around === null ? undefined : byId.get(around)) ?? 'held';
  };
  return { openings, members, mixed, about, behind };
}

/** The openings whose boxes meet those of islands. */
function openingsAbout(
  islands: readonly Island[],
  openings: ReadonlyMap<number, readonly Contour[]>,
): Map<Island, number[]> {
  const about = new Map<Island, number[]>();
  if (islands.length === 0) return about;
  const index = boxIndex(islands.map((i) => i.box));
  for (const [opening, contours] of openings) {
    const box = contoursBox(contours);
    if (!box) continue;
    for (const k of index.search(box.x0, box.y0, box.x1, box.y1)) push(about, islands[k], opening);
  }
  return about;
}

/** Looks a place up on the sheet itself. */
function placeLookUp(paper: CutPaper, islands: readonly Island[]): (at: Point) => Island | 'held' {
  const parts = looseParts(paper);
  const given = new Map(islands.flatMap((i) => [[parts.islandAt(i.at), i] as const]));
  return (at) => {
    const found = parts.islandAt(at);
    return (found && given.get(found)) ?? 'held';
  };
}

/** The island with a box, of a list that rises by the left side. */
function islandOf(box: Box, byCorner: readonly Island[]): Island | null {
  let low = 0;
  let high = byCorner.length;
  while (low < high) {
    const mid = (low + high) >> 1;
    if (byCorner[mid].box.x0 < box.x0 - SAME_BOX_MM) low = mid + 1;
    else high = mid;
  }
  for (let k = low; k < byCorner.length && byCorner[k].box.x0 < box.x0 + SAME_BOX_MM; k++) {
    if (sameBox(byCorner[k].box, box)) return byCorner[k];
  }
  return null;
}

function sameBox(a: Box, b: Box): boolean {
  return (
    Math.abs(a.x0 - b.x0) < SAME_BOX_MM &&
    Math.abs(a.y0 - b.y0) < SAME_BOX_MM &&
    Math.abs(a.x1 - b.x1) < SAME_BOX_MM &&
    Math.abs(a.y1 - b.y1) < SAME_BOX_MM
  );
}

function push<K, V>(map: Map<K, V[]>, key: K, value: V): void {
  const list = map.get(key);
  if (list) list.push(value);
  else map.set(key, [value]);
}
