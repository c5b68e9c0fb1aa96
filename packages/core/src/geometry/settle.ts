import { isStraight } from './contour.js';
import { FLATTEN_MM } from './flatten.js';
import type { Contour } from './types.js';

/**
 * Ends nearer than this are one place, mm: two units of the grid, on which polygons live, and far over what rounded coordinates leave
 * between places that are meant to be one (1e-9 to 1e-5 mm).
 */
export const SAME_PLACE_MM = 2e-4;

/**
 * The contour without pieces that only rounding made, those whose ends are one place (within `tolerance`, in the unit of the contour) and that go nowhere between
 * (within the tolerance of flattening): such a piece has a direction that nobody drew, and all of a cubic's parameter to lay along it. The next
 * piece starts where the last one that stays has ended; the last end of a closed contour moves onto its start. A chain of short pieces that leads
 * somewhere is kept as far as it does. An open contour stays open however near its ends are: closing is for whoever fills it. Gives the same
 * object where there is nothing to settle, and a contour of no piece where nothing goes anywhere.
 */
export function settledContour(contour: Contour, { tolerance = SAME_PLACE_MM }: { tolerance?: number } = {}): Contour {
  const { coords, closed } = contour;
  const n = coords.length;
  if (n < 8 || isSettled(contour, tolerance)) return contour;
  const out: number[] = [coords[0], coords[1]];
  for (let o = 0; o + 7 < n; o += 6) {
    const x = out[out.length - 2];
    const y = out[out.length - 1];
    if (goesNowhere(coords, o, x, y, tolerance)) continue;
    out.push(...pieceFrom(coords, o, x, y));
  }
  const end = out.length - 2;
  const gap = Math.hypot(out[end] - out[0], out[end + 1] - out[1]);
  // What was left out before the end may have led one tolerance on.
  if (closed && end > 0 && gap > 0 && gap <= 2 * tolerance) {
    out.splice(end - 4, 6, ...pieceTo(Float64Array.from(out.slice(end - 6)), out[0], out[1]));
  }
  return { closed, coords: Float64Array.from(out) };
}

/** The coordinates with a straight closing side added where the ends are two places, and the last end moved onto the start where they are one. */
export function closedCoords(coords: Float64Array): Float64Array {
  const n = coords.length;
  if (n < 8) return coords;
  const [x, y, ex, ey] = [coords[n - 2], coords[n - 1], coords[0], coords[1]];
  if (x === ex && y === ey) return coords;
  if (Math.hypot(x - ex, y - ey) <= SAME_PLACE_MM) {
    const moved = Float64Array.from(coords);
    moved.set(pieceTo(coords.subarray(n - 8), ex, ey), n - 6);
    return moved;
  }
  const closed = new Float64Array(n + 6);
  closed.set(coords);
  closed.set([(2 * x + ex) / 3, (2 * y + ey) / 3, (x + 2 * ex) / 3, (y + 2 * ey) / 3, ex, ey], n);
  return closed;
}

function isSettled({ coords, closed }: Contour, tolerance: number): boolean {
  const n = coords.length;
  for (let o = 0; o + 7 < n; o += 6) {
    if (goesNowhere(coords, o, coords[o], coords[o + 1], tolerance)) return false;
  }
  const gap = Math.hypot(coords[n - 2] - coords[0], coords[n - 1] - coords[1]);
  return !closed || gap === 0 || gap > tolerance;
}

/** Whether the cubic at `o`, started from `x, y`, ends there too and stays beside it on its way. */
function goesNowhere(q: Float64Array, o: number, x: number, y: number, tolerance: number): boolean {
  if (Math.hypot(q[o + 6] - x, q[o + 7] - y) > tolerance) return false;
  const reach = Math.max(Math.hypot(q[o + 2] - x, q[o + 3] - y), Math.hypot(q[o + 4] - x, q[o + 5] - y));
  return reach <= Math.max(tolerance, FLATTEN_MM);
}

/** Handles and end of the cubic at `o`, started from `x, y` instead: it keeps its direction there, and a straight one stays straight. */
function pieceFrom(q: Float64Array, o: number, x: number, y: number): number[] {
  const [dx, dy] = [x - q[o], y - q[o + 1]];
  if (dx === 0 && dy === 0) return Array.from(q.subarray(o + 2, o + 8));
  const [ex, ey] = [q[o + 6], q[o + 7]];
  if (isStraight(q, o)) return thirds(x, y, ex, ey);
  return [q[o + 2] + dx, q[o + 3] + dy, q[o + 4], q[o + 5], ex, ey];
}

/** Handles and end of a cubic (eight numbers), led to `x, y` instead. */
function pieceTo(q: Float64Array, x: number, y: number): number[] {
  if (isStraight(q, 0)) return thirds(q[0], q[1], x, y);
  return [q[2], q[3], q[4] + x - q[6], q[5] + y - q[7], x, y];
}

function thirds(x: number, y: number, ex: number, ey: number): number[] {
  return [(2 * x + ex) / 3, (2 * y + ey) / 3, (x + 2 * ex) / 3, (y + 2 * ey) / 3, ex, ey];
}
