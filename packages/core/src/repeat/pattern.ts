import { translateContour } from '../geometry/contour.js';
import { boxToGrid, pathsBox } from '../geometry/grid.js';
import { CurveMarks } from '../geometry/marks.js';
import { areaPaths, type GridArea } from '../geometry/polygons.js';
import { retraceRing } from '../geometry/retrace.js';
import type { Box, Contour, Point } from '../geometry/types.js';
import { clipToBox, type UnionPart, unionPieces } from '../geometry/union.js';
import { type Cell, type CellInk, mmBox, movePath } from './cell.js';
import { latticePoint, stepsOnto, straightTile } from './lattice.js';
import { gridStep } from './lattice-grid.js';
import { pieceContours } from './piece-contours.js';
import { unitBox } from './shape-area.js';
import type { ClothTile } from './types.js';

/** A connected area of the pattern on the cell's grid. `copyOf` names the piece it is a whole copy of, and by how much it was moved (mm). */
export interface PatternArea extends GridArea {
  readonly copyOf?: { readonly piece: GridArea; readonly by: Point };
}

/** Connected areas of the pattern within a box of the cloth, and the marks of their curves. */
export interface PatternAreas {
  readonly areas: readonly PatternArea[];
  readonly book: CurveMarks;
}

/** The copies of the cell that reach into a box of the cloth (mm): where each lies, in mm and on the grid. */
export function copiesOnto(cell: Cell, boxMm: Box): readonly { readonly at: Point; readonly v: Point }[] {
  const steps = stepsOnto(cell.lattice, mmBox(unitBox(cell.grid), cell.grid), boxMm);
  // The unit where it lies comes first: its marks need no renumbering, its rings no copy.
  steps.sort((a, b) => Math.abs(a.i) + Math.abs(a.j) - Math.abs(b.i) - Math.abs(b.j));
  return steps.map((step) => ({ at: latticePoint(cell.lattice, step), v: gridStep(cell.lattice, cell.grid, step) }));
}

/**
 * The pattern of some pieces of an ink over a box of the cloth (mm, the unit's upper left is the origin): all copies that reach in (as
 * `copiesOnto` gives them), joined across the seams and clipped to the box. Pieces that touch no seam are copied as they are.
 */
export function patternIn(
  cell: Cell,
  ink: CellInk,
  pieces: readonly GridArea[],
  boxMm: Box,
  copies = copiesOnto(cell, boxMm),
): PatternAreas {
  const book = new CurveMarks();
  const placed = copies.map(({ at, v }) => ({ at, v, base: book.include(cell.book, at.x, at.y) }));
  const target = boxToGrid(boxMm, cell.grid);
  const parts: UnionPart[] = [];
  const whole: PatternArea[] = [];
  for (const piece of pieces) {
    const own = pathsBox([piece.outer]) as Box;
    const complete = touchesNothing(own, ink, cell);
    for (const { at, v, base } of placed) {
      const box = { x0: own.x0 + v.x, y0: own.y0 + v.y, x1: own.x1 + v.x, y1: own.y1 + v.y };
      if (box.x1 <= target.x0 || box.x0 >= target.x1 || box.y1 <= target.y0 || box.y0 >= target.y1) continue;
      const stays = v.x === 0 && v.y === 0 && base === 0;
      const [outer, ...holes] = stays ? areaPaths([piece]) : areaPaths([piece]).map((p) => movePath(p, v.x, v.y, base));
      if (complete) whole.push({ outer, holes, copyOf: { piece, by: at } });
      else parts.push({ paths: [outer, ...holes], box });
    }
  }
  const { areas } = unionPieces(parts, { book, whole: true });
  return { areas: [...whole, ...areas].flatMap((area) => clipArea(area, target, book)), book };
}

/** The piece lies clear of the unit's sides and of the lines along which its union was cut: it is connected to nothing else. */
function touchesNothing(box: Box, ink: CellInk, { grid }: Cell): boolean {
  if (box.x0 <= 0 || box.y0 <= 0 || box.x1 >= grid.width || box.y1 >= grid.height) return false;
  return ink.cuts.every(({ axis, at }) =>
    axis === 'x' ? box.x0 !== at && box.x1 !== at : box.y0 !== at && box.y1 !== at,
  );
}

/** What of an area lies in a box, as connected areas; the area itself where it lies in it wholly. */
export function clipArea(area: PatternArea, box: Box, book: CurveMarks): PatternArea[] {
  const own = pathsBox([area.outer]);
  if (!own) return [];
  if (own.x0 >= box.x0 && own.x1 <= box.x1 && own.y0 >= box.y0 && own.y1 <= box.y1) return [area];
  const paths = clipToBox(areaPaths([area]), box, book);
  const inner = pathsBox(paths);
  return inner ? unionPieces([{ paths, box: inner }], { book, whole: true }).areas : [];
}

/** The outlines of areas in mm, moved by `by`, with their source curves put back. */
export function areaContours(
  areas: readonly PatternArea[],
  book: CurveMarks,
  cell: Cell,
  by: Point = { x: 0, y: 0 },
): Contour[] {
  return areas.flatMap((area) => {
    if (area.copyOf) {
      const move = { x: area.copyOf.by.x + by.x, y: area.copyOf.by.y + by.y };
      return pieceContours(area.copyOf.piece, cell).contours.map((c) => translateContour(c, move));
    }
    return areaPaths([area]).map((ring) => translateContour(retraceRing(ring, book, cell.grid).contour, by));
  });
}

/** How far a cloth tile's openings run on past its edges, mm, so that a picture of it has no edge. */
const TILE_BLEED_MM = 2;

/** The tile that the cloth repeats straight, with the openings of every cut ink. */
export function clothTile(cell: Cell): ClothTile {
  const { widthMm, heightMm } = straightTile(cell.lattice);
  const box = { x0: -TILE_BLEED_MM, y0: -TILE_BLEED_MM, x1: widthMm + TILE_BLEED_MM, y1: heightMm + TILE_BLEED_MM };
  const inks = cell.inks.map((ink) => {
    const { areas, book } = patternIn(cell, ink, ink.pieces, box);
    return { ink: ink.ink, contours: areaContours(areas, book, cell) };
  });
  return { widthMm, heightMm, inks, bleedMm: TILE_BLEED_MM };
}
