import { type Grid, type GridPath, ringArea } from '../geometry/grid.js';
import { MarkBook } from '../geometry/marks.js';
import { areaPaths, type GridArea, unionAreas } from '../geometry/polygons.js';
import { isThick, thickness } from '../geometry/thick.js';
import type { Cell, CellInk } from './cell.js';
import { gluePieces } from './glue.js';
import { gridStep } from './lattice-grid.js';

/**
 * What has no room for a disc of this diameter anywhere is too narrow for any blade, mm: each of the two cuts along it is good to about 0.2 mm, so
 * they run into each other, and what prints is the unevenness of the hand.
 */
export const BLADE_MM = 0.3;
/** An opening of less is of practically no area, mm²: a speck a quarter of a millimetre across. */
export const LEAST_AREA_MM2 = 0.05;
/** Widths of what is not cut are found to this, mm: a tenth of what a knife is good to. */
const WIDTH_STEP_MM = 0.02;

/** Why no cutter is given an opening. */
export type SlightWhy = 'too-small' | 'too-narrow';

/** Why an area (rings that do not cross, areas that abut united) can't be cut; null where it can. */
export function slightWhy(paths: readonly GridPath[], grid: Grid): SlightWhy | null {
  const area = paths.reduce((sum, ring) => sum + ringArea(ring), 0) / (grid.sx * grid.sy);
  if (area < LEAST_AREA_MM2) return 'too-small';
  return isThick(paths, BLADE_MM * grid.sx) ? null : 'too-narrow';
}

/** Diameter of the largest disc in an area that is not cut, mm. */
export function slightWidth(paths: readonly GridPath[], grid: Grid): number {
  return thickness(paths, { most: BLADE_MM * grid.sx, step: WIDTH_STEP_MM * grid.sx }) / grid.sx;
}

/** Pieces are judged once: openings and seams both ask. */
const judged = new WeakMap<GridArea, boolean>();

/** Whether a piece of a cell, seen by itself, is too small or too narrow to be cut. */
export function isSlightPiece(piece: GridArea, { grid }: Cell): boolean {
  const known = judged.get(piece);
  if (known !== undefined) return known;
  const slight = slightWhy(areaPaths([piece]), grid) !== null;
  judged.set(piece, slight);
  return slight;
}

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
    const why = slightWhy(pieces.length > 1 ? areaPaths(unionAreas(laid, { book: new MarkBook() })) : laid, grid);
    return why === null ? [] : [{ why, pieces }];
  });
}
