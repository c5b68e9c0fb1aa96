import { fillArea } from '../geometry/fill.js';
import { type GridPath, makeGrid, pathsBox, ringArea } from '../geometry/grid.js';
import { labelPlace } from '../geometry/label-place.js';
import { CurveMarks } from '../geometry/marks.js';
import { areaPaths, combineAreas, type GridArea } from '../geometry/polygons.js';
import { retraceRing } from '../geometry/retrace.js';
import type { Contour } from '../geometry/types.js';

/** A grid of 0.1 µm that belongs to no unit. */
const GRID = makeGrid(1, 1);
/** Pieces thinner than two grid units all along are rounding. */
const DUST_UNITS = 2;

/** What is left of an opening between ties: its outlines, and the diameter of a disc that finds room in it, mm (up to 0.5 mm too small). */
export interface OpeningPiece {
  readonly contours: readonly Contour[];
  readonly roomMm: number;
}

/** An opening with strips of paper left standing in it, in pieces. Outlines keep their curves. */
export function cutOpening(contours: readonly Contour[], strips: readonly Contour[]): OpeningPiece[] {
  const whole = fillArea(contours, 'nonzero', GRID);
  const standing = fillArea(strips, 'nonzero', GRID);
  const book = new CurveMarks();
  const base = book.include(whole.book, 0, 0);
  const above = book.include(standing.book, 0, 0);
  const areas = combineAreas('difference', marked(whole.paths, base), marked(standing.paths, above), { book });
  return areas
    .filter((area) => !isDust(area))
    .map((area) => ({
      contours: areaPaths([area]).map((ring) => retraceRing(ring, book, GRID).contour),
      roomMm: 2 * labelPlace(area, GRID).roomMm,
    }));
}

function marked(paths: readonly GridPath[], base: number): GridPath[] {
  return paths.map((path) => path.map(({ x, y, z }) => ({ x, y, z: z ? z + base : 0 })));
}

function isDust(area: GridArea): boolean {
  const box = pathsBox([area.outer]);
  if (!box) return true;
  return ringArea(area.outer) < (DUST_UNITS / 2) * 2 * (box.x1 - box.x0 + box.y1 - box.y0);
}
