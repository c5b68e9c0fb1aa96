import { contourArea } from './contour.js';
import type { MarkedArea } from './fill.js';
import { type Grid, ringArea } from './grid.js';
import { retraceRing } from './retrace.js';

/** The area of marked rings on their source curves, mm². */
export function curveArea(area: MarkedArea, grid: Grid): number {
  return area.paths.reduce((sum, ring) => sum + contourArea(retraceRing(ring, area.book, grid).contour), 0);
}

/** The area of the rings' polygons, mm². */
export function polygonArea(area: MarkedArea, grid: Grid): number {
  return area.paths.reduce((sum, ring) => sum + ringArea(ring), 0) / (grid.sx * grid.sy);
}
