import { boxArea, boxOf } from '../geometry/boxes.js';
import { boxIndex } from '../geometry/cluster.js';
import { flattenCubic } from '../geometry/flatten.js';
import { distance } from '../geometry/points.js';
import type { Contour, Point } from '../geometry/types.js';
import { innerPlaces } from './inner-places.js';
import { SideGrid } from './side-grid.js';
import { Ways } from './ways.js';

/** Outlines are looked at as polygons this near to them, mm: a thousandth of a span worth asking about. */
const POLYGON_MM = 0.02;
/** Places stand this far inside the outline, mm, so that ways along it touch nothing: well above rounding, well below any width. */
const INSET_MM = 1e-3;
/** Places on the outline are at most this share of the span apart. */
const SPACING_SHARE = 1 / 12;
/** In a narrow opening places are as far apart as it is wide, but not nearer than this, mm. */
const LEAST_SPACING_MM = 0.5;
/** Most places on the outlines of one opening: a longer outline has them wider apart. */
const MOST_PLACES = 6000;
/** Places nearer than this many times their spacing are linked where the straight way between them is free. */
const REACH = 3;
/** … but with no more than so many of them. */
const MOST_NEIGHBOURS = 48;
/** Most places in the broad of one opening. */
const MOST_INNER = 4000;
/** With so many of those every other place is linked. */
const NEAREST_INNER = 12;
/** So many places, as far apart as can be, are linked with each other over any distance. */
const FAR_PLACES = 64;
/** A polygon's corner that turns by more is a place of its own where none is near, radians (15°): ways bend there, and ends lie there. */
const CORNER_TURN = Math.PI / 12;
/** Searches from ever farther ends stop after this many that found nothing longer. */
const VAIN_SEARCHES = 4;

/** The longest way inside an opening. */
export interface LongestWay {
  readonly lengthMm: number;
  /** Its middle. */
  readonly at: Point;
}

interface Place extends Point {
  /** Where along its ring it stands, mm; -1 for one in the middle of the opening. */
  readonly along: number;
  readonly ring: number;
  readonly spacing: number;
  /** The direction into the opening; nothing for one in its middle. */
  readonly inward: Point;
  readonly corner: boolean;
}

/**
 * The longest of all shortest ways between two places on the outer outline (the first contour) that stay inside it and out of the others; null for
 * an outline without an area. Places on the outlines as far apart as the opening is wide there, and half way across from each, are linked along the
 * outlines and by straight ways that meet no side. A way thus bends round paper along its outline, exactly; where it leaves it, it does so at a
 * place up to half a spacing beside the right one, which costs a length of second order. Ends are found by going from each farthest place to the
 * one farthest from all those before, until nothing longer comes.
 */
export function longestWay(contours: readonly Contour[], { spanMm }: { readonly spanMm: number }): LongestWay | null {
  const rings = contours.map(polygonOf).filter((ring) => ring.length > 2);
  if (rings.length === 0) return null;
  const grid = new SideGrid(rings);
  const around = rings.reduce((sum, ring) => sum + lengthAround(ring), 0);
  const widest = spanMm * SPACING_SHARE;
  const least = Math.max(LEAST_SPACING_MM, around / MOST_PLACES);
  const places = rings.flatMap((ring, k) => placesOn(ring, { ring: k, grid, widest, least }));
  const ends = places.filter((place) => place.ring === 0).length;
  if (ends < 2) return null;
  const onOutlines = places.length;
  places.push(...places.flatMap((place) => placeAcross(place, grid)));
  const inner = innerPlaces(rings, { spacing: Math.max(widest, Math.sqrt(boxArea(boxOf(rings[0])) / MOST_INNER)) });
  const first = places.length;
  for (const at of inner.places) places.push({ ...places[0], ...at, along: -1, ring: -1, spacing: inner.spacing });
  const ways = new Ways(places.length);
  linkAlong(ways, places, onOutlines, rings);
  linkNear(ways, places.slice(0, first), grid);
  linkInner(ways, places, { first, spacing: inner.spacing, grid });
  const far = farApart(places, onOutlines);
  for (let i = 0; i < far.length; i++) {
    for (let j = 0; j < i; j++) {
      if (grid.isFree(places[far[i]], places[far[j]]))
        ways.add(far[i], far[j], distance(places[far[i]], places[far[j]]));
    }
  }
  return farthest(ways, places, ends);
}

function polygonOf({ coords }: Contour): Point[] {
  const points: Point[] = [];
  if (coords.length < 8) return points;
  points.push({ x: coords[0], y: coords[1] });
  const add = (x: number, y: number): void => {
    const last = points[points.length - 1];
    if (Math.hypot(x - last.x, y - last.y) > INSET_MM) points.push({ x, y });
  };
  for (let o = 0; o + 7 < coords.length; o += 6) flattenCubic(coords, o, POLYGON_MM, add);
  const last = points[points.length - 1];
  if (points.length > 1 && distance(last, points[0]) <= INSET_MM) points.pop();
  return points;
}

interface PlacesOptions {
  readonly ring: number;
  readonly grid: SideGrid;
  readonly widest: number;
  readonly least: number;
}

/** Places along one ring: at its corners, and between them as far apart as the opening is wide. */
function placesOn(points: readonly Point[], { ring, grid, widest, least }: PlacesOptions): Place[] {
  const n = points.length;
  const sides = points.map((p, k) => {
    const q = points[(k + 1) % n];
    const length = distance(q, p);
    return { length, x: (q.x - p.x) / length, y: (q.y - p.y) / length };
  });
  const places: Place[] = [];
  /** A place a little to the right hand of the outline, where the opening is; gives how far the next may be. */
  const add = (p: Point, { along, inward, corner }: { along: number; inward: Point; corner: boolean }): number => {
    const at = { x: p.x + inward.x * INSET_MM, y: p.y + inward.y * INSET_MM };
    const width = widest * grid.firstHit(at, { x: at.x + inward.x * widest, y: at.y + inward.y * widest });
    const spacing = Math.max(least, width);
    places.push({ ...at, along, ring, spacing, inward, corner });
    return spacing;
  };
  let [walked, next] = [0, 0];
  for (let k = 0; k < n; k++) {
    const [before, side] = [sides[(k + n - 1) % n], sides[k]];
    const turn = Math.atan2(before.x * side.y - before.y * side.x, before.x * side.x + before.y * side.y);
    if (Math.abs(turn) > CORNER_TURN) {
      const last = places[places.length - 1];
      const room = last === undefined ? Infinity : walked - last.along;
      // A corner takes the place of one beside it that stands anywhere.
      if (room < last?.spacing / 3 && !last.corner) places.pop();
      if (room >= least / 2 || !last.corner) {
        next = walked + add(points[k], { along: walked, inward: bisector(before, side, turn), corner: true });
      }
    }
    while (next < walked + side.length) {
      const t = next - walked;
      const p = { x: points[k].x + side.x * t, y: points[k].y + side.y * t };
      next += add(p, { along: next, inward: { x: -side.y, y: side.x }, corner: false });
    }
    walked += side.length;
  }
  return places;
}

function lengthAround(points: readonly Point[]): number {
  let last = points[points.length - 1];
  let sum = 0;
  for (const p of points) {
    sum += distance(last, p);
    last = p;
  }
  return sum;
}

/** The direction into the opening at a corner: half way between its sides. */
function bisector(before: Point, side: Point, turn: number): Point {
  if (turn > Math.PI * 0.9) return { x: -before.x, y: -before.y };
  const [x, y] = [-(before.y + side.y), before.x + side.x];
  const length = Math.hypot(x, y);
  return length > 1e-9 ? { x: x / length, y: y / length } : { x: -side.y, y: side.x };
}

/** The place half way across the opening from one on its outline; none where the opening is wide there. */
function placeAcross(place: Place, grid: SideGrid): Place[] {
  const { inward } = place;
  const reach = 4 * place.spacing;
  const hit = reach * grid.firstHit(place, { x: place.x + inward.x * reach, y: place.y + inward.y * reach });
  if (hit >= reach || hit < 4 * INSET_MM) return [];
  const at = { x: place.x + (inward.x * hit) / 2, y: place.y + (inward.y * hit) / 2 };
  return [{ ...place, ...at, along: -1, ring: -1, corner: false }];
}

/** Links places that follow each other on an outline, by the outline's own length. */
function linkAlong(ways: Ways, places: readonly Place[], count: number, rings: readonly (readonly Point[])[]): void {
  for (let first = 0; first < count; ) {
    const { ring } = places[first];
    let end = first + 1;
    while (end < count && places[end].ring === ring) end++;
    for (let k = first; k + 1 < end; k++) ways.add(k, k + 1, places[k + 1].along - places[k].along);
    if (end - first > 1) {
      // The last place may stand where the first does: a length below 0 by rounding would draw searches round and round.
      const rest = lengthAround(rings[ring]) - places[end - 1].along + places[first].along;
      ways.add(end - 1, first, Math.max(0, rest));
    }
    first = end;
  }
}

/** Links places near each other by straight ways that meet no side. */
function linkNear(ways: Ways, places: readonly Place[], grid: SideGrid): void {
  const index = boxIndex(places.map((p) => boxOf([p])));
  places.forEach((a, k) => {
    for (const other of index.neighbors(a.x, a.y, MOST_NEIGHBOURS, REACH * a.spacing)) {
      // Two that find each other are linked twice, which does no harm.
      if (other !== k && grid.isFree(a, places[other])) ways.add(k, other, distance(a, places[other]));
    }
  });
}

/** Links the places in the broad of an opening with each other and every other place with those nearest to it, where the way is free. */
function linkInner(
  ways: Ways,
  places: readonly Place[],
  { first, spacing, grid }: { readonly first: number; readonly spacing: number; readonly grid: SideGrid },
): void {
  if (first === places.length) return;
  const index = boxIndex(places.slice(first).map((p) => boxOf([p])));
  places.forEach((a, k) => {
    const most = k < first ? NEAREST_INNER : Infinity;
    for (const other of index.neighbors(a.x, a.y, most, (REACH + 0.2) * spacing)) {
      const b = first + other;
      if ((k < first || b > k) && grid.isFree(a, places[b])) ways.add(k, b, distance(a, places[b]));
    }
  });
}

/** Places on the outlines that lie as far from each other as can be, each the farthest from all chosen before. */
function farApart(places: readonly Place[], count: number): number[] {
  const chosen = [0];
  const away = new Float64Array(count).fill(Infinity);
  while (chosen.length < Math.min(FAR_PLACES, count)) {
    const last = places[chosen[chosen.length - 1]];
    let best = 0;
    for (let k = 0; k < count; k++) {
      away[k] = Math.min(away[k], distance(places[k], last));
      if (away[k] > away[best]) best = k;
    }
    if (away[best] === 0) break;
    chosen.push(best);
  }
  return chosen;
}

/** The longest of the shortest ways between the first `ends` places. */
function farthest(ways: Ways, places: readonly Place[], ends: number): LongestWay | null {
  let best: LongestWay | null = null;
  const nearest = new Float64Array(ends).fill(Infinity);
  let start = 0;
  for (let vain = 0; vain < VAIN_SEARCHES; vain++) {
    const { lengths, before } = ways.from(start);
    let end = start;
    for (let k = 0; k < ends; k++) {
      if (lengths[k] > lengths[end] && lengths[k] < Infinity) end = k;
      nearest[k] = Math.min(nearest[k], lengths[k]);
    }
    if (lengths[end] > (best?.lengthMm ?? 0)) {
      best = { lengthMm: lengths[end], at: middleOf(places, { lengths, before, end }) };
      vain = -1;
      start = end;
    } else {
      start = nearest.reduce((far, length, k) => (length > nearest[far] && length < Infinity ? k : far), 0);
    }
  }
  return best;
}

interface GridWay {
  readonly lengths: Float64Array;
  readonly before: Int32Array;
  readonly end: number;
}

function middleOf(places: readonly Place[], { lengths, before, end }: GridWay): Point {
  const half = lengths[end] / 2;
  let [b, a] = [end, before[end]];
  while (a >= 0 && lengths[a] > half) [b, a] = [a, before[a]];
  if (a < 0) return { x: places[b].x, y: places[b].y };
  const [p, q] = [places[a], places[b]];
  const link = lengths[b] - lengths[a];
  // A link along a bent outline must not be cut short across paper.
  const straight = link <= distance(p, q) * (1 + 1e-6);
  const t = straight ? (half - lengths[a]) / link : half - lengths[a] < link / 2 ? 0 : 1;
  return { x: p.x + (q.x - p.x) * t, y: p.y + (q.y - p.y) * t };
}
