import { boxIndex } from '../geometry/cluster.js';
import { contoursBox } from '../geometry/contour.js';
import { insideContours } from '../geometry/point-tests.js';
import type { Box, Point } from '../geometry/types.js';
import type { Cell, CellInk } from '../repeat/cell.js';
import { areaContours, patternIn } from '../repeat/pattern.js';
import type { SheetOutline } from '../strength/types.js';

/**
 * The outlines of an ink over a box of the field when its release ties are gone, sheet mm. Each belongs to the first of the sheet's openings whose
 * place (`inside`, a point in each opening, sheet mm) lies in it: release ties divide openings, they never join any.
 */
export function releasedOutlines(
  cell: Cell,
  ink: CellInk,
  { reach, origin, inside }: { reach: Box; origin: Point; inside: readonly Point[] },
): SheetOutline[] {
  const { areas, book } = patternIn(cell, ink, ink.pieces, reach);
  const openings = areas.map((area) => areaContours([area], book, cell, origin));
  const boxes = openings.map((contours) => contoursBox(contours) as Box);
  const owner = new Array<number>(openings.length).fill(-1);
  if (boxes.length > 0) {
    const index = boxIndex(boxes);
    inside.forEach((at, k) => {
      const found = index.search(at.x, at.y, at.x, at.y).find((o) => insideContours(openings[o], at));
      if (found !== undefined && owner[found] < 0) owner[found] = k;
    });
  }
  return openings.flatMap((contours, o) => contours.map((contour) => ({ contour, opening: owner[o] })));
}
