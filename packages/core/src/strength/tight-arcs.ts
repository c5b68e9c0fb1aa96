import { evaluateCubic } from '../geometry/curve.js';

/** A stretch of a cubic, by its parameter in 0 … 1. */
export type Stretch = readonly [from: number, to: number];

/** Ends of stretches are found to this, mm of curve: a thousandth of what a knife can do. */
const END_MM = 2e-4;
/** A speed below this is a standstill, mm per unit of parameter: rounding of coordinates of a metre. */
const STILL = 1e-9;

/**
 * Where the cubic at `coords[o]` bends tighter than `radiusMm`: its stretches with a radius of curvature below it, in order, their ends good
 * to 0.2 µm of curve. The curvature is that of the curve itself, |p′ × p″| / |p′|³: the parameter is halved until bounds on both decide, so
 * that no narrow spike is passed over. A straight cubic has none.
 */
export function tighterThan(coords: Float64Array, o: number, radiusMm: number): Stretch[] {
  const found: [number, number][] = [];
  // p′ as a quadratic in Bernstein form; p′ × p″ is a quadratic too (its cubic terms cancel).
  const d: number[] = [];
  for (let k = 0; k < 6; k++) d.push(3 * (coords[o + 2 + k] - coords[o + k]));
  const fastest = Math.max(Math.hypot(d[0], d[1]), Math.hypot(d[2], d[3]), Math.hypot(d[4], d[5]));
  if (fastest < STILL) return found;
  const smallest = Math.min(0.25, END_MM / fastest);
  const visit = (a: number, b: number): void => {
    const q = restricted(d, a, b);
    const [crossLow, crossHigh] = absoluteRange(crossCoefficients(q, b - a));
    const [speedLow, speedHigh] = squareRange(q);
    if (radiusMm * crossHigh <= speedLow ** 1.5) return;
    if (b - a <= smallest || radiusMm * crossLow > speedHigh ** 1.5) {
      // At the smallest step the middle decides.
      if (b - a <= smallest && !(radiusMm * (crossLow + crossHigh) > 2 * ((speedLow + speedHigh) / 2) ** 1.5)) return;
      const last = found[found.length - 1];
      if (last !== undefined && a - last[1] <= smallest) last[1] = b;
      else found.push([a, b]);
      return;
    }
    const middle = (a + b) / 2;
    visit(a, middle);
    visit(middle, b);
  };
  visit(0, 1);
  return found.filter(([a, b]) => b - a > smallest);
}

/** How far the tangent turns between two parameters, radians; positive to the right hand (y runs down). */
export function turnAlong(coords: Float64Array, o: number, [from, to]: Stretch): number {
  // A cubic turns by less than a full turn and a half; an eighth of that is told from its reverse.
  const steps = 16;
  let sum = 0;
  let p = evaluateCubic(coords, o, from);
  for (let k = 1; k <= steps; k++) {
    const q = evaluateCubic(coords, o, from + ((to - from) * k) / steps);
    sum += angleBetween(p.dx, p.dy, q.dx, q.dy);
    p = q;
  }
  return sum;
}

/** The angle from one direction to another, radians in -π … π; positive to the right hand (y runs down). */
export function angleBetween(ax: number, ay: number, bx: number, by: number): number {
  return Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
}

/** The Bernstein coefficients of a quadratic in the plane, on a part of its parameter. */
function restricted(d: readonly number[], a: number, b: number): number[] {
  const out: number[] = [];
  for (const [s, t] of [
    [a, a],
    [a, b],
    [b, b],
  ]) {
    for (const k of [0, 1]) {
      const u = d[k] + (d[2 + k] - d[k]) * s;
      const v = d[2 + k] + (d[4 + k] - d[2 + k]) * s;
      out.push(u + (v - u) * t);
    }
  }
  return out;
}

/** p′ × p″ in Bernstein form on a part `width` wide. */
function crossCoefficients(q: readonly number[], width: number): [number, number, number] {
  const cross = (i: number, j: number): number => q[2 * i] * q[2 * j + 1] - q[2 * i + 1] * q[2 * j];
  const k = 2 / width;
  return [k * cross(0, 1), (k * cross(0, 2)) / 2, k * cross(1, 2)];
}

/** Bounds on the absolute value of a quadratic in Bernstein form. */
function absoluteRange(c: readonly [number, number, number]): [number, number] {
  const low = Math.min(...c);
  const high = Math.max(...c);
  return [low > 0 ? low : high < 0 ? -high : 0, Math.max(Math.abs(low), Math.abs(high))];
}

/** Bounds on the squared length of a quadratic in the plane, from the Bernstein coefficients of the product. */
function squareRange(q: readonly number[]): [number, number] {
  const dot = (i: number, j: number): number => q[2 * i] * q[2 * j] + q[2 * i + 1] * q[2 * j + 1];
  const c = [dot(0, 0), dot(0, 1), (dot(0, 2) + 2 * dot(1, 1)) / 3, dot(1, 2), dot(2, 2)];
  return [Math.max(0, Math.min(...c)), Math.max(...c)];
}
