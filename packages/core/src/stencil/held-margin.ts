import type { Box } from '../geometry/types.js';
import { MM_PER_INCH } from '../units/constants.js';

/** The usual held margin, mm: one inch. */
const HELD_MM = MM_PER_INCH;
/** It is never more than this share of the side … */
const LARGEST_SHARE = 1 / 6;
/** … nor less than this, mm. */
const LEAST_MM = 10;

/** How wide the held margin is along a side that is `sideMm` across: one inch, at most a sixth of the side, at least 10 mm. */
export function heldWidth(sideMm: number): number {
  return Math.max(LEAST_MM, Math.min(HELD_MM, sideMm * LARGEST_SHARE));
}

/** The two bands of a field (any mm) that stay uncut until the proof. The right one runs the whole height, the bottom one the whole width. */
export function heldBands(
  field: Box,
  { widthMm, right }: { widthMm: number | null; right: boolean },
): { heldRight: Box | null; heldBottom: Box } {
  const across = widthMm ?? heldWidth(field.x1 - field.x0);
  const down = widthMm ?? heldWidth(field.y1 - field.y0);
  return {
    heldRight: right ? { ...field, x0: field.x1 - across } : null,
    heldBottom: { ...field, y0: field.y1 - down },
  };
}
