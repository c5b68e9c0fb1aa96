import { boxIndex } from '../geometry/cluster.js';
import { distance } from '../geometry/points.js';
import type { Point } from '../geometry/types.js';
import { rounded } from '../units/round.js';
import type { KeptNumber } from './types.js';

/** An opening is taken for the same one within this distance, mm … */
const NEAR_MM = 3;
/** … or this share of its size (the root of its area), whichever is more. */
const NEAR_SHARE = 0.2;
/** Its area may have changed by these factors. */
const AREA_FACTORS = { least: 0.6, most: 1.6 } as const;
/** A change of area by e counts as much as a move by this share of the farthest move that is taken. */
const AREA_WEIGHT = 1;
/** What is kept is rounded to this many decimals of a mm and mm²: finer than a knife, coarser than a change of engine. */
const PLACE_DECIMALS = 2;
const AREA_DECIMALS = 1;

/** Where an opening lies and how large it is: by this it is known again. Field mm. */
export interface PlacedOpening {
  readonly at: Point;
  readonly areaMm2: number;
}

/** Numbers of openings, and what to keep of them until the next run. */
export interface Numbering {
  /** For each opening its number. */
  readonly numbers: readonly number[];
  /** Sorted by number. An entry without an area only says how far numbers have gone. */
  readonly kept: readonly KeptNumber[];
}

/**
 * Numbers openings. Without kept numbers they are 1, 2, 3 … in `order` (indices into `openings`). With them, an opening that lies where one of
 * like size lay takes its number, the best match first and each number once; others take numbers above the highest ever used, in order.
 */
export function numberOpenings(
  openings: readonly PlacedOpening[],
  order: readonly number[],
  kept: readonly KeptNumber[] = [],
): Numbering {
  const numbers: (number | null)[] = openings.map(() => null);
  for (const { opening, old } of bestMatches(openings, kept)) numbers[opening] = kept[old].number;
  let next = kept.reduce((most, k) => Math.max(most, k.number), 0) + 1;
  for (const k of order) numbers[k] ??= next++;
  const given = numbers.map((n) => n as number);
  return { numbers: given, kept: toKeep(openings, given, next - 1) };
}

/** Of several readings of where kept openings lie now the first by which most are found again. */
export function likeliestKept(
  openings: readonly PlacedOpening[],
  readings: readonly (readonly KeptNumber[])[],
): readonly KeptNumber[] {
  if (readings.length <= 1) return readings[0] ?? [];
  const found = readings.map((kept) => bestMatches(openings, kept).length);
  return readings[found.indexOf(Math.max(...found))];
}

function bestMatches(
  openings: readonly PlacedOpening[],
  kept: readonly KeptNumber[],
): { opening: number; old: number }[] {
  const known = kept.flatMap((one, k) => (one.areaMm2 > 0 ? [{ ...one, k }] : []));
  if (known.length === 0) return [];
  const index = boxIndex(known.map(({ x, y }) => ({ x0: x, y0: y, x1: x, y1: y })));
  const pairs: { opening: number; old: number; cost: number }[] = [];
  openings.forEach(({ at, areaMm2 }, opening) => {
    const reach = Math.max(NEAR_MM, NEAR_SHARE * Math.sqrt(areaMm2));
    for (const k of index.search(at.x - reach, at.y - reach, at.x + reach, at.y + reach)) {
      const old = known[k];
      const away = distance(old, at);
      const factor = areaMm2 / old.areaMm2;
      if (away > reach || factor < AREA_FACTORS.least || factor > AREA_FACTORS.most) continue;
      pairs.push({ opening, old: old.k, cost: away / reach + AREA_WEIGHT * Math.abs(Math.log(factor)) });
    }
  });
  pairs.sort((a, b) => a.cost - b.cost || a.old - b.old || a.opening - b.opening);
  const taken = { openings: new Set<number>(), numbers: new Set<number>() };
  return pairs.filter(({ opening, old }) => {
    if (taken.openings.has(opening) || taken.numbers.has(kept[old].number)) return false;
    taken.openings.add(opening);
    taken.numbers.add(kept[old].number);
    return true;
  });
}

function toKeep(openings: readonly PlacedOpening[], numbers: readonly number[], highest: number): KeptNumber[] {
  const kept = openings
    .map(({ at, areaMm2 }, k) => ({
      number: numbers[k],
      x: rounded(at.x, PLACE_DECIMALS),
      y: rounded(at.y, PLACE_DECIMALS),
      // Never nought: that would say that the opening is gone.
      areaMm2: Math.max(rounded(areaMm2, AREA_DECIMALS), 10 ** -AREA_DECIMALS),
    }))
    .sort((a, b) => a.number - b.number);
  // The highest number of all stays used even when its opening is gone.
  const last = kept[kept.length - 1]?.number ?? 0;
  return last < highest ? [...kept, { number: highest, x: 0, y: 0, areaMm2: 0 }] : kept;
}
