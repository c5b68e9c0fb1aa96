/**
 * How far a handle may lie beside its chord for the curve to be written as a straight line, mm. Coordinates come rounded to
 * 0.1 µm, so the handles of a straight line lie up to about that far beside it; the curve itself strays by three quarters of it.
 */
export const STRAIGHT_TOLERANCE_MM = 2e-4;

/**
 * True where the cubic that starts at `coords[k]` is a straight line: both handles lie within `STRAIGHT_TOLERANCE_MM` of the
 * chord and between its ends. A curve that returns to its start is straight only when it never leaves it.
 */
export function isLine(coords: Float64Array, k: number): boolean {
  const x = coords[k];
  const y = coords[k + 1];
  const dx = coords[k + 6] - x;
  const dy = coords[k + 7] - y;
  const length = Math.sqrt(dx * dx + dy * dy);
  for (let h = k + 2; h <= k + 4; h += 2) {
    const hx = coords[h] - x;
    const hy = coords[h + 1] - y;
    if (length <= STRAIGHT_TOLERANCE_MM) {
      if (Math.abs(hx) > STRAIGHT_TOLERANCE_MM || Math.abs(hy) > STRAIGHT_TOLERANCE_MM) return false;
      continue;
    }
    if (Math.abs(hx * dy - hy * dx) > STRAIGHT_TOLERANCE_MM * length) return false;
    const along = (hx * dx + hy * dy) / length;
    if (along < -STRAIGHT_TOLERANCE_MM || along > length + STRAIGHT_TOLERANCE_MM) return false;
  }
  return true;
}
