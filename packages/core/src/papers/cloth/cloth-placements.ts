import type { Point } from '../../geometry/types.js';
import { latticePoint, stepsOnto } from '../../repeat/lattice.js';
import type { Lattice } from '../../repeat/types.js';

/** A unit that reaches less than this onto the cloth is only rounding, mm. */
const TOUCH_MM = 1e-6;

/** A placement of the unit: its lattice coordinates, and where its upper left lies on the cloth, mm. */
export interface ClothPlacement {
  readonly i: number;
  readonly j: number;
  readonly at: Point;
}

/**
 * The placements whose unit overlaps a cloth of the given size with a positive area, when the corner of one unit lies on the cloth's upper
 * left. Column by column (row by row in a brick). Empty for a cloth without area.
 */
export function clothPlacements(lattice: Lattice, widthMm: number, lengthMm: number): ClothPlacement[] {
  if (!(widthMm > TOUCH_MM && lengthMm > TOUCH_MM)) return [];
  const unit = { x0: 0, y0: 0, x1: lattice.widthMm, y1: lattice.heightMm };
  const cloth = { x0: TOUCH_MM, y0: TOUCH_MM, x1: widthMm - TOUCH_MM, y1: lengthMm - TOUCH_MM };
  return stepsOnto(lattice, unit, cloth).map(({ i, j }) => ({ i, j, at: latticePoint(lattice, { i, j }) }));
}
