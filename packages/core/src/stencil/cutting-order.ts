import { contoursBox } from '../geometry/contour.js';
import type { Box, Contour, Point } from '../geometry/types.js';
import type { CuttingTool, Practice, Zone } from './types.js';
import { layZones, type ZoneBox, zoneOf } from './zones.js';

/** Openings smaller than this are cut before larger ones of the same zone, mm². */
const SMALL_MM2 = 150;
/** Rows in which a zone is worked down, mm: about what a knife reaches from one place of the hand. */
const ROW_MM = 30;
/** A small zone is worked in as many rows as this. */
const ROWS_LEAST = 4;
/** An opening that pokes out of its zone by less still lies in it, mm: a knife's accuracy. */
const POKE_MM = 0.2;

/** What the order of an opening hangs on. Sheet mm. */
export interface OrderedOpening {
  readonly firstCut: readonly Contour[];
  readonly secondCut: readonly Contour[];
  readonly areaMm2: number;
  readonly labelAt: Point;
  readonly tool: CuttingTool;
  /** Diameter of its punch, mm; null for other tools. */
  readonly punchMm: number | null;
  /** It lies within the hole of another opening, on an island of its own. */
  readonly inner: boolean;
  /** Cutting it leaves paper hanging on a weak place: it comes last. */
  readonly last: boolean;
}

/** Openings by zone, in cutting order. Numbers are indices into the list of openings. */
export interface CuttingOrder {
  readonly zones: readonly Zone[];
  /** First cuts in order, zone after zone; then those of which nothing is cut before the proof. */
  readonly order: readonly number[];
  /** For each opening the letter of its zone. */
  readonly letters: readonly string[];
}

/**
 * The order in which a sheet is cut (common practice, no published source): zone after zone, and in a zone punched holes first, each punch in
 * turn, then what lies within another opening's hole, then small openings, then large ones, and last those that reach over into other zones; among
 * those alike row by row, from the left for a right hand and from the right for a left one. At the very end of a zone come the openings that leave
 * paper hanging on a weak place, so that as little as possible is done to the sheet once it hangs there.
 */
export function cuttingOrder(
  openings: readonly OrderedOpening[],
  { area, hand }: { area: Box; hand: Practice['hand'] },
): CuttingOrder {
  const places = openings.flatMap((o) => (o.firstCut.length > 0 ? [o.labelAt] : []));
  const zones = layZones(area, places, hand);
  const inZone = new Map<ZoneBox, number[]>(zones.map((zone) => [zone, []]));
  const letters = openings.map((o, k) => {
    const zone = zoneOf(zones, o.labelAt);
    inZone.get(zone)?.push(k);
    return zone.letter;
  });
  const listed = zones.map((zone) => {
    const members = inZone.get(zone) ?? [];
    const list = (cut: 'firstCut' | 'secondCut'): number[] =>
      members
        .filter((k) => openings[k][cut].length > 0)
        .map((k) => ({ k, key: orderKey(openings[k], openings[k][cut], zone.box, hand) }))
        .sort((a, b) => compareKeys(a.key, b.key) || a.k - b.k)
        .map(({ k }) => k);
    return { letter: zone.letter, box: zone.box, firstCut: list('firstCut'), secondCut: list('secondCut') };
  });
  const later = listed.flatMap((z) => z.secondCut.filter((k) => openings[k].firstCut.length === 0));
  return { zones: listed, order: [...listed.flatMap((z) => z.firstCut), ...later], letters };
}

function orderKey(o: OrderedOpening, cut: readonly Contour[], zone: Box, hand: Practice['hand']): number[] {
  const row = Math.min(ROW_MM, (zone.y1 - zone.y0) / ROWS_LEAST);
  const x = hand === 'right' ? o.labelAt.x : -o.labelAt.x;
  return [kindOf(o, cut, zone), o.punchMm ?? 0, Math.floor((o.labelAt.y - zone.y0) / row), x, o.labelAt.y];
}

function kindOf(o: OrderedOpening, cut: readonly Contour[], zone: Box): number {
  if (o.last) return 5;
  if (reachesOver(cut, zone)) return 4;
  if (o.tool === 'punch') return 0;
  if (o.inner) return 1;
  return o.areaMm2 < SMALL_MM2 ? 2 : 3;
}

function reachesOver(cut: readonly Contour[], zone: Box): boolean {
  const box = contoursBox(cut);
  return (
    box !== null &&
    (box.x0 < zone.x0 - POKE_MM ||
      box.y0 < zone.y0 - POKE_MM ||
      box.x1 > zone.x1 + POKE_MM ||
      box.y1 > zone.y1 + POKE_MM)
  );
}

function compareKeys(a: readonly number[], b: readonly number[]): number {
  const k = a.findIndex((v, n) => v !== b[n]);
  return k < 0 ? 0 : a[k] - b[k];
}
