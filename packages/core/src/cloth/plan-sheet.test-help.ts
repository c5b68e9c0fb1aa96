import { boxContour, contourArea, contoursBox } from '../geometry/contour.js';
import type { Box, Contour, Point } from '../geometry/types.js';
import { sheetDots, sheetRepeat } from '../register/dots.js';
import type { Lattice } from '../repeat/types.js';
import { madeSheet } from '../stencil/made-sheet.test-help.js';
import type { JudgedSheet, Sheet } from '../stencil/types.js';

/** What a made-up sheet for a plan is like. */
export interface PlanSheetOptions {
  readonly across?: number;
  readonly down?: number;
  /** Paper to the left and above the field, and to the right and below it, mm. */
  readonly borderMm?: number;
  readonly trailingMm?: number;
  /** Openings, mm from the field's upper left. Default: one that fills the field. */
  readonly openings?: readonly (readonly Contour[])[];
  readonly gauze?: boolean;
  readonly ink?: string;
}

/** A sheet of whole units of the lattice, with the openings that are asked for and nothing else of interest. */
export function planSheet(lattice: Lattice, options: PlanSheetOptions = {}): JudgedSheet {
  const { across = 1, down = 1, borderMm = 30, trailingMm = 25, gauze = true, ink = '#000000' } = options;
  const [w, h] = [across * lattice.widthMm, down * lattice.heightMm];
  const field = { x0: borderMm, y0: borderMm, x1: borderMm + w, y1: borderMm + h };
  const openings = options.openings ?? [[boxContour({ x0: 0, y0: 0, x1: w, y1: h })]];
  return madeSheet({
    ink,
    widthMm: field.x1 + trailingMm,
    heightMm: field.y1 + trailingMm,
    field,
    across,
    down,
    dots: sheetDots(field, sheetRepeat(lattice.repeat, across, down), { diameterMm: 1 }),
    openings: openings.map((contours, k) => opening(contours, k + 1, { x: borderMm, y: borderMm })),
    practice: { hand: 'right', transfer: 'cut-through', grain: null, gauze, soak: true },
  });
}

/** Boxes as openings, one each. */
export function boxOpenings(boxes: readonly Box[]): Contour[][] {
  return boxes.map((box) => [boxContour(box)]);
}

function opening(contours: readonly Contour[], number: number, by: Point): Sheet['openings'][number] {
  const moved = contours.map(({ closed, coords }) => ({
    closed,
    coords: coords.map((value, k) => value + (k % 2 === 0 ? by.x : by.y)),
  }));
  const box = contoursBox(moved) as Box;
  return {
    number,
    openingId: `${number}`,
    firstCut: moved,
    secondCut: [],
    areaMm2: moved.reduce((sum, c) => sum + contourArea(c), 0),
    box,
    // A start of an outline is never strictly inside: with holes no other point is known to be.
    labelAt:
      contours.length === 1
        ? { x: (box.x0 + box.x1) / 2, y: (box.y0 + box.y1) / 2 }
        : { x: moved[0].coords[0], y: moved[0].coords[1] },
    labelRoomMm: 0,
    tool: 'knife',
    punchMm: null,
    cutLengthMm: 0,
    zone: 'Z1',
    done: false,
  };
}
