import { type Curve, evaluateCurve, parameterAt } from './curve.js';
import { FLATTEN_MM } from './flatten.js';
import type { Grid, GridPath, GridPoint } from './grid.js';
import type { CurveMarks, CurveRef } from './marks.js';
import { distance } from './points.js';
import type { Box } from './types.js';

/** Farthest a corner is moved, mm: what flattening may cost where two curves cross at a slant of some 15°. */
const FARTHEST_MM = 4 * FLATTEN_MM;
/** Curves that cross at less than this (the sine of it) have no place that is worth looking for. */
const LEAST_SINE = 0.05;
/** Newton's steps double the digits: from 5 µm four of them leave nothing to find. */
const STEPS = 5;
/** The two curves are this near to each other at the place found, mm. */
const MEET_MM = 1e-7;

export interface SeatOptions {
  readonly book: CurveMarks;
  readonly grid: Grid;
  /** Only corners with a mark above this: those of cuts made since. */
  readonly after: number;
  /** Corners stay within this box (grid units). */
  readonly within: Box;
}

/**
 * A ring whose corners, where sides of two source curves cut each other, are moved from the chords' crossing to that of the curves. Outlines
 * traced back from it then end on one another truly, not 5 µm beside. A corner stays where it is when the curves hardly cross, when it would
 * pass a neighbour, and when it would leave the flattened side on which it lies.
 */
export function seatCuts(ring: GridPath, options: SeatOptions): GridPath {
  return ring.map((p, k) => {
    if (!p.z || p.z <= options.after) return p;
    const neighbours = [ring[(k + ring.length - 1) % ring.length], ring[(k + 1) % ring.length]];
    return seated(p, neighbours, options) ?? p;
  });
}

function seated(p: GridPoint, neighbours: readonly GridPoint[], { book, grid, within }: SeatOptions): GridPoint | null {
  const refs = book.refs(p.z);
  if (refs.length !== 2 || refs.some((r) => Number.isInteger(r.k))) return null;
  const found = curvesMeet(refs[0], refs[1]);
  if (!found) return null;
  const at = { x: Math.round(found.x * grid.sx), y: Math.round(found.y * grid.sy) };
  if (at.x < within.x0 || at.x > within.x1 || at.y < within.y0 || at.y > within.y1) return null;
  const moved = distance(at, p);
  if (moved > FARTHEST_MM * grid.sx) return null;
  if (neighbours.some((n) => distance(n, p) <= 2 * moved)) return null;
  const places = refs.map((r, k) => placeOnSide(r.curve, r.k, found.s[k]));
  const [first, second] = places;
  if (first === null || second === null) return null;
  return {
    ...at,
    z: book.add([
      { ...refs[0], k: first },
      { ...refs[1], k: second },
    ]),
  };
}

/** Where two curves meet near given places on them, by Newton's method; null where they do not, or hardly cross. */
function curvesMeet(a: CurveRef, b: CurveRef): { x: number; y: number; s: readonly [number, number] } | null {
  let s = parameterAt(a.curve, a.k);
  let t = parameterAt(b.curve, b.k);
  for (let step = 0; step < STEPS; step++) {
    const p = evaluateCurve(a.curve, s);
    const q = evaluateCurve(b.curve, t);
    const gap = { x: q.x + b.dx - p.x - a.dx, y: q.y + b.dy - p.y - a.dy };
    const across = p.dx * q.dy - p.dy * q.dx;
    if (Math.abs(across) < LEAST_SINE * Math.hypot(p.dx, p.dy) * Math.hypot(q.dx, q.dy)) return null;
    if (Math.hypot(gap.x, gap.y) < MEET_MM) return { x: p.x + a.dx, y: p.y + a.dy, s: [s, t] };
    s += (gap.x * q.dy - gap.y * q.dx) / across;
    t += (gap.x * p.dy - gap.y * p.dx) / across;
  }
  return null;
}

/** The place (counted in flattened corners) of a parameter on the flattened side on which `k` lies; null where it is not on that side. */
function placeOnSide(curve: Curve, k: number, s: number): number | null {
  const low = Math.floor(k);
  const from = parameterAt(curve, low);
  const last = low % curve.s.length === curve.s.length - 1;
  const to = last ? curve.sEnd : parameterAt(curve, low + 1);
  const share = (s - from) / (to - from);
  return share > 0 && share < 1 ? low + share : null;
}
