import { evaluateCubic } from '../geometry/curve.js';
import { contourLength } from '../geometry/length.js';
import { subCubic } from '../geometry/sub-cubic.js';
import type { RunShift } from './run-shift.js';

/** A moved outline is drawn to this, mm: a hundredth of a knife's accuracy. */
const FIT_MM = 0.002;
/** Halvings of one cubic at most: more than any bend of a 10 mm transition asks for. */
const HALVINGS_MAX = 8;
/** Places between a cubic's ends at which the fit is looked at. */
const LOOKS = [0.25, 0.5, 0.75] as const;
/** Lengths that differ by less are one, mm: rounding. */
const SAME_MM = 1e-7;
/** Steps of Newton's search for a length: its digits double with each. */
const STEPS = 12;

/** Lengths along an outline up to each of its nodes, mm. */
export function nodeLengths(coords: Float64Array): number[] {
  const lengths = [0];
  for (let o = 0; o + 7 < coords.length; o += 6) lengths.push(lengths[lengths.length - 1] + cubicLength(coords, o));
  return lengths;
}

/**
 * An open outline (coordinates as in `Contour`) with every place moved by the shift at its length. Cubics stay cubics: where the shift is
 * steady they are the same ones, elsewhere they are divided as far as 2 µm ask for; both ends are moved by exactly their shift.
 */
export function shiftOutline(coords: Float64Array, shift: RunShift): Float64Array {
  const out: number[] = [];
  const lengths = nodeLengths(coords);
  for (let k = 0; k + 1 < lengths.length; k++) {
    const [s0, s1] = [lengths[k], lengths[k + 1]];
    const breaks = shift.breaks.filter((s) => s > s0 + SAME_MM && s < s1 - SAME_MM);
    const times = [0, ...breaks.map((s) => timeAt(coords, 6 * k, s - s0)), 1];
    const ends = [s0, ...breaks, s1];
    for (let n = 0; n + 1 < times.length; n++) {
      bend(subCubic(coords, 6 * k, times[n], times[n + 1]), ends[n], ends[n + 1], shift, HALVINGS_MAX, out);
    }
  }
  return Float64Array.from(out);
}

function bend(q: Float64Array, s0: number, s1: number, shift: RunShift, halvings: number, out: number[]): void {
  const [a, b] = [shift.at(s0), shift.at(s1)];
  if (out.length === 0) out.push(q[0] + a.x, q[1] + a.y);
  if (isSteady(shift, s0, s1)) {
    for (let k = 2; k < 8; k += 2) out.push(q[k] + b.x, q[k + 1] + b.y);
    return;
  }
  const [p0, p1] = [evaluateCubic(q, 0, 0), evaluateCubic(q, 0, 1)];
  const [v0, v1] = [Math.hypot(p0.dx, p0.dy) / 3, Math.hypot(p1.dx, p1.dy) / 3];
  // Hermite's cubic: the same ends and the same derivatives there as the moved curve.
  const moved = Float64Array.of(
    q[0] + a.x,
    q[1] + a.y,
    q[2] + a.x + a.dx * v0,
    q[3] + a.y + a.dy * v0,
    q[4] + b.x - b.dx * v1,
    q[5] + b.y - b.dy * v1,
    q[6] + b.x,
    q[7] + b.y,
  );
  if (halvings > 0 && !fits(q, moved, s0, shift)) {
    const middle = s0 + cubicLength(subCubic(q, 0, 0, 0.5), 0);
    bend(subCubic(q, 0, 0, 0.5), s0, middle, shift, halvings - 1, out);
    bend(subCubic(q, 0, 0.5, 1), middle, s1, shift, halvings - 1, out);
    return;
  }
  out.push(...moved.subarray(2));
}

/** Whether the shift does not change between two lengths with no break between: its slope, of second degree, is nothing in three places. */
function isSteady(shift: RunShift, s0: number, s1: number): boolean {
  return LOOKS.every((look) => {
    const { dx, dy } = shift.at(s0 + look * (s1 - s0));
    return dx === 0 && dy === 0;
  });
}

function fits(q: Float64Array, moved: Float64Array, s0: number, shift: RunShift): boolean {
  return LOOKS.every((t) => {
    const p = evaluateCubic(q, 0, t);
    const by = shift.at(s0 + cubicLength(subCubic(q, 0, 0, t), 0));
    const is = evaluateCubic(moved, 0, t);
    return Math.hypot(p.x + by.x - is.x, p.y + by.y - is.y) <= FIT_MM;
  });
}

function cubicLength(coords: Float64Array, o: number): number {
  return contourLength({ closed: false, coords: coords.subarray(o, o + 8) });
}

/** The parameter at which a cubic has run `length`, by Newton's method kept within its bracket. */
function timeAt(coords: Float64Array, o: number, length: number): number {
  let [low, high, t] = [0, 1, 0.5];
  for (let step = 0; step < STEPS; step++) {
    const off = cubicLength(subCubic(coords, o, 0, t), 0) - length;
    if (Math.abs(off) < SAME_MM) break;
    if (off > 0) high = t;
    else low = t;
    const { dx, dy } = evaluateCubic(coords, o, t);
    const next = t - off / Math.hypot(dx, dy);
    t = next > low && next < high ? next : (low + high) / 2;
  }
  return t;
}
