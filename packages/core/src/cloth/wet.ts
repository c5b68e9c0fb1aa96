import { boxesOverlap, boxMiddle, growBox, joinBoxes, moveBox } from '../geometry/boxes.js';
import { FLATTEN_MM, flattenCubic } from '../geometry/flatten.js';
import { insideContours } from '../geometry/point-tests.js';
import type { Box, Contour, Point } from '../geometry/types.js';
import { latticePoint, stepsOnto } from '../repeat/lattice.js';
import type { Lattice, LatticeStep } from '../repeat/types.js';
import { InputError } from '../units/input-error.js';
import type { LaidSheet } from './laid-sheet.js';

/** Paper that reaches less than this over an opening only touches it, mm: twice what an outline loses when it is flattened. */
export const WET_TOUCH_MM = 2 * FLATTEN_MM;

/** Most placements that one sheet may lie upon: a border of many fields is a slip. */
const MAX_REACH = 4000;

/**
 * The steps from one placement to those that must not be printed while it is wet: the paper of one, with its border, lies over an opening of the
 * other. A step and its opposite are both there. For several sheets: what any of them asks for.
 */
export function wetConflicts(sheets: readonly LaidSheet[], lattice: Lattice): LatticeStep[] {
  const found = new Map<string, LatticeStep>();
  for (const sheet of sheets) {
    for (const step of stepsInReach(sheet, lattice)) {
      const back = { i: -step.i + 0, j: -step.j + 0 };
      if (found.has(key(step))) continue;
      if (!coversWet(sheet, latticePoint(lattice, step))) continue;
      found.set(key(step), step);
      found.set(key(back), back);
    }
  }
  return [...found.values()].sort((a, b) => a.i - b.i || a.j - b.j);
}

/** Whether the paper of a sheet lies over an opening of the same sheet moved by `by`, by more than a touch. */
export function coversWet(sheet: LaidSheet, by: Point): boolean {
  const { paper } = sheet;
  // The paper as the moved openings see it, less the touch.
  const over = growBox(moveBox(paper, { x: -by.x, y: -by.y }), -WET_TOUCH_MM);
  if (!(over.x0 < over.x1 && over.y0 < over.y1)) return false;
  // A point inside an opening settles most cases without a look at outlines.
  if (sheet.openings.some((o) => within(over, o.inside.x, o.inside.y))) return true;
  return sheet.openings.some((o) => boxesOverlap(over, o.box) && boxMeetsArea(over, o.contours));
}

/** Whether an open box and the inside of contours (nonzero) share an area. */
export function boxMeetsArea(box: Box, contours: readonly Contour[]): boolean {
  for (const { coords } of contours) {
    let x = coords[0];
    let y = coords[1];
    let cut = false;
    const side = (nx: number, ny: number): void => {
      cut ||= sideMeetsBox(box, x, y, nx, ny);
      x = nx;
      y = ny;
    };
    for (let o = 0; o + 7 < coords.length && !cut; o += 6) flattenCubic(coords, o, FLATTEN_MM, side);
    if (cut) return true;
  }
  // No outline in the box: it lies wholly inside the openings or wholly outside.
  return insideContours(contours, boxMiddle(box));
}

/** The lattice steps, other than none, at which paper could lie over an opening. */
function stepsInReach({ paper, openings }: LaidSheet, lattice: Lattice): LatticeStep[] {
  if (openings.length === 0) return [];
  const wet = openings.reduce((all, { box }) => joinBoxes(all, box), openings[0].box);
  const cells = ((paper.x1 - paper.x0) * (paper.y1 - paper.y0)) / (lattice.widthMm * lattice.heightMm);
  if (cells > MAX_REACH) {
    throw new InputError(
      `The paper of the sheet is ${Math.round(cells)} times as large as its field: put more units on one sheet, or give it a narrower border.`,
    );
  }
  return stepsOnto(lattice, wet, paper).filter(({ i, j }) => i !== 0 || j !== 0);
}

/** Whether a segment has a point inside the box (Liang and Barsky's clipping). */
function sideMeetsBox(box: Box, ax: number, ay: number, bx: number, by: number): boolean {
  let [from, to] = [0, 1];
  for (const [start, delta, low, high] of [
    [ax, bx - ax, box.x0, box.x1],
    [ay, by - ay, box.y0, box.y1],
  ] as const) {
    if (delta === 0) {
      if (start <= low || start >= high) return false;
      continue;
    }
    const [a, b] = [(low - start) / delta, (high - start) / delta];
    from = Math.max(from, Math.min(a, b));
    to = Math.min(to, Math.max(a, b));
  }
  return from < to;
}

function within(box: Box, x: number, y: number): boolean {
  return x > box.x0 && x < box.x1 && y > box.y0 && y < box.y1;
}

function key({ i, j }: LatticeStep): string {
  return `${i},${j}`;
}
