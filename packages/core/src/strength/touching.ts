import { boxIndex } from '../geometry/cluster.js';
import type { Box, Point } from '../geometry/types.js';
import { type FlatRing, sideBox } from './flat-ring.js';
import { type PlacePair, pointToSide, refinePairs, type SidePair, sideDistance } from './nearest-places.js';

/**
 * Paper narrower than this holds nothing, mm: what pokes out less than this over a seam is taken to touch it only, and a knife is good to
 * ten times as much.
 */
export const HOLDS_MM = 0.02;

/** A place where paper has come to an end counts until the gap has widened to this: two places then have real paper between them. */
const APART_MM = 2 * HOLDS_MM;

/** Flattenings are nearer or farther than their curves by at most this, mm. */
const ERROR_MM = 0.01;

/** A place where two rings (or two stretches of one) come so near, with paper between, that nothing holds there. */
export interface Touch {
  readonly a: number;
  readonly b: number;
  readonly place: PlacePair;
}

/** All sides of all rings in one row, with an index. */
interface SideRow {
  readonly ring: Int32Array;
  readonly side: Int32Array;
  readonly first: Int32Array;
}

/**
 * Where rings touch across paper. `regions` names the paper that each ring bounds: the rim itself for a rim, the rim around it (or -1) for
 * the outside of an opening; only rings of one region have paper between them. One touch for each place, at its narrowest.
 */
export function findTouches(rings: readonly FlatRing[], regions: readonly number[]): Touch[] {
  const row = sideRow(rings);
  const near = nearSides(rings, regions, row);
  return placesOf(rings, row, near).flatMap((pairs) => {
    const a = row.ring[pairs[0].a];
    const b = row.ring[pairs[0].b];
    const least = pairs.reduce((m, p) => Math.min(m, p.mm), Infinity);
    if (least >= HOLDS_MM + ERROR_MM) return [];
    const candidates = pairs
      .filter((p) => p.mm <= least + ERROR_MM)
      .map((p) => ({ a: row.side[p.a], b: row.side[p.b], mm: p.mm }));
    const place = refinePairs(rings[a], rings[b], candidates);
    if (place.lengthMm >= HOLDS_MM) return [];
    if (a === b && !paperBetween(rings[a], place)) return [];
    return [{ a, b, place }];
  });
}

function sideRow(rings: readonly FlatRing[]): SideRow {
  const count = rings.reduce((sum, r) => sum + r.x.length, 0);
  const row = {
    ring: new Int32Array(count),
    side: new Int32Array(count),
    first: new Int32Array(rings.length),
  };
  let at = 0;
  rings.forEach((r, k) => {
    row.first[k] = at;
    for (let i = 0; i < r.x.length; i++) {
      row.ring[at] = k;
      row.side[at++] = i;
    }
  });
  return row;
}

/** Pairs of sides (numbers in the row, the smaller first) that are nearer than `APART_MM`, neighbours on one ring left out. */
function nearSides(rings: readonly FlatRing[], regions: readonly number[], row: SideRow): SidePair[] {
  const boxes: Box[] = Array.from(row.ring, (ring, k) => sideBox(rings[ring], row.side[k]));
  const near: SidePair[] = [];
  if (boxes.length === 0) return near;
  const index = boxIndex(boxes);
  for (let i = 0; i < boxes.length; i++) {
    const { x0, y0, x1, y1 } = boxes[i];
    const own = row.ring[i];
    index.search(x0 - APART_MM, y0 - APART_MM, x1 + APART_MM, y1 + APART_MM, (j) => {
      if (j <= i) return false;
      const other = row.ring[j];
      if (regions[other] !== regions[own] || (other === own && neighbours(i, j, row, rings))) return false;
      const mm = sideDistance(rings[own], row.side[i], rings[other], row.side[j]);
      if (mm < APART_MM) near.push({ a: i, b: j, mm });
      return false;
    });
  }
  return near;
}

/** Whether two sides of one ring are the same or next to each other. */
function neighbours(i: number, j: number, row: SideRow, rings: readonly FlatRing[]): boolean {
  const apart = Math.abs(i - j);
  return apart <= 1 || apart === rings[row.ring[i]].x.length - 1;
}

/**
 * Near pairs in groups: from one pair to the next the way leads along one of the rings past a corner, and goes on while that corner is near
 * to the other side. A group that runs together into one corner is a tip, not a touch, and is left out: beyond it is nothing.
 */
function placesOf(rings: readonly FlatRing[], row: SideRow, near: readonly SidePair[]): SidePair[][] {
  const count = row.ring.length;
  const known = new Map<number, number>();
  near.forEach((p, k) => {
    known.set(p.a * count + p.b, k);
  });
  const seen = new Uint8Array(near.length);
  const places: SidePair[][] = [];
  for (let k = 0; k < near.length; k++) {
    if (seen[k]) continue;
    seen[k] = 1;
    const members: SidePair[] = [];
    let tip = false;
    const open = [k];
    const go = (a: number, b: number): void => {
      if (row.ring[a] === row.ring[b] && neighbours(a, b, row, rings)) {
        tip = true;
        return;
      }
      const next = known.get(Math.min(a, b) * count + Math.max(a, b));
      if (next === undefined || seen[next]) return;
      seen[next] = 1;
      open.push(next);
    };
    for (let at = open.pop(); at !== undefined; at = open.pop()) {
      const { a, b } = near[at];
      members.push(near[at]);
      for (const [own, other] of [
        [a, b],
        [b, a],
      ]) {
        const next = along(own, 1, row, rings);
        if (cornerDistance(next, other, row, rings) < APART_MM) go(next, other);
        if (cornerDistance(own, other, row, rings) < APART_MM) go(along(own, -1, row, rings), other);
      }
    }
    if (!tip) places.push(members);
  }
  return places;
}

/** The next side (or the one before) on the ring of a side. */
function along(k: number, step: 1 | -1, row: SideRow, rings: readonly FlatRing[]): number {
  const ring = row.ring[k];
  const n = rings[ring].x.length;
  return row.first[ring] + ((k - row.first[ring] + n + step) % n);
}

/** How far the corner where side `k` starts is from another side. */
function cornerDistance(k: number, other: number, row: SideRow, rings: readonly FlatRing[]): number {
  const { x, y } = rings[row.ring[k]];
  const at = row.side[k];
  return pointToSide(x[at], y[at], rings[row.ring[other]], row.side[other]);
}

/**
 * Whether it is paper, not the opening, that comes to an end where a ring meets itself: of the two loops into which it is divided there,
 * paper cuts off a loop that turns around paper.
 */
function paperBetween(ring: FlatRing, place: PlacePair): boolean {
  const [low, high] = place.fromS < place.toS ? [place.fromS, place.toS] : [place.toS, place.fromS];
  const [p, q] = place.fromS < place.toS ? [place.from, place.to] : [place.to, place.from];
  const points: Point[] = [p];
  for (let k = 0; k < ring.s.length; k++) {
    if (ring.s[k] > low && ring.s[k] < high) points.push({ x: ring.x[k], y: ring.y[k] });
  }
  points.push(q);
  let twice = 0;
  let o = points[points.length - 1];
  for (const c of points) {
    twice += (o.x - p.x) * (c.y - p.y) - (c.x - p.x) * (o.y - p.y);
    o = c;
  }
  const inner = twice / 2;
  const rest = ring.areaMm2 - inner;
  // An opening: one loop around paper. A rim: both around paper.
  return ring.areaMm2 > 0 ? inner < 0 !== rest < 0 : inner < 0 && rest < 0;
}
