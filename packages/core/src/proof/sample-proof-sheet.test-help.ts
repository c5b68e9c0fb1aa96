import { circleContour, contoursBox, polyline } from '../geometry/contour.js';
import type { Box, Contour, Point } from '../geometry/types.js';
import type { Dot } from '../register/dots.js';
import { madeSheet } from '../stencil/made-sheet.test-help.js';
import type { Sheet, SheetOpening } from '../stencil/types.js';
import type { SheetEnds } from './types.js';

/** Field of the sample sheet: 120 × 90 mm, 15 mm from the paper's upper left. */
const FIELD: Box = { x0: 15, y0: 15, x1: 135, y1: 105 };
const HELD_MM = 15;
const LAP_MM = 0.4;

const at = (x: number, y: number): Point => ({ x: FIELD.x0 + x, y: FIELD.y0 + y });
const area = (...xy: number[]): Contour =>
  polyline(
    Array.from({ length: xy.length / 2 }, (_, k) => at(xy[2 * k], xy[2 * k + 1])),
    { closed: true },
  );
const disc = (x: number, y: number, radius: number): Contour => circleContour(at(x, y), radius);

/** Berries strewn over the field, some as small as dots. */
const BERRIES = [
  [20, 60, 3],
  [32, 70, 0.7],
  [38, 52, 2],
  [66, 12, 4],
  [82, 8, 0.6],
  [95, 50, 5],
  [60, 44, 0.75],
  [75, 62, 3.5],
  [14, 45, 0.8],
  [58, 66, 2.5],
  [88, 68, 0.65],
] as const;

function opening(number: number, firstCut: Contour[], secondCut: Contour[] = []): SheetOpening {
  return {
    number,
    openingId: String(number),
    firstCut,
    secondCut,
    areaMm2: 0,
    box: contoursBox([...firstCut, ...secondCut]) as Box,
    labelAt: at(0, 0),
    labelRoomMm: 0,
    tool: 'knife',
    punchMm: null,
    cutLengthMm: 0,
    zone: 'Z1',
    done: false,
  };
}

function dot(name: string, p: Point, lead: boolean): Dot {
  return { name, at: p, diameterMm: lead ? 1 : 1.5, lead };
}

/**
 * A small sheet for proofs: a slanting band that comes in at the left (1) and goes out at the right (2, held from there), a bar that comes in at the top (3) and goes
 * out at the bottom (4, all of it held), and berries (5 on).
 */
export function sampleProofSheet(): Sheet {
  const openings = [
    opening(1, [area(-LAP_MM, 20, 30, 24, 34, 33, -LAP_MM, 30)]),
    opening(2, [area(70, 22, 105, 21, 105, 30.5, 72, 33)], [area(105, 21, 120, 20, 120, 30, 105, 30.5)]),
    opening(3, [area(40, -LAP_MM, 50, -LAP_MM, 52, 25, 44, 30)]),
    opening(4, [], [area(42, 80, 49, 80, 50, 90, 40, 90)]),
    ...BERRIES.map(([x, y, radius], k) => opening(5 + k, [disc(x, y, radius)])),
  ];
  return madeSheet({
    widthMm: 150,
    heightMm: 120,
    field: FIELD,
    heldRight: { ...FIELD, x0: FIELD.x1 - HELD_MM },
    heldBottom: { ...FIELD, y0: FIELD.y1 - HELD_MM },
    lapMm: LAP_MM,
    dots: [
      dot('A', at(0, 0), true),
      dot('B', at(120, 0), true),
      dot('C', at(120, 90), false),
      dot('D', at(0, 90), true),
    ],
    openings,
    practice: { hand: 'right', transfer: 'cut-through', grain: null, gauze: false, soak: false },
    stops: [{ number: 2, from: at(105, 21), to: at(105, 30.5) }],
  });
}

/** Its ends, by hand. */
export const SAMPLE_ENDS: SheetEnds = {
  joins: [
    { name: 'J1', seam: 'right', at: at(120, 20), lead: at(0, 20.0526), edge: 'begins', partner: 1 },
    { name: 'J2', seam: 'right', at: at(120, 30), lead: at(0, 30.0349), edge: 'ends', partner: 1 },
    { name: 'J3', seam: 'bottom', at: at(40, 90), lead: at(40.0526, 0), edge: 'begins', partner: 3 },
    { name: 'J4', seam: 'bottom', at: at(50, 90), lead: at(50.0315, 0), edge: 'ends', partner: 3 },
  ].map((join) => ({
    ...join,
    seam: join.seam as 'right' | 'bottom',
    edge: join.edge as 'begins' | 'ends',
    step: join.seam === 'right' ? { x: 120, y: 0 } : { x: 0, y: 90 },
    own: join.seam === 'right' ? 2 : 4,
  })),
  firstCutEnds: [
    { name: 'J5', at: at(105, 21), along: { x: 0, y: 1 }, opening: 2 },
    { name: 'J6', at: at(105, 30.5), along: { x: 0, y: 1 }, opening: 2 },
  ],
};
