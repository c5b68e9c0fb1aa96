import { contourArea, contoursBox } from '../geometry/contour.js';
import type { Box, Contour } from '../geometry/types.js';
import { STEP_RUN } from '../register/limits.js';
import type { PaperReport } from '../strength/types.js';
import type { JudgedSheet, SheetOpening } from './types.js';

/** A report of paper in which all is well; `width` is that of the field. */
export const SOUND: PaperReport = {
  rules: { neckMm: 2, slitMm: 0.8, spanMm: 50, tongueRatio: 3, stroke: 'down', turnMm: 1.5 },
  groundCut: false,
  islands: [],
  necks: [],
  slits: [],
  tongues: [],
  longOpenings: [],
  cutAway: { share: 0.2, weakestBand: { x0: 0, y0: 0, x1: 10, y1: 10 }, bandShare: 0.3 },
  work: { lengthMm: 0, corners: 0, tightMm: 0, tightPlaces: 0, jerks: 0, minutes: 1, blades: 0.01 },
  pace: { mmPerMinute: 150, secondsPerCorner: 3, bladeMm: 1500 },
  workOf: [],
};

/** A sheet with what a test is about, and nothing else of interest. Its field and size come from the test. */
export function madeSheet<M extends Partial<JudgedSheet> & Pick<JudgedSheet, 'field' | 'widthMm' | 'heightMm'>>(
  own: M,
): JudgedSheet {
  return {
    ink: '#000000',
    index: 1,
    count: 1,
    across: 1,
    down: 1,
    heldRight: null,
    heldBottom: null,
    lapMm: 0.4,
    dots: [],
    measures: [],
    openings: [],
    dropped: [],
    zones: [],
    practice: { hand: 'right', transfer: 'cut-through', grain: null, gauze: true, soak: true },
    stops: [],
    part: null,
    ties: [],
    register: { punch: 'dry', movement: null, stepping: STEP_RUN, seat: 'corners', dry: false },
    ends: { joins: [], firstCutEnds: [] },
    secondCutFrom: 'plan',
    paper: SOUND,
    ...own,
  };
}

/** An opening of such a sheet, cut with the knife; its label in the middle of its box unless it is given. */
export function madeOpening(
  number: number,
  { firstCut = [], secondCut = [] }: Partial<Pick<SheetOpening, 'firstCut' | 'secondCut'>>,
  more: Partial<SheetOpening> = {},
): SheetOpening {
  const all: readonly Contour[] = [...firstCut, ...secondCut];
  const box = contoursBox(all) as Box;
  return {
    number,
    openingId: String(number),
    firstCut,
    secondCut,
    areaMm2: all.reduce((sum, c) => sum + contourArea(c), 0),
    box,
    labelAt: { x: (box.x0 + box.x1) / 2, y: (box.y0 + box.y1) / 2 },
    labelRoomMm: 1,
    tool: 'knife',
    punchMm: null,
    cutLengthMm: 40,
    zone: 'Z1',
    done: false,
    ...more,
  };
}
