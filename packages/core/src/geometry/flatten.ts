import { evaluateCubic } from './curve.js';

/** Largest distance between a curve and its polygon in area work, mm: a fortieth of what a knife can do. */
export const FLATTEN_MM = 0.005;

/** Most sides one cubic is divided into: a 3 m arc needs some 900 at 5 µm. */
const MAX_SIDES = 4096;

/**
 * In how many even steps of its parameter a cubic stays within `toleranceMm` of its chords (Wang's bound on the second
 * differences; 1 for a straight one). The same for a curve and its reverse.
 */
export function flatteningSteps(coords: Float64Array, o: number, toleranceMm: number): number {
  const ax = coords[o] - 2 * coords[o + 2] + coords[o + 4];
  const ay = coords[o + 1] - 2 * coords[o + 3] + coords[o + 5];
  const bx = coords[o + 2] - 2 * coords[o + 4] + coords[o + 6];
  const by = coords[o + 3] - 2 * coords[o + 5] + coords[o + 7];
  const bend = Math.max(Math.hypot(ax, ay), Math.hypot(bx, by));
  return Math.min(MAX_SIDES, Math.max(1, Math.ceil(Math.sqrt(Math.max(0, (0.75 * bend) / toleranceMm - 1e-9)))));
}

/**
 * Calls `emit` with every flattened corner of the cubic at `o`, without its start, `t` going up to 1. Corners of a curve and of its
 * reverse are the same numbers to the last bit, so that outlines that share a curve share its polygon.
 */
export function flattenCubic(
  coords: Float64Array,
  o: number,
  toleranceMm: number,
  emit: (x: number, y: number, t: number) => void,
): void {
  const n = flatteningSteps(coords, o, toleranceMm);
  const backward = coords[o] > coords[o + 6] || (coords[o] === coords[o + 6] && coords[o + 1] > coords[o + 7]);
  const reversed = backward ? reversedCubic(coords, o) : null;
  for (let i = 1; i < n; i++) {
    const t = i / n;
    const p = reversed ? evaluateCubic(reversed, 0, (n - i) / n) : evaluateCubic(coords, o, t);
    emit(p.x, p.y, t);
  }
  emit(coords[o + 6], coords[o + 7], 1);
}

function reversedCubic(q: Float64Array, o: number): Float64Array {
  return Float64Array.of(q[o + 6], q[o + 7], q[o + 4], q[o + 5], q[o + 2], q[o + 3], q[o], q[o + 1]);
}
