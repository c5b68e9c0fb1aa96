import type { Point, Sheet } from '@okuri/core';
import {
  distance,
  type FirstCutEnd,
  type FlatRing,
  JOIN_DEFAULTS,
  pointDistance,
  type SheetEnds,
  type SheetJoin,
  type StopMark,
} from '@okuri/core/inside';
import { type MeasuredEnd, type MeasureEndOptions, measureEnd, WINDOW_MM } from './measure-end.js';
import { type OutlineWalk, type RingPlace, walkFrom } from './outline-walk.js';
import { CORNER_REACH_MM } from './planned-edges.js';
import type { PrintedEdges } from './printed-edges.js';

/** The end of a first cut is a corner of its outline, to rounding, mm. */
const END_REACH_MM = 0.05;
/** How far an outline is followed from its end, mm. */
const WALK_MM = WINDOW_MM + CORNER_REACH_MM;
/** A side of the outline nearer to the stop is the stop itself, mm: steps of the grid. */
const ON_STOP_MM = 0.001;

/** An end of a sheet and what the print shows of it; null where it shows nothing. */
export interface EndReading {
  readonly end: SheetJoin | FirstCutEnd;
  readonly measured: MeasuredEnd | null;
}

/** Measures every join at its lead edge, and every end of a first cut along its stop. Joins whose lead edge waits for the second cut too are left out. */
export function measureEnds(
  sheet: Sheet,
  { joins, firstCutEnds }: SheetEnds,
  {
    rings,
    printed,
    ...options
  }: MeasureEndOptions & {
    readonly rings: ReadonlyMap<number, readonly FlatRing[]>;
    readonly printed: PrintedEdges;
  },
): EndReading[] {
  const measure = (walk: OutlineWalk | null, line: { at: Point; along: Point }): MeasuredEnd | null =>
    walk === null ? null : measureEnd(walk, line, printed, options);
  return [
    ...joins
      .filter(({ leadCut }) => leadCut !== 'second')
      .map((end) => {
        const along = end.seam === 'right' ? { x: 0, y: 1 } : { x: 1, y: 0 };
        const own = end.partner === null ? [] : (rings.get(end.partner) ?? []);
        return { end, measured: measure(leadWalk(own, end, along), { at: end.lead, along }) };
      }),
    ...firstCutEnds.map((end) => {
      const stops = sheet.stops.filter(({ number }) => number === end.opening);
      const walk = stopWalk(rings.get(end.opening) ?? [], end.at, stops);
      return { end, measured: measure(walk, end) };
    }),
  ];
}

/** The planned lead edge that comes to a join's lead place, from the seam into the field. */
function leadWalk(rings: readonly FlatRing[], { lead, edge, seam }: SheetJoin, along: Point): OutlineWalk | null {
  // Into the field: to the right of a left seam, down from a top one.
  const inward = seam === 'right' ? { x: 1, y: 0 } : { x: 0, y: 1 };
  const past = (x: number, y: number): number => (x - lead.x) * inward.x + (y - lead.y) * inward.y;
  let best: { place: RingPlace; onward: boolean } | null = null;
  let least: number = JOIN_DEFAULTS.reachMm;
  for (const ring of rings) {
    const { x, y } = ring;
    for (let side = 0; side < x.length; side++) {
      const next = (side + 1) % x.length;
      const [a, b] = [past(x[side], y[side]), past(x[next], y[next])];
      if (a > 0 === b > 0) continue;
      // Going into the field along the outline, the opening lies to the right hand.
      const onward = b > 0;
      const right = onward ? { x: -inward.y, y: inward.x } : { x: inward.y, y: -inward.x };
      if (right.x * along.x + right.y * along.y > 0 !== (edge === 'begins')) continue;
      const share = a / (a - b);
      const at = { x: x[side] + share * (x[next] - x[side]), y: y[side] + share * (y[next] - y[side]) };
      const away = distance(at, lead);
      if (away >= least) continue;
      least = away;
      best = { place: { ring, side, share }, onward };
    }
  }
  return best === null ? null : walkFrom(best.place, { onward: best.onward, reachMm: WALK_MM });
}

/** The planned outline that ends at a stop, from its end back into what is cut first. */
function stopWalk(rings: readonly FlatRing[], at: Point, stops: readonly StopMark[]): OutlineWalk | null {
  const offStop = (p: Point): number => Math.min(...stops.map((stop) => pointDistance(stop, p)));
  for (const ring of rings) {
    const { x, y } = ring;
    for (let k = 0; k < x.length; k++) {
      if (Math.abs(x[k] - at.x) > END_REACH_MM || Math.abs(y[k] - at.y) > END_REACH_MM) continue;
      const [o, n] = [(k + x.length - 1) % x.length, (k + 1) % x.length];
      const [before, after] = [o, n].map((j) => offStop({ x: (x[k] + x[j]) / 2, y: (y[k] + y[j]) / 2 }));
      if (Math.max(before, after) <= ON_STOP_MM) continue;
      return after > before
        ? walkFrom({ ring, side: k, share: 0 }, { onward: true, reachMm: WALK_MM })
        : walkFrom({ ring, side: o, share: 1 }, { onward: false, reachMm: WALK_MM });
    }
  }
  return null;
}
