import type { Contour } from '@okuri/core';
import { flattenCubic } from '../../packages/core/src/geometry/flatten.js';
import { type GridPath, ringArea } from '../../packages/core/src/geometry/grid.js';
import { CurveMarks } from '../../packages/core/src/geometry/marks.js';
import { combine } from '../../packages/core/src/geometry/polygons.js';
import { isThick } from '../../packages/core/src/geometry/thick.js';

/** Drawn outlines are flattened to this for comparison, mm: two ways of dividing one curve differ by less than two thirds of it. */
const COMPARE_MM = 5e-5;
const UNITS_PER_MM = 1e6;

function fineRings(contours: readonly Contour[]): GridPath[] {
  return contours.map(({ coords }) => {
    const ring: GridPath = [];
    for (let o = 0; o + 7 < coords.length; o += 6) {
      flattenCubic(coords, o, COMPARE_MM, (x, y) =>
        ring.push({ x: Math.round(x * UNITS_PER_MM), y: Math.round(y * UNITS_PER_MM) }),
      );
    }
    return ring;
  });
}

/** The area of what two sets of drawn outlines (nonzero) have not in common, or of what the first has and the second has not, mm². */
export function areaApart(
  operation: 'xor' | 'difference' | 'intersection',
  a: readonly Contour[],
  b: readonly Contour[],
): number {
  const rings = combine(operation, fineRings(a), fineRings(b), { book: new CurveMarks() });
  return rings.reduce((sum, ring) => sum + ringArea(ring), 0) / UNITS_PER_MM ** 2;
}

/** The area within a window of what the first set of outlines (nonzero) has and the second has not, mm². */
export function areaMissing(a: readonly Contour[], b: readonly Contour[], window: readonly Contour[]): number {
  const inside = combine('intersection', fineRings(a), fineRings(window), { book: new CurveMarks() });
  const rings = combine('difference', inside, fineRings(b), { book: new CurveMarks() });
  return rings.reduce((sum, ring) => sum + ringArea(ring), 0) / UNITS_PER_MM ** 2;
}

/** Whether a disc of this diameter fits in what outlines (nonzero) enclose. */
export function roomForDisc(contours: readonly Contour[], diameterMm: number): boolean {
  const rings = combine('union', fineRings(contours), [], { book: new CurveMarks() });
  return isThick(rings, diameterMm * UNITS_PER_MM);
}
