import { contourArea } from '../geometry/contour.js';
import { evaluateCubic } from '../geometry/curve.js';
import { distance } from '../geometry/points.js';
import { subCubic } from '../geometry/sub-cubic.js';
import type { Contour, Point } from '../geometry/types.js';
import { type FlatRing, flatRing } from './flat-ring.js';
import { HOLDS_MM, type Touch } from './touching.js';

/** A place on a ring where it meets others. */
interface End {
  readonly ring: number;
  readonly s: number;
  readonly at: Point;
  /** Ends that meet in one place, in the order in which their openings lie around it. */
  hub: Hub;
  /** The next end along its ring. */
  next: End | null;
}

interface Hub {
  ends: End[];
}

/** What is smaller than this is a speck and no loop, mm²: as long and as wide as what holds nothing. */
export const SPECK_MM2 = HOLDS_MM * HOLDS_MM;

/**
 * Rings as they are where touching is cutting: rings that touch in a circle (round paper, twice the same, themselves) are taken apart and
 * put together anew as what lies around the whole group and the rims of paper that it cuts off, on the same curves, and by a
 * straight line across each touch. Rings that only hang together like beads are left as they are: they cut nothing off.
 */
export function loopsOfTouches(rings: readonly FlatRing[], touches: readonly Touch[]): FlatRing[] {
  const ends = linkedEnds(withoutBeads(meetingEnds(rings, touches)), rings);
  if (ends.length === 0) return [...rings];
  const changed = new Set(ends.map((e) => e.ring));
  const kept = rings.filter((_, k) => !changed.has(k));
  const done = new Set<End>();
  for (const start of ends) {
    if (done.has(start)) continue;
    const loop = traceLoop(start, rings, done);
    if (loop && Math.abs(loop.areaMm2) >= SPECK_MM2) kept.push(loop);
  }
  return kept;
}

/** The ends of all touches; ends that lie together on a ring are one, and what they meet is one place. */
function meetingEnds(rings: readonly FlatRing[], touches: readonly Touch[]): End[] {
  const all: End[] = [];
  for (const { a, b, place } of touches) {
    const hub: Hub = { ends: [] };
    hub.ends.push({ ring: a, s: nodeOr(place.fromS, rings[a]), at: place.from, hub, next: null });
    hub.ends.push({ ring: b, s: nodeOr(place.toS, rings[b]), at: place.to, hub, next: null });
    all.push(...hub.ends);
  }
  for (const own of byRing(all).values()) {
    const n = own.length;
    for (let k = 0; k < n && n > 1; k++) {
      const e = own[k];
      const f = own[(k + 1) % n];
      // Round the ring's start, an end that has been taken for another already stays out of it.
      if (k === n - 1 && !e.hub.ends.includes(e)) continue;
      if (together(rings[e.ring], e, f)) mergeEnds(e, f);
    }
  }
  return all.filter((e) => e.hub.ends.includes(e));
}

/** Places this near to a node of the contour are the node: the outline's direction is asked for there. */
const AT_NODE = 1e-6;

/** A place, or the node that it is; the contour's end is its start. */
function nodeOr(s: number, ring: FlatRing): number {
  const node = Math.round(s);
  if (Math.abs(s - node) >= AT_NODE) return s;
  return node % ((ring.contour.coords.length - 2) / 6);
}

function byRing(ends: readonly End[]): Map<number, End[]> {
  const rings = new Map<number, End[]>();
  for (const e of ends) {
    const own = rings.get(e.ring);
    if (own) own.push(e);
    else rings.set(e.ring, [e]);
  }
  for (const own of rings.values()) own.sort((p, q) => p.s - q.s);
  return rings;
}

/** Whether the way along the ring from one end to the next one never leaves their place. */
function together(ring: FlatRing, e: End, f: End): boolean {
  const near = (p: Point): boolean => distance(p, e.at) < 2 * HOLDS_MM;
  if (!near(f.at)) return false;
  const n = ring.s.length;
  for (let k = firstAfter(ring.s, e.s), steps = 0; steps < n; steps++, k++) {
    const i = k % n;
    const passed = e.s <= f.s ? k >= n || ring.s[i] >= f.s : k >= n && ring.s[i] >= f.s;
    if (passed) return true;
    if (!near({ x: ring.x[i], y: ring.y[i] })) return false;
  }
  return true;
}

function firstAfter(s: Float64Array, at: number): number {
  let low = 0;
  let high = s.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (s[middle] > at) high = middle;
    else low = middle + 1;
  }
  return low;
}

/** Makes `f` the same end as `e` and joins the places in which they take part. */
function mergeEnds(e: End, f: End): void {
  const from = f.hub;
  const into = e.hub;
  if (from !== into) {
    into.ends.push(...from.ends);
    for (const moved of from.ends) moved.hub = into;
  }
  into.ends = into.ends.filter((x) => x !== f);
}

/** Takes off, again and again, rings that hang on one place only: no paper is cut off by them. */
function withoutBeads(ends: readonly End[]): End[] {
  const left = new Set(ends);
  const rings = byRing(ends);
  const open = [...left];
  for (let e = open.pop(); e; e = open.pop()) {
    if (!left.has(e)) continue;
    const own = rings.get(e.ring) ?? [];
    if (own.length > 1 && e.hub.ends.length > 1) continue;
    left.delete(e);
    rings.set(
      e.ring,
      own.filter((x) => x !== e),
    );
    e.hub.ends = e.hub.ends.filter((x) => x !== e);
    open.push(...e.hub.ends, ...(rings.get(e.ring) ?? []));
  }
  return [...left];
}

/** Links every end with the next one along its ring, and sorts what meets in a place by where the openings lie. */
function linkedEnds(ends: readonly End[], rings: readonly FlatRing[]): End[] {
  for (const own of byRing(ends).values()) {
    own.forEach((e, k) => {
      e.next = own[(k + 1) % own.length];
    });
  }
  for (const hub of new Set(ends.map((e) => e.hub))) {
    if (hub.ends.length > 2) {
      const angles = new Map(hub.ends.map((e) => [e, leavingAngle(rings[e.ring], e.s)]));
      hub.ends.sort((p, q) => (angles.get(p) ?? 0) - (angles.get(q) ?? 0));
    }
  }
  return [...ends];
}

/** The direction in which a ring leaves a place: the first bank of its opening, turning clockwise as seen. */
function leavingAngle(ring: FlatRing, s: number): number {
  const cubics = (ring.contour.coords.length - 2) / 6;
  const c = Math.floor(s) % cubics;
  const { dx, dy } = evaluateCubic(ring.contour.coords, 6 * c, s - Math.floor(s));
  return Math.atan2(dy, dx);
}

/**
 * Follows the paper to the left hand: along a ring to its next place, there over to the next opening clockwise around the place, and on
 * along that one, until back. null for a loop without an inside.
 */
function traceLoop(start: End, rings: readonly FlatRing[], done: Set<End>): FlatRing | null {
  const coords: number[] = [start.at.x, start.at.y];
  let longest = { curves: -1, opening: rings[start.ring].opening };
  let e = start;
  do {
    done.add(e);
    const ring = rings[e.ring];
    const to = e.next as End;
    const before = coords.length;
    pushStretch(ring.contour.coords, e.s, to.s, coords);
    snapEnd(coords, to.at);
    if (coords.length - before > longest.curves) longest = { curves: coords.length - before, opening: ring.opening };
    const { ends } = to.hub;
    const over = ends[(ends.indexOf(to) + 1) % ends.length];
    pushLine(coords, over.at);
    e = over;
  } while (e !== start);
  const contour: Contour = { closed: true, coords: Float64Array.from(coords) };
  return contourArea(contour) === 0 ? null : flatRing(contour, longest.opening);
}

/** The last point, but for rounding, is the place where the stretch ends. */
function snapEnd(coords: number[], at: Point): void {
  coords[coords.length - 2] = at.x;
  coords[coords.length - 1] = at.y;
}

function pushLine(coords: number[], to: Point): void {
  const x = coords[coords.length - 2];
  const y = coords[coords.length - 1];
  if (x === to.x && y === to.y) return;
  coords.push((2 * x + to.x) / 3, (2 * y + to.y) / 3, (x + 2 * to.x) / 3, (y + 2 * to.y) / 3, to.x, to.y);
}

/** The part of a closed contour from one place to another, round past its start where need be; the whole for equal places. */
function pushStretch(q: Float64Array, fromS: number, toS: number, into: number[]): void {
  const cubics = (q.length - 2) / 6;
  const end = toS > fromS ? toS : toS + cubics;
  for (let s = fromS; s < end - 1e-12; ) {
    const c = Math.floor(s + 1e-12);
    const stop = Math.min(end, c + 1);
    into.push(...subCubic(q, 6 * (c % cubics), Math.max(0, s - c), stop - c).subarray(2));
    s = stop;
  }
}
