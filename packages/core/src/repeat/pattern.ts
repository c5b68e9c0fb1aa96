import { boxToGrid, pathsBox } from '../geometry/grid.js';
import { MarkBook } from '../geometry/marks.js';
import type { GridArea } from '../geometry/polygons.js';
import { areaPaths } from '../geometry/polygons.js';
import { retraceRing } from '../geometry/retrace.js';
import type { Box, Contour } from '../geometry/types.js';
import { clipToBox, type UnionPart, unionPieces } from '../geometry/union.js';
import { type Cell, type CellInk, mmBox, movePath } from './cell.js';
import { latticePoint, stepsOnto, straightTile } from './lattice.js';
import { gridStep } from './lattice-grid.js';
import { unitBox } from './shape-area.js';
import type { ClothTile } from './types.js';

/** Connected areas of the pattern within a box of the cloth, on the cell's grid, with the marks of their curves. */
export interface PatternAreas {
  readonly areas: readonly GridArea[];
  readonly book: MarkBook;
}

/**
 * The pattern of some pieces of an ink over a box of the cloth (mm, the unit's upper left is the origin): all copies that reach in, joined
 * across the seams and clipped to the box.
 */
export function patternIn(cell: Cell, pieces: readonly GridArea[], boxMm: Box): PatternAreas {
  const { lattice, grid } = cell;
  const book = new MarkBook();
  const steps = stepsOnto(lattice, mmBox(unitBox(grid), grid), boxMm);
  const placed = steps.map((step) => {
    const at = latticePoint(lattice, step);
    return { v: gridStep(lattice, grid, step), base: book.include(cell.book, at.x, at.y) };
  });
  const target = boxToGrid(boxMm, grid);
  const parts: UnionPart[] = [];
  for (const piece of pieces) {
    const own = pathsBox([piece.outer]) as Box;
    for (const { v, base } of placed) {
      const box = { x0: own.x0 + v.x, y0: own.y0 + v.y, x1: own.x1 + v.x, y1: own.y1 + v.y };
      if (box.x1 <= target.x0 || box.x0 >= target.x1 || box.y1 <= target.y0 || box.y0 >= target.y1) continue;
      parts.push({ paths: areaPaths([piece]).map((p) => movePath(p, v.x, v.y, base)), box });
    }
  }
  const { areas } = unionPieces(parts, { book, whole: true });
  const clipped = areas.flatMap((area) => clipArea(area, target, book));
  return { areas: clipped, book };
}

/** What of an area lies in a box, as connected areas. */
export function clipArea(area: GridArea, box: Box, book: MarkBook): GridArea[] {
  const own = pathsBox([area.outer]);
  if (!own) return [];
  if (own.x0 >= box.x0 && own.x1 <= box.x1 && own.y0 >= box.y0 && own.y1 <= box.y1) return [area];
  const paths = clipToBox(areaPaths([area]), box, book);
  const inner = pathsBox(paths);
  return inner ? unionPieces([{ paths, box: inner }], { book, whole: true }).areas : [];
}

/** The outlines of areas in mm, with their source curves put back. */
export function areaContours(areas: readonly GridArea[], book: MarkBook, cell: Cell): Contour[] {
  return areaPaths(areas).map((ring) => retraceRing(ring, book, cell.grid).contour);
}

/** How far a cloth tile's openings run on past its edges, mm, so that a picture of it has no edge. */
const TILE_BLEED_MM = 2;

/** The tile that the cloth repeats straight, with the openings of every cut ink. */
export function clothTile(cell: Cell): ClothTile {
  const { widthMm, heightMm } = straightTile(cell.lattice);
  const box = { x0: -TILE_BLEED_MM, y0: -TILE_BLEED_MM, x1: widthMm + TILE_BLEED_MM, y1: heightMm + TILE_BLEED_MM };
  const inks = cell.inks.map((ink: CellInk) => {
    const { areas, book } = patternIn(cell, ink.pieces, box);
    return { ink: ink.ink, contours: areaContours(areas, book, cell) };
  });
  return { widthMm, heightMm, inks, bleedMm: TILE_BLEED_MM };
}
