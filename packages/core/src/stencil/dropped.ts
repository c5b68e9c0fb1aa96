import { contourArea, contoursBox } from '../geometry/contour.js';
import { areaPaths } from '../geometry/polygons.js';
import type { Box, Point } from '../geometry/types.js';
import type { Cell } from '../repeat/cell.js';
import type { SlightOpening } from '../repeat/cuttable-cell.js';
import { areaContours, patternIn } from '../repeat/pattern.js';
import { slightWidth } from '../repeat/slight.js';
import type { DroppedArea } from './edge-parts.js';
import type { DroppedPlace } from './types.js';

/** Openings that were left out of a cell (`withoutSlight`), and the cell that they lay in. */
export interface LeftOut {
  readonly cell: Cell;
  readonly slight: readonly SlightOpening[];
}

/** What a sheet leaves out of an opening that is cut, sheet mm. */
export function droppedPlace(dropped: DroppedArea, cell: Cell, origin: Point): DroppedPlace {
  const { why, areas, core, book, lostShare } = dropped;
  const contours = areaContours(areas, book, cell, origin);
  const areaMm2 = areaContours(core, book, cell).reduce((sum, contour) => sum + contourArea(contour), 0);
  return {
    why,
    contours,
    box: contoursBox(contours) as Box,
    areaMm2,
    widthMm: slightWidth(areaPaths(core), cell.grid),
    lostMm2: lostShare * areaMm2,
  };
}

/** The places of a sheet's field (field mm) in which openings of one ink lie that are cut nowhere, sheet mm. */
export function leftOutPlaces(
  { cell, slight }: LeftOut,
  inkIndex: number,
  { field, origin }: { field: Box; origin: Point },
): DroppedPlace[] {
  return slight
    .filter((opening) => opening.inkIndex === inkIndex)
    .flatMap(({ why, pieces }) => {
      const { areas, book } = patternIn(cell, cell.inks[inkIndex], pieces, field);
      return areas.map((area) => droppedPlace({ why, areas: [area], core: [area], book, lostShare: 1 }, cell, origin));
    });
}
