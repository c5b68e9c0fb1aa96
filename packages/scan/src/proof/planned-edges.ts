import type { Point, Sheet } from '@okuri/core';
import { type FlatRing, flatRing, pointDistance, ringHolds, type StopMark } from '@okuri/core/inside';

/** Edges are looked at every so far, mm: closer than any change that a knife makes on purpose. */
export const SAMPLE_MM = 0.5;

/** An outline that turns more than this in a point has a corner there, deg: flattened curves (5 µm) of a radius of 0.3 mm turn 21°. */
export const CORNER_DEG = 30;

/** So near to a corner an edge is not measured, mm: paste and pictures round corners off. */
export const CORNER_REACH_MM = 0.6;

/** Places nearer than this to a stop or to the end of a lap lie on it, mm. */
const ON_LINE_MM = 0.05;

/** So near to a release tie an edge is not measured, mm: it may be cut away by now. */
const TIE_REACH_MM = 1;

/** A place on the edge of a planned first cut. Sheet mm. */
export interface EdgeSample {
  readonly opening: number;
  readonly at: Point;
  /** Unit vector across the outline, out of the opening. */
  readonly outward: Point;
}

/** The outlines of every opening's first cut, by its number. Openings without a first cut are left out. */
export function plannedRings({ openings }: Pick<Sheet, 'openings'>): Map<number, readonly FlatRing[]> {
  const rings = new Map<number, readonly FlatRing[]>();
  for (const { number, firstCut } of openings) {
    const own = firstCut.flatMap((contour) => flatRing(contour, number) ?? []);
    if (own.length > 0) rings.set(number, own);
  }
  return rings;
}

/** Unit vector across side `k` of a ring, out of the opening (to the left hand of the way along it). */
export function outwardOf({ x, y }: FlatRing, k: number): Point {
  const n = k + 1 < x.length ? k + 1 : 0;
  const [dx, dy] = [x[n] - x[k], y[n] - y[k]];
  const length = Math.hypot(dx, dy);
  return { x: dy / length, y: -dx / length };
}

/** How far the ring turns in its corner `k`, deg, without a sign. */
export function turnAt({ x, y }: FlatRing, k: number): number {
  const count = x.length;
  const [o, n] = [(k + count - 1) % count, (k + 1) % count];
  const [ax, ay, bx, by] = [x[k] - x[o], y[k] - y[o], x[n] - x[k], y[n] - y[k]];
  return (Math.abs(Math.atan2(ax * by - ay * bx, ax * bx + ay * by)) * 180) / Math.PI;
}

/**
 * Places all along the edges of the first cut at which the knife was to follow the drawing: not where the cut stops at the hold line, not at
 * the ends of laps, not by corners and not at release ties.
 */
export function edgeSamples(sheet: Sheet, rings: ReadonlyMap<number, readonly FlatRing[]>): EdgeSample[] {
  const ties = sheet.ties.flatMap((tie) => (tie.kind === 'release' ? (flatRing(tie.outline, 0) ?? []) : []));
  const nearTie = (at: Point): boolean =>
    ties.some(({ box, ...ring }) => {
      const [dx, dy] = [Math.max(box.x0 - at.x, at.x - box.x1), Math.max(box.y0 - at.y, at.y - box.y1)];
      if (Math.max(dx, dy) > TIE_REACH_MM) return false;
      return ringHolds({ box, ...ring }, at) || nearRing({ box, ...ring }, at, TIE_REACH_MM);
    });
  const samples: EdgeSample[] = [];
  for (const [opening, own] of rings) {
    const stops = sheet.stops.filter((stop) => stop.number === opening);
    const offDrawing = (at: Point): boolean =>
      onLap(sheet, at) || stops.some((stop) => onStop(stop, at)) || nearTie(at);
    for (const ring of own) samples.push(...ringSamples(ring, offDrawing));
  }
  return samples;
}

function ringSamples(ring: FlatRing, offDrawing: (at: Point) => boolean): EdgeSample[] {
  const { x, y, opening } = ring;
  const count = x.length;
  const lengths = Float64Array.from(x, (_, k) => Math.hypot(x[(k + 1) % count] - x[k], y[(k + 1) % count] - y[k]));
  const total = lengths.reduce((sum, length) => sum + length, 0);
  const places = Math.max(4, Math.round(total / SAMPLE_MM));
  const corners: number[] = [];
  let run = 0;
  for (let k = 0; k < count; k++) {
    if (turnAt(ring, k) > CORNER_DEG) corners.push(run);
    run += lengths[k];
  }
  const samples: EdgeSample[] = [];
  let [side, before, corner] = [0, 0, 0];
  for (let place = 0; place < places; place++) {
    const along = ((place + 0.5) * total) / places;
    while (side + 1 < count && before + lengths[side] < along) before += lengths[side++];
    while (corner < corners.length && corners[corner] < along) corner++;
    if (corners.length > 0) {
      const ahead = corner < corners.length ? corners[corner] : corners[0] + total;
      const behind = corner > 0 ? corners[corner - 1] : corners[corners.length - 1] - total;
      if (Math.min(ahead - along, along - behind) < CORNER_REACH_MM) continue;
    }
    const share = lengths[side] === 0 ? 0 : (along - before) / lengths[side];
    const next = (side + 1) % count;
    const at = { x: x[side] + share * (x[next] - x[side]), y: y[side] + share * (y[next] - y[side]) };
    if (offDrawing(at)) continue;
    samples.push({ opening, at, outward: outwardOf(ring, side) });
  }
  return samples;
}

/** Whether a place lies at the end of a lap: past the lead seams there is no drawing any more. */
function onLap({ field, lapMm }: Sheet, at: Point): boolean {
  return at.x < field.x0 - lapMm + ON_LINE_MM || at.y < field.y0 - lapMm + ON_LINE_MM;
}

/** Whether a place lies where a first cut stops. */
export function onStop({ from, to }: Pick<StopMark, 'from' | 'to'>, at: Point): boolean {
  return pointDistance({ from, to }, at) < ON_LINE_MM;
}

function nearRing({ x, y }: FlatRing, at: Point, reachMm: number): boolean {
  const corner = (k: number): Point => ({ x: x[k % x.length], y: y[k % x.length] });
  return Array.from(x).some((_, k) => pointDistance({ from: corner(k), to: corner(k + 1) }, at) < reachMm);
}
