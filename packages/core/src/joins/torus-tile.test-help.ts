import { translateContour } from '../geometry/contour.js';
import type { Box, Contour, Point } from '../geometry/types.js';
import type { Shape } from '../motif/types.js';
import { latticePoint, makeLattice, stepsOnto } from '../repeat/lattice.js';
import type { Lattice } from '../repeat/types.js';

/** A closed outline in one ink, with the box that it fills. */
export interface Patch {
  readonly ink: string;
  readonly contour: Contour;
  readonly box: Box;
}

/** A pattern on the torus: every patch stands for all its copies under the lattice. */
export interface TorusPattern {
  readonly lattice: Lattice;
  readonly patches: readonly Patch[];
  /** What lies on what: patch by patch, or copy by copy, the lower one on the cloth on top (as scales lie). */
  readonly order: 'by-patch' | 'as-scales';
}

/** How a unit is taken from a pattern: the lattice as the unit's own, and where the unit's upper left lies. */
export interface Ruling {
  readonly lattice: Lattice;
  readonly origin: Point;
}

/** How the unit is drawn: every outline cut at the edges, each whole and clipped to the unit, or each whole and left to reach over the edges. */
export type Drawn = 'cut' | 'clipped' | 'whole';

/** The rulings of a lattice without a straight one of its own: as a drop (or brick) from an origin, and as a brick (or drop). */
export function rulingsOf(lattice: Lattice, origin: Point): Ruling[] {
  const { repeat, widthMm, heightMm } = lattice;
  const { p, q } = repeat.step;
  const own = { lattice, origin };
  if (p === 0) return [own];
  let inverse = 1;
  while ((inverse * p) % q !== 1 % q) inverse++;
  const step = { p: inverse, q };
  const other =
    repeat.kind === 'drop'
      ? makeLattice({ kind: 'brick', step }, widthMm * q, heightMm / q)
      : makeLattice({ kind: 'drop', step }, widthMm / q, heightMm * q);
  return [own, { lattice: other, origin }];
}

/** The shapes of one unit of a pattern under a ruling, the unit's upper left at the origin. */
export function tileShapes(pattern: TorusPattern, { lattice, origin }: Ruling, drawn: Drawn): Shape[] {
  const unit: Box = { x0: origin.x, y0: origin.y, x1: origin.x + lattice.widthMm, y1: origin.y + lattice.heightMm };
  const placed = pattern.patches.flatMap((patch, k) =>
    stepsOnto(pattern.lattice, patch.box, unit).map((step) => ({ patch, k, v: latticePoint(pattern.lattice, step) })),
  );
  if (pattern.order === 'as-scales') placed.sort((a, b) => scaleOrder(a.v, b.v) || a.k - b.k);
  const frame: Box = { x0: 0, y0: 0, x1: lattice.widthMm, y1: lattice.heightMm };
  return placed.flatMap(({ patch, k, v }, n): Shape[] => {
    const contour = translateContour(patch.contour, { x: v.x - origin.x, y: v.y - origin.y });
    const contours = drawn === 'cut' ? cutToBox(contour, frame) : [contour];
    if (contours.length === 0) return [];
    const clips = drawn === 'clipped' ? [{ contours: [boxRing(frame)], rule: 'nonzero' as const }] : [];
    return [{ id: `p${k}-${n}`, ink: patch.ink, contours, rule: 'nonzero', clips }];
  });
}

function scaleOrder(a: Point, b: Point): number {
  return Math.abs(a.y - b.y) > 1e-6 ? a.y - b.y : a.x - b.x;
}

function boxRing({ x0, y0, x1, y1 }: Box): Contour {
  return {
    closed: true,
    coords: Float64Array.from([
      x0,
      y0,
      ...line(x0, y0, x1, y0),
      ...line(x1, y0, x1, y1),
      ...line(x1, y1, x0, y1),
      ...line(x0, y1, x0, y0),
    ]),
  };
}

function line(x0: number, y0: number, x1: number, y1: number): number[] {
  return [(2 * x0 + x1) / 3, (2 * y0 + y1) / 3, (x0 + 2 * x1) / 3, (y0 + 2 * y1) / 3, x1, y1];
}

/** A closed outline (nonzero) cut exactly at the sides of a box: crossings lie on the side to the last digit. */
export function cutToBox(contour: Contour, box: Box): Contour[] {
  let ring: number[][] = [];
  const q = contour.coords;
  for (let k = 0; k + 7 < q.length; k += 6) ring.push([...q.subarray(k, k + 8)]);
  ring = cutAt(ring, 0, box.x0, 1);
  ring = cutAt(ring, 0, box.x1, -1);
  ring = cutAt(ring, 1, box.y0, 1);
  ring = cutAt(ring, 1, box.y1, -1);
  if (ring.length === 0) return [];
  return [{ closed: true, coords: Float64Array.from([ring[0][0], ring[0][1], ...ring.flatMap((c) => c.slice(2))]) }];
}

/** Rounding of places on a side, mm: nearer than this to it is on it. */
const ON_MM = 1e-11;

/** What of a ring of cubics lies where `keep · (coordinate − at) >= 0`, closed along the line. */
function cutAt(ring: readonly number[][], axis: 0 | 1, at: number, keep: 1 | -1): number[][] {
  const kept: number[][] = [];
  for (const cubic of ring) {
    const values = [0, 2, 4, 6].map((k) => keep * (cubic[k + axis] - at));
    const cuts = [0, ...rootsOf(values), 1];
    for (let k = 0; k + 1 < cuts.length; k++) {
      if (bernstein(values, (cuts[k] + cuts[k + 1]) / 2) <= ON_MM) continue;
      const part = between(cubic, cuts[k], cuts[k + 1]);
      if (k > 0) part[axis] = at;
      if (k + 2 < cuts.length) part[6 + axis] = at;
      kept.push(part);
    }
  }
  const out: number[][] = [];
  kept.forEach((part, k) => {
    out.push(part);
    const next = kept[(k + 1) % kept.length];
    if (part[6] === next[0] && part[7] === next[1]) return;
    out.push([part[6], part[7], ...line(part[6], part[7], next[0], next[1])]);
  });
  return out;
}

function bernstein([a, b, c, d]: readonly number[], t: number): number {
  const u = 1 - t;
  return u * u * u * a + 3 * u * u * t * b + 3 * u * t * t * c + t * t * t * d;
}

/** Where a cubic changes sign between 0 and 1, by halving between its extremes. */
function rootsOf(values: readonly number[]): number[] {
  const [a, b, c, d] = values;
  const [p, q, r] = [b - a, c - b, d - c];
  const A = p - 2 * q + r;
  const B = 2 * (q - p);
  const stops = [0, 1];
  if (Math.abs(A) < 1e-14) {
    if (B !== 0) stops.push(-p / B);
  } else {
    const D = B * B - 4 * A * p;
    if (D > 0) stops.push((-B + Math.sqrt(D)) / (2 * A), (-B - Math.sqrt(D)) / (2 * A));
  }
  const ts = stops.filter((t) => t >= 0 && t <= 1).sort((s, t) => s - t);
  const roots: number[] = [];
  for (let k = 0; k + 1 < ts.length; k++) {
    let [low, high] = [ts[k], ts[k + 1]];
    const [f, g] = [bernstein(values, low), bernstein(values, high)];
    if (!(Math.abs(f) > ON_MM && Math.abs(g) > ON_MM && f > 0 !== g > 0)) {
      // An extreme on the line, or a node on it, parts the cubic there.
      if (Math.abs(g) <= ON_MM && high < 1) roots.push(high);
      continue;
    }
    for (let n = 0; n < 80; n++) {
      const m = (low + high) / 2;
      if (bernstein(values, m) > 0 === f > 0) low = m;
      else high = m;
    }
    roots.push((low + high) / 2);
  }
  return roots;
}

/** The part of a cubic between two parameters (blossoms). */
function between(cubic: readonly number[], s: number, t: number): number[] {
  const blossom = (axis: 0 | 1, u: number, v: number, w: number): number => {
    const [a, b, c, d] = [0, 2, 4, 6].map((k) => cubic[k + axis]);
    const mix = (x: number, y: number, m: number) => (1 - m) * x + m * y;
    const [ab, bc, cd] = [mix(a, b, u), mix(b, c, u), mix(c, d, u)];
    return mix(mix(ab, bc, v), mix(bc, cd, v), w);
  };
  const at = (u: number, v: number, w: number) => [blossom(0, u, v, w), blossom(1, u, v, w)];
  return [
    ...(s === 0 ? cubic.slice(0, 2) : at(s, s, s)),
    ...at(s, s, t),
    ...at(s, t, t),
    ...(t === 1 ? cubic.slice(6) : at(t, t, t)),
  ];
}
