import type { Contour } from '@okuri/core';
import { filledContours, isPoint } from './outline.js';
import type { RawShape } from './reading.js';

/** Lines narrower than this on paper, mm, are lines to cut along: a slit that narrow passes no paste. */
export const KNIFE_LINE_MM = 0.5;
/** Ends as near as this, mm, close an outline: a knife is good to about 0.2 mm. */
const CLOSING_GAP_MM = 0.05;

/** The width of a shape's stroke on paper, mm: the mean over directions of the pen. */
export function strokeWidthMm(shape: RawShape, mmPerPx: number): number {
  if (shape.stroke === null) return 0;
  const [a, b, c, d] = shape.stroke.pen;
  return shape.stroke.width * Math.sqrt(Math.abs(a * d - b * c)) * mmPerPx;
}

/**
 * Reads a bare hairline as the area inside its closed outlines, in the stroke's colour: `area`, with the even-odd rule
 * where one path has several; `rest` are its open lines. Null where the shape is no knife line.
 */
export function asKnifeLine(shape: RawShape, mmPerPx: number): { area: RawShape; rest: RawShape | null } | null {
  if (!shape.bare || shape.stroke === null || shape.stroke.dash.length > 0) return null;
  if (strokeWidthMm(shape, mmPerPx) >= KNIFE_LINE_MM) return null;
  const closed = shape.contours.filter((contour) => isOutline(contour, CLOSING_GAP_MM / mmPerPx));
  const contours = filledContours(closed);
  if (contours.length === 0) return null;
  const rest = shape.contours.filter((contour) => !closed.includes(contour));
  const rule = contours.length > 1 ? 'evenodd' : 'nonzero';
  return {
    area: { ...shape, contours, rule, stroke: null, bare: false },
    rest: rest.length === 0 ? null : { ...shape, contours: rest },
  };
}

function isOutline(contour: Contour, gap: number): boolean {
  const { coords } = contour;
  const n = coords.length;
  if (isPoint(contour)) return false;
  return contour.closed || (n > 8 && Math.hypot(coords[n - 2] - coords[0], coords[n - 1] - coords[1]) <= gap);
}
