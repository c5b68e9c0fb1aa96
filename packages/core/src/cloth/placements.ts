import { boxArea, boxWithin, growBox, moveBox, sharedBox } from '../geometry/boxes.js';
import type { Box, Point } from '../geometry/types.js';
import { latticePoint, stepsOnto } from '../repeat/lattice.js';
import type { Lattice, LatticeStep } from '../repeat/types.js';
import { InputError } from '../units/input-error.js';
import type { Leftover } from './plan-types.js';

/** What reaches less than this onto the cloth, or beyond it, is only rounding, mm. */
export const TOUCH_MM = 1e-6;

/** Most placements in one plan: what a page, a table or a person can make nothing of any more. */
export const MAX_PLACEMENTS = 1_000_000;

/** A field on the cloth, before it is numbered in passes. */
export interface LaidPlacement {
  readonly id: string;
  readonly column: number;
  readonly row: number;
  readonly step: LatticeStep;
  readonly field: Box;
  readonly visible: Box;
  readonly share: number;
  readonly whole: boolean;
}

export interface LayPlacementsOptions {
  /** Where the upper left of the field of step 0, 0 lies. */
  readonly origin: Point;
  readonly fill: 'cover' | 'whole';
  readonly start: 'above' | 'in';
}

/** Where the first field lies: at the upper left of the usable cloth, or with the whole columns in the middle of its width. */
export function firstField(lattice: Lattice, usable: Box, align: 'left' | 'centre'): Point {
  const width = usable.x1 - usable.x0;
  const columns = Math.max(1, wholeFields(width, lattice.widthMm));
  const shift = align === 'centre' ? (width - columns * lattice.widthMm) / 2 : 0;
  return { x: usable.x0 + shift, y: usable.y0 };
}

/** How many fields lie wholly in a length. */
export function wholeFields(lengthMm: number, fieldMm: number): number {
  return Math.floor((lengthMm + TOUCH_MM) / fieldMm);
}

/**
 * The fields that lie on the usable cloth with a positive area, column by column (row by row in a brick), numbered from the left and from the
 * start. With `fill: 'whole'` only those that lie on it wholly; with `start: 'in'` none that begins before it (in a brick: beside it on the left).
 * Throws an `InputError` for more than `MAX_PLACEMENTS`.
 */
export function layPlacements(lattice: Lattice, usable: Box, options: LayPlacementsOptions): LaidPlacement[] {
  const { origin, fill, start } = options;
  const { widthMm: w, heightMm: h, repeat } = lattice;
  const about = boxArea(usable) / (w * h);
  if (!(about <= MAX_PLACEMENTS)) {
    throw new InputError(
      `The cloth takes about ${Math.round(about)} placements: at most ${MAX_PLACEMENTS} can be planned at once; plan a shorter cloth or put more units on a sheet.`,
    );
  }
  const brick = repeat.kind === 'brick';
  const target = growBox(moveBox(usable, { x: -origin.x, y: -origin.y }), -TOUCH_MM);
  const placements: LaidPlacement[] = [];
  let line = Number.NaN;
  let lineNumber = 0;
  let inLine = 0;
  for (const step of stepsOnto(lattice, { x0: 0, y0: 0, x1: w, y1: h }, target)) {
    const v = latticePoint(lattice, step);
    const [x0, y0] = [origin.x + v.x, origin.y + v.y];
    const field = { x0, y0, x1: x0 + w, y1: y0 + h };
    const whole = boxWithin(field, usable, TOUCH_MM);
    if (fill === 'whole' && !whole) continue;
    if (start === 'in' && (brick ? x0 < usable.x0 - TOUCH_MM : y0 < usable.y0 - TOUCH_MM)) continue;
    const own = brick ? step.j : step.i;
    if (own !== line) {
      line = own;
      lineNumber++;
      inLine = 0;
    }
    inLine++;
    const [column, row] = brick ? [inLine, lineNumber] : [lineNumber, inLine];
    const visible = whole ? field : (sharedBox(field, usable) as Box);
    const share = whole ? 1 : boxArea(visible) / (w * h);
    placements.push({ id: `c${column}r${row}`, column, row, step, field, visible, share, whole });
  }
  return placements;
}

/** How far the lines of a repeat begin behind the first: along the cloth for columns, across it for the rows of a brick. */
export function lateStart(
  lattice: Lattice,
  placements: readonly LaidPlacement[],
): { headWasteMm: number; sideWasteMm: number } {
  const brick = lattice.repeat.kind === 'brick';
  let least = Infinity;
  let most = -Infinity;
  for (const { column, row, visible } of placements) {
    if ((brick ? column : row) !== 1) continue;
    const from = brick ? visible.x0 : visible.y0;
    least = Math.min(least, from);
    most = Math.max(most, from);
  }
  const late = most - least > TOUCH_MM ? most - least : 0;
  return brick ? { headWasteMm: 0, sideWasteMm: late } : { headWasteMm: late, sideWasteMm: 0 };
}

/** What whole fields leave over, and what stays plain. */
export function clothLeftover(lattice: Lattice, usable: Box, placements: readonly LaidPlacement[]): Leftover {
  const [width, length] = [usable.x1 - usable.x0, usable.y1 - usable.y0];
  const printed = placements.reduce((sum, p) => sum + boxArea(p.visible), 0);
  const plain = boxArea(usable) - printed;
  return {
    acrossMm: beside(width, lattice.widthMm),
    alongMm: beside(length, lattice.heightMm),
    // Sums of many boxes carry rounding of their own.
    plainMm2: plain > boxArea(usable) * 1e-9 ? plain : 0,
  };
}

/** What whole fields leave of a length; 0 where not even one lies in it. */
function beside(lengthMm: number, fieldMm: number): number {
  const count = wholeFields(lengthMm, fieldMm);
  return count === 0 ? 0 : Math.max(0, lengthMm - count * fieldMm);
}
