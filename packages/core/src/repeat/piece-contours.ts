import { contourArea } from '../geometry/contour.js';
import type { GridArea } from '../geometry/polygons.js';
import { retraceRing } from '../geometry/retrace.js';
import type { Contour } from '../geometry/types.js';
import type { Cell } from './cell.js';

/** A piece of the cell on its source curves, unit mm. */
export interface PieceContours {
  readonly contours: readonly Contour[];
  readonly areaMm2: number;
  readonly boundMm2: number;
}

/** Pieces are traced once: areas, sheets and the cloth's picture all ask for them. */
const traced = new WeakMap<GridArea, PieceContours>();

/** The outlines of a piece with its source curves put back, and its exact area. */
export function pieceContours(piece: GridArea, cell: Cell): PieceContours {
  const known = traced.get(piece);
  if (known) return known;
  const contours: Contour[] = [];
  let areaMm2 = 0;
  let boundMm2 = 0;
  for (const ring of [piece.outer, ...piece.holes]) {
    const { contour, boundMm2: bound } = retraceRing(ring, cell.book, cell.grid);
    contours.push(contour);
    areaMm2 += contourArea(contour);
    boundMm2 += bound;
  }
  const made = { contours, areaMm2, boundMm2 };
  traced.set(piece, made);
  return made;
}
