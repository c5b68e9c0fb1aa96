import type { Box, Contour } from '@okuri/core';
import { boxToGrid, clipToBox, contourArea, fillArea, makeGrid, retraceRing } from '@okuri/core/inside';
import { darkAreas } from './dark-areas.js';

/** A grid of 0.1 µm that belongs to no unit. */
const GRID = makeGrid(1, 1);

/**
 * What of traced areas lies in a box, their curves kept and cut exactly at its sides, so that what ends at a side of a unit ends where its partner on the other side does. Cut-off
 * bits smaller than `leastMm2` are left out. mm.
 */
export function cutToBox(contours: readonly Contour[], box: Box, leastMm2: number): Contour[] {
  return darkAreas(contours).flatMap(({ contours: own, box: around }) => {
    if (around.x0 >= box.x0 && around.y0 >= box.y0 && around.x1 <= box.x1 && around.y1 <= box.y1) return own;
    if (around.x1 <= box.x0 || around.y1 <= box.y0 || around.x0 >= box.x1 || around.y0 >= box.y1) return [];
    const { paths, book } = fillArea(own, 'nonzero', GRID);
    return clipToBox(paths, boxToGrid(box, GRID), book)
      .map((path) => retraceRing(path, book, GRID).contour)
      .filter((contour) => Math.abs(contourArea(contour)) >= leastMm2);
  });
}
