import type { GridPath, GridPoint } from '../geometry/grid.js';
import { sideWinding } from '../geometry/point-tests.js';
import { distance } from '../geometry/points.js';
import type { Bank, BankPlace } from './stop-banks.js';

/** A chord from a corner may be this many times as long as the stop on the line. */
const LONGEST_SHARE = 1.5;
/** A corner opposite another is taken with it where the chord is not longer than this many times the shortest one from there … */
const PAIR_SHARE = 1.3;
/** … and this, mm. */
const PAIR_MM = 0.5;
/** A place is narrow where the chord is at most this share of the stop on the line. */
const NARROW_SHARE = 0.85;
/** Chords of widths this near are alike: the nearer to the line is taken. */
const ALIKE_SHARE = 1.005;
/** Shorter chords hold no stop, mm. */
const LEAST_CHORD_MM = 0.2;

/** A straight line across an opening, from one bank of a stop to the other. Lengths in grid units. */
export interface Chord {
  readonly from: BankPlace;
  readonly to: BankPlace;
  readonly length: number;
  /** Its end that lies farther from the hold line. */
  readonly off: number;
}

/**
 * The chords from a corner of one bank to the other bank (to a corner there where one is near), nearest to the line first. `lineLength`
 * is the length of the stop on the line, grid units; `scale` grid units a mm.
 */
export function cornerChords(banks: readonly [Bank, Bank], lineLength: number, scale: number): Chord[] {
  const chords: Chord[] = [];
  for (const [k, bank] of banks.entries()) {
    const opposite = banks[1 - k].places;
    const corners = opposite.filter((p) => p.corner);
    for (const corner of bank.places.filter((p) => p.corner)) {
      const nearest = nearestPlace(corner, opposite);
      if (nearest === null) continue;
      const pair = nearestPlace(corner, corners);
      const shortest = distance(corner, nearest);
      const paired = pair !== null && distance(corner, pair) <= PAIR_SHARE * shortest + PAIR_MM * scale;
      const chord = chordBetween(corner, paired ? pair : nearest, k === 1);
      if (chord.length <= LONGEST_SHARE * lineLength && chord.length >= LEAST_CHORD_MM * scale) chords.push(chord);
    }
  }
  return chords.sort((a, b) => a.off - b.off);
}

/** The narrowest chord between the banks, at most 85 % of the stop on the line; the nearest to the line of several alike; null for none. */
export function narrowestChord(banks: readonly [Bank, Bank], lineLength: number, scale: number): Chord | null {
  const chords = banks.flatMap((bank, k) =>
    bank.places.flatMap((place) => {
      const nearest = nearestPlace(place, banks[1 - k].places);
      return nearest === null ? [] : [chordBetween(place, nearest, k === 1)];
    }),
  );
  const wide = chords.filter((c) => c.length >= LEAST_CHORD_MM * scale);
  if (wide.length === 0) return null;
  const least = Math.min(...wide.map((c) => c.length));
  if (least > NARROW_SHARE * lineLength) return null;
  const alike = wide.filter((c) => c.length <= ALIKE_SHARE * least);
  return alike.reduce((a, b) => (b.off < a.off ? b : a));
}

function chordBetween(a: BankPlace, b: BankPlace, swapped: boolean): Chord {
  const [from, to] = swapped ? [b, a] : [a, b];
  return { from, to, length: distance(a, b), off: Math.max(a.off, b.off) };
}

function nearestPlace(from: BankPlace, places: readonly BankPlace[]): BankPlace | null {
  let best: BankPlace | null = null;
  let least = Infinity;
  for (const p of places) {
    const d = distance(from, p);
    if (d < least) {
      least = d;
      best = p;
    }
  }
  return best;
}

/** Whether the chord `p→q` crosses a side of the rings, or runs along one; touching at its own ends is none. */
export function crossesRings(p: GridPoint, q: GridPoint, rings: readonly GridPath[]): boolean {
  const [x0, x1] = [Math.min(p.x, q.x), Math.max(p.x, q.x)];
  const [y0, y1] = [Math.min(p.y, q.y), Math.max(p.y, q.y)];
  const at = (o: GridPoint, end: GridPoint): boolean => Math.abs(o.x - end.x) <= 1 && Math.abs(o.y - end.y) <= 1;
  for (const ring of rings) {
    let a = ring[ring.length - 1];
    for (const b of ring) {
      const apart =
        (a.x < x0 && b.x < x0) || (a.x > x1 && b.x > x1) || (a.y < y0 && b.y < y0) || (a.y > y1 && b.y > y1);
      if (!apart) {
        const touchesEnd = at(a, p) || at(b, p) || at(a, q) || at(b, q) || onSide(p, a, b) || onSide(q, a, b);
        if (!touchesEnd && properCross(p, q, a, b)) return true;
        // A corner of the outline on the chord: the opening is pinched there.
        if (!at(b, p) && !at(b, q) && onSide(b, p, q)) return true;
      }
      a = b;
    }
  }
  return false;
}

/** Whether a corner lies on the side `a→b`, to the rounding of the grid. */
function onSide(p: GridPoint, a: GridPoint, b: GridPoint): boolean {
  const length = distance(b, a);
  if (length === 0) return false;
  const along = ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / length;
  const beside = Math.abs((p.x - a.x) * (b.y - a.y) - (p.y - a.y) * (b.x - a.x)) / length;
  return beside <= 1 && along >= 0 && along <= length;
}

function properCross(p: GridPoint, q: GridPoint, a: GridPoint, b: GridPoint): boolean {
  const side = (o: GridPoint, u: GridPoint, v: GridPoint): number =>
    Math.sign((u.x - o.x) * (v.y - o.y) - (u.y - o.y) * (v.x - o.x));
  return side(p, q, a) * side(p, q, b) <= 0 && side(a, b, p) * side(a, b, q) <= 0;
}

/** Whether a place lies inside rings (even-odd). */
export function insideRings(at: GridPoint, rings: readonly GridPath[]): boolean {
  let inside = false;
  for (const ring of rings) {
    let a = ring[ring.length - 1];
    for (const b of ring) {
      if (sideWinding(a.x, a.y, b.x, b.y, at) !== 0) inside = !inside;
      a = b;
    }
  }
  return inside;
}
