import { boxOf, joinBoxes } from '../geometry/boxes.js';
import { boxIndex } from '../geometry/cluster.js';
import { pathsBox } from '../geometry/grid.js';
import { contourDistance, insideContours } from '../geometry/point-tests.js';
import { segmentMiddle } from '../geometry/segments.js';
import type { Box } from '../geometry/types.js';
import { type Cell, mmBox } from '../repeat/cell.js';
import { latticePoint, nearestStep } from '../repeat/lattice.js';
import { areaContours, patternIn } from '../repeat/pattern.js';
import type { Lattice } from '../repeat/types.js';
import { type CurveIndex, indexCurves, tieReach } from '../ties/tie-reach.js';
import type { StandingTie, TieEnds } from '../ties/tie-shape.js';

/** Room around ties within which outlines are looked at, mm, past what their strips can reach. */
const ROOM_MM = 1;

/** An end within this of an outline lies on it, mm: a knife is no better. */
const ON_BANK_MM = 0.1;

export interface StandTiesOptions {
  readonly widthMm: number;
  readonly flareMm: number;
  /** Farthest that a strip may run on past a bank, mm; two widths by default. */
  readonly capMm?: number;
}

/**
 * Ties with the reach that their strips need in the openings of an ink, in the same order. Ends in unit mm, wherever they lie on the cloth. A
 * tie whose strip can't come to stand between two banks (see `tieReach`) gives null.
 */
export function fitTies<T extends TieEnds>(
  cell: Cell,
  inkIndex: number,
  ties: readonly T[],
  { widthMm, flareMm, capMm = 2 * widthMm }: StandTiesOptions,
): ((T & StandingTie) | null)[] {
  const near = nearUnit(ties, cell.lattice);
  const outlines = openingsAround(cell, inkIndex, near, widthMm / 2 + flareMm + capMm + ROOM_MM);
  return ties.map((tie, k) => {
    const reachMm = tieReach(near[k], outlines, { widthMm, flareMm, capMm });
    return reachMm && { ...tie, widthMm, flareMm, reachMm };
  });
}

/**
 * Whether a tie leads across an opening of an ink from one of its banks to another: its ends lie on outlines (within 0.1 mm), its middle in
 * an opening. Where such a tie can't come to stand, the paper on which it lands is too narrow for its width.
 */
export function leadsAcross(cell: Cell, inkIndex: number, tie: TieEnds): boolean {
  const [near] = nearUnit([tie], cell.lattice);
  const { from, to } = near;
  const { contours } = openingsAround(cell, inkIndex, [near], ROOM_MM);
  const middle = segmentMiddle({ from, to });
  return insideContours(contours, middle) && [from, to].every((end) => contourDistance(contours, end) <= ON_BANK_MM);
}

/** Copies of ties that lie together near one unit, so that the pattern is needed there only. */
export function nearUnit<T extends TieEnds>(ties: readonly T[], lattice: Lattice): T[] {
  const middle = { x: lattice.widthMm / 2, y: lattice.heightMm / 2 };
  return ties.map((tie): T => {
    const { from, to } = tie;
    const { step } = nearestStep(lattice, { x: (from.x + to.x) / 2 - middle.x, y: (from.y + to.y) / 2 - middle.y });
    const v = latticePoint(lattice, step);
    return { ...tie, from: { x: from.x - v.x, y: from.y - v.y }, to: { x: to.x - v.x, y: to.y - v.y } };
  });
}

/** The outlines of an ink's openings, joined over the seams, around ties. Throws `RangeError` for an ink that the cell has not. */
export function openingsAround(cell: Cell, inkIndex: number, ties: readonly TieEnds[], roomMm: number): CurveIndex {
  if (ties.length === 0) return indexCurves([]);
  const ink = cell.inks[inkIndex];
  if (!ink) throw new RangeError(`got ink ${inkIndex}, expected one of the cell's ${cell.inks.length}`);
  const boxes = ties.map((tie) => boxOf([tie.from, tie.to], roomMm));
  const { areas, book } = patternIn(cell, ink, ink.pieces, boxes.reduce(joinBoxes));
  // Between ties that stand far apart lies much of the pattern that none of them meets.
  const index = boxIndex(boxes);
  const near = areas.filter((area) => {
    const { x0, y0, x1, y1 } = mmBox(pathsBox([area.outer]) as Box, cell.grid);
    return index.search(x0, y0, x1, y1).length > 0;
  });
  return indexCurves(areaContours(near, book, cell));
}
