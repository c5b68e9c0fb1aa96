import polylabel from 'polylabel';
import { type Grid, toMm } from './grid.js';
import type { GridArea } from './polygons.js';
import type { Point } from './types.js';

/** The place for a label is found to this, mm: finer than a pencil line. */
const PRECISION_MM = 0.25;

/** The roomiest place inside an area for a label, and the distance from it to the nearest outline. All in mm. */
export function labelPlace(area: GridArea, grid: Grid): { at: Point; roomMm: number } {
  const rings = [area.outer, ...area.holes].map((ring) =>
    ring.map((p): [number, number] => {
      const { x, y } = toMm(p, grid);
      return [x, y];
    }),
  );
  const found = polylabel(rings, PRECISION_MM);
  return { at: { x: found[0], y: found[1] }, roomMm: found.distance };
}
