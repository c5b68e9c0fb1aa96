import type { Ink } from '../motif/types.js';
import type { CellOpening } from './openings.js';

/** Between the name of an opening and the number of a part into which ties divide it. */
const PART_MARK = '.';

/**
 * Names the openings of a cell in which paper was left standing after those of the cell before: the same name where one is left of an
 * opening, `name.1`, `name.2`, … in reading order where several are. `from` tells for an ink from which piece before each of its pieces came;
 * inks that it lacks have their pieces as they were. The order stays.
 */
export function openingNames(
  before: readonly CellOpening[],
  after: readonly CellOpening[],
  from: ReadonlyMap<Ink, readonly number[]>,
): CellOpening[] {
  const owners = new Map<Ink, Map<number, string>>();
  for (const { ink, id, pieces } of before) {
    const list = owners.get(ink) ?? new Map<number, string>();
    owners.set(ink, list);
    for (const k of pieces) list.set(k, id);
  }
  const names = after.map(({ ink, pieces, id }) => {
    const piece = from.get(ink)?.[pieces[0]] ?? pieces[0];
    const name = owners.get(ink)?.get(piece);
    if (name === undefined)
      throw new RangeError(`got opening ${id} from piece ${piece}, which no opening before holds`);
    return name;
  });
  const counts = new Map<string, number>();
  for (const name of names) counts.set(name, (counts.get(name) ?? 0) + 1);
  const used = new Map<string, number>();
  return after.map((opening, k) => {
    const name = names[k];
    if (counts.get(name) === 1) return { ...opening, id: name };
    const part = (used.get(name) ?? 0) + 1;
    used.set(name, part);
    return { ...opening, id: `${name}${PART_MARK}${part}` };
  });
}

/** The name of the whole opening of which a name that `openingNames` gave tells a part; a whole one's own name. */
export function wholeOpeningId(id: string): string {
  return id.split(PART_MARK, 1)[0];
}
