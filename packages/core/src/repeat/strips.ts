import { boxesOverlap } from '../geometry/boxes.js';
import { boxIndex } from '../geometry/cluster.js';
import { fillArea } from '../geometry/fill.js';
import { type GridPath, pathsBox, ringArea, ringLength } from '../geometry/grid.js';
import { CurveMarks } from '../geometry/marks.js';
import { areaPaths, combineAreas, type GridArea } from '../geometry/polygons.js';
import { seatCuts } from '../geometry/seat-cuts.js';
import type { Box, Contour } from '../geometry/types.js';
import type { UnionPart } from '../geometry/union.js';
import { type Cell, mmBox, movePath } from './cell.js';
import { latticePoint, stepsOnto } from './lattice.js';
import { gridStep } from './lattice-grid.js';
import { unitBox } from './shape-area.js';

/** Whose curves the edges of strips are, in place of a shape's number (-1 is nobody's). */
export const STRIP_OWNER = -2;

/** Pieces of less than a grid unit squared lost or won are the same: that is rounding. */
const SAME_AREA = 1;

/** A cell one of whose inks was cut by strips, and which piece of the cell before each of that ink's pieces came from. */
export interface StripCell {
  readonly cell: Cell;
  readonly from: readonly number[];
}

export interface StripOptions {
  /** The pieces (of the ink, by index) that are meant; all others stay as they are. All by default. */
  readonly meant?: (piece: number) => boolean;
}

/**
 * The cell with paper left standing in one ink: strips (outlines, unit mm, wherever they lie; every lattice copy that reaches into the unit
 * counts) are taken off its pieces. Outlines keep their source curves, and end where those meet the strips; pieces that no strip touches stay the very same objects. Throws
 * `RangeError` for an ink that the cell has not.
 */
export function subtractStrips(
  cell: Cell,
  inkIndex: number,
  strips: readonly Contour[],
  options: StripOptions = {},
): StripCell {
  return cutByStrips('difference', cell, inkIndex, strips, options);
}

/** As `subtractStrips`, but what lies under strips is kept and all else taken off: what the strips cover of an ink's openings. */
export function intersectStrips(
  cell: Cell,
  inkIndex: number,
  strips: readonly Contour[],
  options: StripOptions = {},
): StripCell {
  return cutByStrips('intersection', cell, inkIndex, strips, options);
}

function cutByStrips(
  operation: 'difference' | 'intersection',
  cell: Cell,
  inkIndex: number,
  strips: readonly Contour[],
  { meant = () => true }: StripOptions,
): StripCell {
  const ink = cell.inks[inkIndex];
  if (!ink) throw new RangeError(`got ink ${inkIndex}, expected one of the cell's ${cell.inks.length}`);
  const { parts, book } = placeStrips(cell, strips);
  const index = parts.length > 0 ? boxIndex(parts.map((p) => p.box)) : null;
  const pieces: GridArea[] = [];
  const from: number[] = [];
  ink.pieces.forEach((piece, k) => {
    const cut = (): readonly GridArea[] => {
      const box = pathsBox([piece.outer]) as Box;
      const near = index?.search(box.x0, box.y0, box.x1, box.y1).filter((s) => boxesOverlap(parts[s].box, box)) ?? [];
      if (near.length === 0) return operation === 'difference' ? [piece] : [];
      near.sort((a, b) => a - b);
      const clip = near.flatMap((s) => parts[s].paths);
      const after = book.size;
      const areas = combineAreas(operation, areaPaths([piece]), clip, { book }).filter((a) => !isDust(a));
      if (Math.abs(areaOf(areas) - areaOf([piece])) < SAME_AREA) return [piece];
      const seat = (ring: GridPath): GridPath => seatCuts(ring, { book, grid: cell.grid, after, within: box });
      return areas.map(({ outer, holes }) => ({ outer: seat(outer), holes: holes.map(seat) }));
    };
    for (const area of meant(k) ? cut() : [piece]) {
      pieces.push(area);
      from.push(k);
    }
  });
  const inks = cell.inks.map((other, k) => (k === inkIndex ? { ...ink, pieces } : other));
  return { cell: { ...cell, book, inks, carried: new Set([...cell.carried, STRIP_OWNER]) }, from };
}

/** All copies of strips that reach into the unit, on the grid. The new book holds the cell's marks as they were. */
function placeStrips(cell: Cell, strips: readonly Contour[]): { parts: UnionPart[]; book: CurveMarks } {
  const { lattice, grid } = cell;
  const unit = unitBox(grid);
  const book = new CurveMarks();
  book.include(cell.book, 0, 0);
  const parts: UnionPart[] = [];
  for (const strip of strips) {
    const area = fillArea([strip], 'nonzero', grid, { owner: STRIP_OWNER });
    const box = pathsBox(area.paths);
    if (!box) continue;
    for (const step of stepsOnto(lattice, mmBox(box, grid), mmBox(unit, grid))) {
      const at = latticePoint(lattice, step);
      const v = gridStep(lattice, grid, step);
      const base = book.include(area.book, at.x, at.y);
      parts.push({
        paths: area.paths.map((path) => movePath(path, v.x, v.y, base)),
        box: { x0: box.x0 + v.x, y0: box.y0 + v.y, x1: box.x1 + v.x, y1: box.y1 + v.y },
      });
    }
  }
  return { parts, book };
}

/** The area of pieces, grid units squared. */
function areaOf(areas: readonly GridArea[]): number {
  return areaPaths(areas).reduce((sum, ring) => sum + ringArea(ring), 0);
}

/** Thinner than two grid units all along: what rounding leaves between two edges that should be one. */
function isDust({ outer }: GridArea): boolean {
  return ringArea(outer) < ringLength(outer);
}
