import { evaluateCubic } from '../geometry/curve.js';
import type { Point } from '../geometry/types.js';
import { SEAM_SNAP_MM } from '../repeat/cell.js';
import type { CutSheet } from '../stencil/types.js';

/** A place where an outline crosses a lead seam. Sheet mm. */
export interface LeadEnd {
  readonly side: 'left' | 'top';
  readonly at: Point;
  /** Along the seam (down, or to the right) the opening begins here, or ends. */
  readonly edge: 'begins' | 'ends';
  /** Number of the opening. */
  readonly number: number;
  /** In which cut it is: near the held margins a lead edge may wait for the second cut. */
  readonly cut: 'first' | 'second';
}

/** A node this near to the seam is on it, mm: some steps of the grid on which cuts are made. */
const ON_SEAM_MM = 5e-4;
/** A crossing is refined until its bracket is shorter than this share of a cubic. */
const PARAMETER_FLOOR = 1e-14;

/** Every place where an outline of the sheet crosses its left or top seam, on the curve itself. */
export function leadEnds({ openings, field }: Pick<CutSheet, 'openings' | 'field'>): LeadEnd[] {
  const found: LeadEnd[] = [];
  for (const { number, firstCut, secondCut, box } of openings) {
    for (const side of ['left', 'top'] as const) {
      const axis = side === 'left' ? 0 : 1;
      const value = axis === 0 ? field.x0 : field.y0;
      if ((axis === 0 ? box.x0 : box.y0) > value + ON_SEAM_MM) continue;
      for (const cut of ['first', 'second'] as const) {
        for (const { coords } of cut === 'first' ? firstCut : secondCut) {
          for (const { at, forward } of crossings(coords, axis, value)) {
            // The area lies to the right hand of the outline.
            const edge = forward === (axis === 0) ? 'begins' : 'ends';
            found.push({ side, at, edge, number, cut });
          }
        }
      }
    }
  }
  return found;
}

/** A place where an outline passes a line: number of its cubic and the parameter on it in `u`; `forward` where it goes to larger values. */
export interface Crossing {
  readonly at: Point;
  readonly u: number;
  readonly forward: boolean;
}

/**
 * Where an outline passes the lead seam on which coordinate `axis` is `value`. What comes up to the seam from outside and lies along it there, or pokes
 * in by less than the snap, does not pass it; what lies along it on the inside does, where it leaves it.
 */
export function crossings(coords: Float64Array, axis: 0 | 1, value: number): Crossing[] {
  const found: Crossing[] = [];
  for (let o = 0; o + 7 < coords.length; o += 6) {
    // Looked for a hair within the field, then followed out to the seam.
    const controls = [0, 2, 4, 6].map((k) => coords[o + k + axis] - value - ON_SEAM_MM);
    if (controls.every((c) => c > 0) || controls.every((c) => c <= 0)) continue;
    const seam = controls.map((c) => c + ON_SEAM_MM);
    for (const [t0, t1] of monotoneParts(controls)) {
      const [a, b] = [bezier(controls, t0), bezier(controls, t1)];
      if (a > 0 === b > 0) continue;
      const outer = a > 0 ? t1 : t0;
      const t = bezier(seam, outer) > 0 ? outer : root(seam, t0, t1, a > 0);
      const { x, y } = evaluateCubic(coords, o, t);
      found.push({ at: axis === 0 ? { x: value, y } : { x, y: value }, forward: b > 0, u: o / 6 + t });
    }
  }
  const n = (coords.length - 2) / 6;
  const touches = new Set<Crossing>();
  found.forEach((one, k) => {
    const next = found[(k + 1) % found.length];
    if (!one.forward || next.forward) return;
    const last = Math.floor(next.u) + (next.u < one.u ? n : 0);
    for (let i = Math.floor(one.u); i <= last; i++) {
      const o = 6 * (i % n) + axis;
      if ([0, 2, 4, 6].some((c) => coords[o + c] > value + SEAM_SNAP_MM)) return;
    }
    touches.add(one).add(next);
  });
  return found.filter((one) => !touches.has(one));
}

/** The stretches of 0 … 1 on which a cubic with these controls only rises or only falls. */
function monotoneParts([p0, p1, p2, p3]: readonly number[]): [number, number][] {
  const [a, b, c] = [-p0 + 3 * p1 - 3 * p2 + p3, 2 * (p0 - 2 * p1 + p2), p1 - p0];
  const turns: number[] = [];
  const disc = b * b - 4 * a * c;
  if (disc >= 0) {
    // The stable form: no difference of nearly equal numbers.
    const q = -0.5 * (b + (b < 0 ? -1 : 1) * Math.sqrt(disc));
    for (const t of [q / a, c / q]) if (t > 0 && t < 1) turns.push(t);
  }
  const ends = [0, ...turns.sort((x, y) => x - y), 1];
  return ends.slice(1).map((end, k) => [ends[k], end]);
}

function bezier([p0, p1, p2, p3]: readonly number[], t: number): number {
  const u = 1 - t;
  return u * u * u * p0 + 3 * u * u * t * p1 + 3 * u * t * t * p2 + t * t * t * p3;
}

function root(controls: readonly number[], t0: number, t1: number, falls: boolean): number {
  let [low, high] = [t0, t1];
  while (high - low > PARAMETER_FLOOR) {
    const middle = (low + high) / 2;
    if (middle === low || middle === high) break;
    if (bezier(controls, middle) > 0 === falls) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
