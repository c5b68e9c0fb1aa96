import { type Grid, type GridPath, ringArea } from '../geometry/grid.js';
import { areaPaths, type GridArea } from '../geometry/polygons.js';
import { isThick, thickness } from '../geometry/thick.js';
import type { Cell } from './cell.js';

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
export function slightWhy(paths: readonly GridPath[], grid: Pick<Grid, 'sx' | 'sy'>): SlightWhy | null {
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
