import type { Join, Lattice, Point } from '@okuri/core';

/** Where the seam of a join lies on the unit, mm. */
export function placeOf({ seam, atMm }: Join, { widthMm, heightMm }: Lattice): Point {
  return seam === 'right' ? { x: widthMm, y: atMm } : { x: atMm, y: heightMm };
}
