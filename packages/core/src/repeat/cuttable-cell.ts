import { CurveMarks } from '../geometry/marks.js';
import { areaPaths, type GridArea, unionAreas } from '../geometry/polygons.js';
import type { Cell, CellInk } from './cell.js';
import { gluePieces } from './glue.js';
import { gridStep } from './lattice-grid.js';
import { isSlightPiece, type SlightWhy, slightWhy } from './slight.js';

/** An opening of the pattern that is not cut: the pieces of an ink (by its place among the cell's) that make it. */
export interface SlightOpening {
  readonly inkIndex: number;
  readonly why: SlightWhy;
  readonly pieces: readonly GridArea[];
}

/** A cell without the openings that no blade can cut. */
export interface CuttableCell {
  readonly cell: Cell;
  /** For each ink the pieces that are left, by their places among the ink's pieces before. */
  readonly from: readonly (readonly number[])[];
  readonly slight: readonly SlightOpening[];
}

/** Leaves out of a cell all openings that are too small or too narrow to be cut, followed across the seams. The same cell where there are none. */
export function withoutSlight(cell: Cell): CuttableCell {
  const slight: SlightOpening[] = [];
  const from: (readonly number[])[] = [];
  const inks = cell.inks.map((ink, inkIndex) => {
    const groups = slightGroups(ink, cell);
    const gone = new Set(groups.flatMap(({ pieces }) => pieces));
    for (const { why, pieces } of groups) slight.push({ inkIndex, why, pieces: pieces.map((k) => ink.pieces[k]) });
    const kept = ink.pieces.flatMap((_, k) => (gone.has(k) ? [] : [k]));
    from.push(kept);
    return gone.size === 0 ? ink : { ...ink, pieces: kept.map((k) => ink.pieces[k]) };
  });
  return { cell: slight.length === 0 ? cell : { ...cell, inks }, from, slight };
}

/**
 * A cell with openings that were left out of it, or of a cell from which it was made, back in: the drawing as it comes to the seams. Its marks must
 * hold those of the cells before.
 */
export function withSlight(cell: Cell, slight: readonly SlightOpening[]): Cell {
  if (slight.length === 0) return cell;
  const inks = cell.inks.map((ink, k) => {
    const back = slight.filter(({ inkIndex }) => inkIndex === k).flatMap(({ pieces }) => pieces);
    return back.length === 0 ? ink : { ...ink, pieces: [...ink.pieces, ...back] };
  });
  return { ...cell, inks };
}

/** Openings of an ink that can't be cut, as groups of its pieces. Pieces that could be cut are in none, nor is what hangs together with one. */
function slightGroups(ink: CellInk, cell: Cell): { why: SlightWhy; pieces: number[] }[] {
  if (!ink.pieces.some((piece) => isSlightPiece(piece, cell))) return [];
  const { grid, lattice } = cell;
  const { forest } = gluePieces(ink, cell);
  const groups = new Map<number, number[]>();
  const sound = new Set<number>();
  ink.pieces.forEach((piece, k) => {
    const { root } = forest.find(k);
    if (!isSlightPiece(piece, cell)) sound.add(root);
    const group = groups.get(root);
    if (group) group.push(k);
    else groups.set(root, [k]);
  });
  return [...groups].flatMap(([root, pieces]) => {
    if (sound.has(root)) return [];
    const laid = pieces.flatMap((k) => {
      const v = gridStep(lattice, grid, forest.find(k));
      // Without marks: only the area counts.
      return areaPaths([ink.pieces[k]]).map((ring) => ring.map(({ x, y }) => ({ x: x + v.x, y: y + v.y })));
    });
    const why = slightWhy(pieces.length > 1 ? areaPaths(unionAreas(laid, { book: new CurveMarks() })) : laid, grid);
    return why === null ? [] : [{ why, pieces }];
  });
}
