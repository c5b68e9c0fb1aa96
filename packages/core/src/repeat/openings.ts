import { joinBoxes } from '../geometry/boxes.js';
import { pathsBox } from '../geometry/grid.js';
import { insidePoint } from '../geometry/inside.js';
import type { Box, Point } from '../geometry/types.js';
import type { Cell, CellInk } from './cell.js';
import { gluePieces } from './glue.js';
import { gridStep } from './lattice-grid.js';
import { pieceContours } from './piece-contours.js';
import type { Opening } from './types.js';

/** An opening with the pieces of the cell that make it (indices into the ink's pieces). */
export interface CellOpening extends Opening {
  readonly pieces: readonly number[];
}

/** The openings of every ink of a cell, followed across the seams, in reading order. */
export function findOpenings(cell: Cell): CellOpening[] {
  return cell.inks.flatMap((ink) => inkOpenings(ink, cell, cell.inks.length > 1 ? `${ink.ink.slice(1)}-` : ''));
}

function inkOpenings(ink: CellInk, cell: Cell, prefix: string): CellOpening[] {
  const { forest, crosses } = gluePieces(ink, cell);
  const groups = new Map<number, number[]>();
  ink.pieces.forEach((_, k) => {
    const { root } = forest.find(k);
    const group = groups.get(root);
    if (group) group.push(k);
    else groups.set(root, [k]);
  });
  const { grid, lattice } = cell;
  const found = [...groups.values()].map((pieces) => {
    let areaMm2 = 0;
    let areaBoundMm2 = 0;
    let whole: Box | null = null;
    let largest = { area: -1, piece: pieces[0] };
    for (const k of pieces) {
      const { areaMm2: pieceArea, boundMm2 } = pieceContours(ink.pieces[k], cell);
      areaMm2 += pieceArea;
      areaBoundMm2 += boundMm2;
      if (pieceArea > largest.area) largest = { area: pieceArea, piece: k };
      const at = forest.find(k);
      const v = gridStep(lattice, grid, at);
      const box = pathsBox([ink.pieces[k].outer]) as Box;
      const moved = { x0: box.x0 + v.x, y0: box.y0 + v.y, x1: box.x1 + v.x, y1: box.y1 + v.y };
      whole = whole ? joinBoxes(whole, moved) : moved;
    }
    const rank = forest.rank(pieces[0]);
    const inside = insidePoint(ink.pieces[largest.piece]);
    return {
      ink: ink.ink,
      rank,
      areaMm2,
      areaBoundMm2,
      boxMm: rank === 0 ? homeBox(whole as Box, cell) : null,
      crosses: (['right', 'bottom'] as const).filter((seam) => pieces.some((k) => crosses[seam].has(k))),
      atMm: { x: inside.x / grid.sx, y: inside.y / grid.sy },
      pieces,
    };
  });
  // Reading order by a place of the opening itself, in rows of a millimetre, so that numbers do not hang on the order of the artwork.
  found.sort((a, b) => Math.round(a.atMm.y) - Math.round(b.atMm.y) || a.atMm.x - b.atMm.x || a.atMm.y - b.atMm.y);
  return found.map((o, k) => ({ id: `${prefix}${k + 1}`, ...o }));
}

/** The box in mm, moved by whole steps so that its upper left lies in the unit. */
function homeBox(box: Box, cell: Cell): Box {
  const { grid, lattice } = cell;
  const home = homeStep({ x: box.x0, y: box.y0 }, cell);
  const v = gridStep(lattice, grid, home);
  return {
    x0: (box.x0 + v.x) / grid.sx,
    y0: (box.y0 + v.y) / grid.sy,
    x1: (box.x1 + v.x) / grid.sx,
    y1: (box.y1 + v.y) / grid.sy,
  };
}

/** The step that brings a grid place into the unit. */
function homeStep(p: Point, cell: Cell): { i: number; j: number } {
  const { grid, lattice } = cell;
  if (lattice.repeat.kind === 'brick') {
    const j = -Math.floor(p.y / grid.height);
    const moved = p.x + gridStep(lattice, grid, { i: 0, j }).x;
    return { i: -Math.floor(moved / grid.width), j };
  }
  const i = -Math.floor(p.x / grid.width);
  const moved = p.y + gridStep(lattice, grid, { i, j: 0 }).y;
  return { i, j: -Math.floor(moved / grid.height) };
}
