import { type Box, type Contour, contoursBox } from '@okuri/core';
import { boxHolds, boxMiddle, contourArea, flattenCubic, insideContours } from '@okuri/core/inside';

/** Fine enough to tell whether an outline enters a rectangle, mm. */
const LOOK_MM = 0.02;

/** A connected dark area: its outline, which comes first, and its holes. */
export interface DarkArea {
  readonly contours: readonly Contour[];
  readonly box: Box;
}

/**
 * The connected areas of traced outlines (outer ones have a positive area, holes a negative one, and no two cross), in the order of their outer outlines. Every hole goes with
 * the smallest outline around it.
 */
export function darkAreas(contours: readonly Contour[]): DarkArea[] {
  const outer = contours.flatMap((contour) => {
    const area = contourArea(contour);
    const box = contoursBox([contour]);
    return area > 0 && box !== null ? [{ contours: [contour], box, area }] : [];
  });
  const bySize = [...outer].sort((a, b) => a.area - b.area);
  for (const contour of contours) {
    if (contourArea(contour) >= 0) continue;
    const [x, y] = contour.coords;
    const around = bySize.find((one) => boxHolds(one.box, { x, y }) && insideContours([one.contours[0]], { x, y }));
    around?.contours.push(contour);
  }
  return outer.map(({ contours: own, box }) => ({ contours: own, box }));
}

/** Whether any of a dark area lies inside a box: an outline enters it, or the box lies in the dark as a whole. */
export function reachesInto({ contours, box: own }: DarkArea, box: Box): boolean {
  if (!(own.x0 < box.x1 && own.x1 > box.x0 && own.y0 < box.y1 && own.y1 > box.y0)) return false;
  if (own.x0 >= box.x0 && own.x1 <= box.x1 && own.y0 >= box.y0 && own.y1 <= box.y1) return true;
  if (insideContours(contours, boxMiddle(box))) return true;
  return contours.some(({ coords }) => {
    let [x, y] = coords;
    let enters = false;
    for (let o = 0; o + 7 < coords.length && !enters; o += 6) {
      flattenCubic(coords, o, LOOK_MM, (nx, ny) => {
        enters ||= sideEnters(x, y, nx, ny, box);
        [x, y] = [nx, ny];
      });
    }
    return enters;
  });
}

/** Whether a straight side has a part inside a box (Liang and Barsky, A New Concept and Method for Line Clipping, 1984). */
function sideEnters(x: number, y: number, nx: number, ny: number, box: Box): boolean {
  let [from, to] = [0, 1];
  for (const [start, step, low, high] of [
    [x, nx - x, box.x0, box.x1],
    [y, ny - y, box.y0, box.y1],
  ]) {
    if (step === 0) {
      if (start <= low || start >= high) return false;
      continue;
    }
    const [a, b] = [(low - start) / step, (high - start) / step];
    from = Math.max(from, Math.min(a, b));
    to = Math.min(to, Math.max(a, b));
  }
  return from < to;
}
