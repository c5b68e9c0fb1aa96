import type { Join, Lattice, Point } from '@okuri/core';

/** Where the seam of a join lies on the unit, mm. */
export function placeOf({ seam, atMm }: Join, { widthMm, heightMm }: Lattice): Point {
  return seam === 'right' ? { x: widthMm, y: atMm } : { x: atMm, y: heightMm };
}

/** Offsets below this have no way to speak of, mm: they are shown as 0.00. */
const LEAST_MM = 0.005;

/** To which side the end of the next placement lies; empty where both fall together. */
export function offsetWay({ seam, offsetMm }: Pick<Join, 'seam' | 'offsetMm'>): string {
  if (offsetMm === null || Math.abs(offsetMm) < LEAST_MM) return '';
  if (seam === 'right') return offsetMm > 0 ? ', lower on the other side' : ', higher on the other side';
  return offsetMm > 0 ? ', further right on the other side' : ', further left on the other side';
}
