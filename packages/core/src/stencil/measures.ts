import { distance } from '../geometry/points.js';
import type { Box, Point } from '../geometry/types.js';
import type { Dot } from '../register/dots.js';
import { inchFigure } from '../units/format.js';
import type { Measure } from './types.js';

/** A dot this near a corner of the field is the corner's, mm: rounding only. */
const CORNER_MM = 1e-6;

/**
 * What to measure between the dots of a sheet: the four sides and both diagonals of their corners, which only together prove a
 * rectangle, then for each dot between two corners its distance from both. Dots and `field`, the rectangle of the corner dots, in sheet mm; each distance in mm and to the
 * nearest 1/64 in. Throws a `RangeError` where a corner has no dot.
 */
export function sheetMeasures(dots: readonly Dot[], field: Box): Measure[] {
  const { x0, y0, x1, y1 } = field;
  const [upperLeft, upperRight, lowerRight, lowerLeft] = [
    cornerDot(dots, { x: x0, y: y0 }),
    cornerDot(dots, { x: x1, y: y0 }),
    cornerDot(dots, { x: x1, y: y1 }),
    cornerDot(dots, { x: x0, y: y1 }),
  ];
  const measures = [
    measure('width', upperLeft, upperRight),
    measure('width', lowerLeft, lowerRight),
    measure('height', upperLeft, lowerLeft),
    measure('height', upperRight, lowerRight),
    measure('diagonal', upperLeft, lowerRight),
    measure('diagonal', lowerLeft, upperRight),
  ];
  const corners = [upperLeft, upperRight, lowerRight, lowerLeft];
  for (const dot of dots) {
    if (corners.includes(dot)) continue;
    const beside = corners.filter(
      ({ at }) => Math.abs(at.x - dot.at.x) <= CORNER_MM || Math.abs(at.y - dot.at.y) <= CORNER_MM,
    );
    measures.push(...beside.map((corner) => measure('step', corner, dot)));
  }
  return measures;
}

function measure(what: Measure['what'], from: Dot, to: Dot): Measure {
  const mm = distance(to.at, from.at);
  const { text, errorMm } = inchFigure(mm);
  return { what, from: from.name, to: to.name, mm, inches: text, inchErrorMm: errorMm };
}

function cornerDot(dots: readonly Dot[], corner: Point): Dot {
  const found = dots.find(({ at }) => distance(at, corner) <= CORNER_MM);
  if (found === undefined) {
    throw new RangeError(`got no dot at the corner (${corner.x}, ${corner.y}) mm of the field, expected one`);
  }
  return found;
}
