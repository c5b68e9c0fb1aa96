import { boxCorners } from './boxes.js';
import { distance } from './points.js';
import type { Box, Point } from './types.js';

/** Grid units a millimetre, before a side is stretched to a whole number of them: 0.1 µm, finer than any knife or printer. */
const UNITS_PER_MM = 1e4;

/** A corner of a polygon on the grid: whole numbers. `z` names the place on the source curve (see `marks.ts`). */
export interface GridPoint {
  x: number;
  y: number;
  z?: number;
}

/** A closed ring on the grid; the last corner joins the first. */
export type GridPath = GridPoint[];

/**
 * The integer grid on which polygons live. Millimetres are scaled a little differently along x and y (by some 1e-7), so that
 * the unit's sides, and their `divideX`-th and `divideY`-th parts, are whole numbers of grid units: copies then close exactly.
 */
export interface Grid {
  /** Grid units a mm. */
  readonly sx: number;
  readonly sy: number;
  /** The unit's sides in grid units. */
  readonly width: number;
  readonly height: number;
}

/** Makes the grid of a unit `widthMm × heightMm` whose step divides its sides by `divideX` and `divideY`. */
export function makeGrid(
  widthMm: number,
  heightMm: number,
  { divideX = 1, divideY = 1 }: { divideX?: number; divideY?: number } = {},
): Grid {
  const width = divideX * Math.round((widthMm * UNITS_PER_MM) / divideX);
  const height = divideY * Math.round((heightMm * UNITS_PER_MM) / divideY);
  return { sx: width / widthMm, sy: height / heightMm, width, height };
}

export function toGrid(p: Point, grid: Grid): GridPoint {
  return { x: Math.round(p.x * grid.sx), y: Math.round(p.y * grid.sy) };
}

export function toMm(p: GridPoint, grid: Grid): Point {
  return { x: p.x / grid.sx, y: p.y / grid.sy };
}

export function boxToGrid(box: Box, grid: Grid): Box {
  return {
    x0: Math.round(box.x0 * grid.sx),
    y0: Math.round(box.y0 * grid.sy),
    x1: Math.round(box.x1 * grid.sx),
    y1: Math.round(box.y1 * grid.sy),
  };
}

export function boxPath(box: Box): GridPath {
  return [...boxCorners(box)];
}

/** The box around rings; null for none. */
export function pathsBox(paths: readonly GridPath[]): Box | null {
  let x0 = Infinity;
  let y0 = Infinity;
  let x1 = -Infinity;
  let y1 = -Infinity;
  for (const path of paths) {
    for (const p of path) {
      if (p.x < x0) x0 = p.x;
      if (p.x > x1) x1 = p.x;
      if (p.y < y0) y0 = p.y;
      if (p.y > y1) y1 = p.y;
    }
  }
  return x0 > x1 ? null : { x0, y0, x1, y1 };
}

/** Signed area of a ring in grid units squared: positive when it turns clockwise as seen (y down). */
export function ringArea(path: GridPath): number {
  let twice = 0;
  let o = path[path.length - 1];
  for (const p of path) {
    twice += o.x * p.y - p.x * o.y;
    o = p;
  }
  return twice / 2;
}

/** Length of a ring's outline in grid units. */
export function ringLength(path: GridPath): number {
  let sum = 0;
  let o = path[path.length - 1];
  for (const p of path) {
    sum += distance(p, o);
    o = p;
  }
  return sum;
}
