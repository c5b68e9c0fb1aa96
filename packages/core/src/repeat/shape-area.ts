import { fillArea, type MarkedArea } from '../geometry/fill.js';
import { boxToGrid, type Grid, pathsBox } from '../geometry/grid.js';
import { CurveMarks } from '../geometry/marks.js';
import { combine } from '../geometry/polygons.js';
import { strokeArea } from '../geometry/stroke.js';
import type { Box } from '../geometry/types.js';
import type { Ink, Shape } from '../motif/types.js';

/** A shape as an area on the grid: strokes drawn, clips taken off. `box` is in grid units. */
export interface ShapeArea extends MarkedArea {
  readonly index: number;
  readonly ink: Ink;
  readonly box: Box;
}

/** The areas of all shapes that have one, in paint order. `index` is the shape's place in the motif and the owner of its curves. */
export function shapeAreas(shapes: readonly Shape[], grid: Grid): ShapeArea[] {
  const out: ShapeArea[] = [];
  shapes.forEach((shape, index) => {
    const area = clippedArea(shape, index, grid);
    const box = pathsBox(area.paths);
    if (box) out.push({ ...area, index, ink: shape.ink, box });
  });
  return out;
}

function clippedArea(shape: Shape, owner: number, grid: Grid): MarkedArea {
  let area = shape.stroke
    ? strokeArea(shape.contours, shape.stroke, grid, { owner })
    : fillArea(shape.contours, shape.rule, grid, { owner });
  for (const clip of shape.clips) {
    if (area.paths.length === 0) return area;
    const limit = fillArea(clip.contours, clip.rule, grid, { owner });
    const book = new CurveMarks();
    book.include(area.book, 0, 0);
    const base = book.include(limit.book, 0, 0);
    const limitPaths = limit.paths.map((path) => path.map((p) => ({ ...p, z: (p.z ?? 0) && (p.z ?? 0) + base })));
    area = { paths: limitPaths.length > 0 ? combine('intersection', area.paths, limitPaths, { book }) : [], book };
  }
  return area;
}

/** The unit in grid units. */
export function unitBox(grid: Grid): Box {
  return boxToGrid({ x0: 0, y0: 0, x1: grid.width / grid.sx, y1: grid.height / grid.sy }, grid);
}
