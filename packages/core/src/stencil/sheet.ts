import { contourArea, contoursBox, translateContour } from '../geometry/contour.js';
import { type GridPoint, ringArea, toGrid } from '../geometry/grid.js';
import { labelPlace } from '../geometry/label-place.js';
import type { GridArea } from '../geometry/polygons.js';
import type { Box, Point } from '../geometry/types.js';
import type { Outline, Pace, PaperRules, SheetTie } from '../paper/types.js';
import type { Cell } from '../repeat/cell.js';
import { makeLattice } from '../repeat/lattice.js';
import type { CellOpening } from '../repeat/openings.js';
import { areaContours } from '../repeat/pattern.js';
import type { Paper } from '../units/paper-sizes.js';
import { cuttingOrder } from './cutting-order.js';
import { sheetDots, sheetRepeat } from './dots.js';
import { droppedPlace, type LeftOut, leftOutPlaces } from './dropped.js';
import { heldBands } from './held-margin.js';
import { sheetMeasures } from './measures.js';
import { fittingPaper } from './named-paper.js';
import { likeliestKept, numberOpenings } from './numbers.js';
import { innerParts, type Part, partPlace, sheetParts } from './opening-parts.js';
import { releasedOutlines } from './released.js';
import { besideWeakPlaces, numberedReport, sheetPaper } from './sheet-paper.js';
import { toolOf } from './tools.js';
import type { KeptNumber, Practice, Sheet, SheetOpening, StopMark } from './types.js';

export interface SheetOptions {
  readonly across: number;
  readonly down: number;
  readonly borderMm: number;
  readonly trailingMm: number;
  readonly dotMm: number;
  /** Diameter of trailing dots, for sighting; by default as leading ones. */
  readonly sightDotMm?: number;
  readonly lapMm: number;
  readonly hold: { readonly mode: 'band' | 'crossing'; readonly widthMm: number | null };
  readonly practice: Practice;
  /** Punches at hand, mm across; those of a usual set where they are not given. */
  readonly punchesMm?: readonly number[];
  /** Numbers that openings keep from an earlier run. */
  readonly numbers: readonly KeptNumber[];
  /** The same in other readings of a change of size; the one by which most openings are found again holds. */
  readonly otherNumbers?: readonly (readonly KeptNumber[])[];
  /** Numbers that are ticked off. */
  readonly done: readonly number[];
  /** The printer's paper: sheets are named after its kin. */
  readonly paper: Paper;
  /** The cloth is one sheet wide: the side join never meets anything, so nothing is held along the right. */
  readonly sideJoinMeetsNothing: boolean;
  /** What is asked of the paper, and the cutter's pace. */
  readonly rules: PaperRules;
  readonly pace: Pace;
  /** Ties that stand on the sheet's field, mm on the field. */
  readonly ties: readonly SheetTie[];
  /** The same ink without its release ties; null where there are none. */
  readonly released: Cell | null;
  /** Openings of the drawing that no blade can cut: they are not among the cell's. */
  readonly leftOut?: readonly LeftOut[];
  /** Which of two sheets it is, and its place among all of the job's sheets. */
  readonly part: Sheet['part'];
  readonly index: number;
  readonly count: number;
}

/**
 * The sheet of one ink: border, field of `across × down` units, held margin, dots, and every opening as it is cut: the first cut up to the
 * hold line (and past the lead seams by the lap), the second cut in the held margin.
 */
export function cutSheet(
  cell: Cell,
  inkIndex: number,
  openings: readonly CellOpening[],
  options: SheetOptions,
): { sheet: Sheet; kept: readonly KeptNumber[]; outlines: readonly Outline[] } {
  const ink = cell.inks[inkIndex];
  const { lattice } = cell;
  const { across, down, borderMm, trailingMm, lapMm } = options;
  const fieldSize = { x0: 0, y0: 0, x1: across * lattice.widthMm, y1: down * lattice.heightMm };
  const bands = heldBands(fieldSize, { widthMm: options.hold.widthMm, right: !options.sideJoinMeetsNothing });
  const origin = { x: borderMm, y: borderMm };
  const field = moveBox(fieldSize, origin);
  const repeat = sheetRepeat(lattice.repeat, across, down);
  const { parts, dropped } = sheetParts(cell, ink, openings, {
    field: fieldSize,
    bands,
    lapMm,
    mode: options.hold.mode,
    lattice: makeLattice(repeat, fieldSize.x1, fieldSize.y1),
  });
  const dots = sheetDots(field, repeat, {
    diameterMm: options.dotMm,
    ...(options.sightDotMm === undefined ? {} : { sightMm: options.sightDotMm }),
    sides: { right: !options.sideJoinMeetsNothing, bottom: true },
  });
  const unnumbered = parts.map((part) => sheetOpening(part, cell, { origin, punchesMm: options.punchesMm }));
  const widthMm = field.x1 + trailingMm;
  const heightMm = field.y1 + trailingMm;
  const wholes = parts.map((part) => areaContours([part.whole], part.book, cell, origin));
  const paper = sheetPaper({
    edge: { x0: 0, y0: 0, x1: widthMm, y1: heightMm },
    field,
    trim: { ...field, x0: field.x0 - lapMm, y0: field.y0 - lapMm },
    openings: unnumbered.map((o, k) => ({ first: o.firstCut, whole: wholes[k] })),
    released:
      options.released &&
      releasedOutlines(options.released, options.released.inks[inkIndex], {
        reach: { ...fieldSize, x0: -lapMm, y0: -lapMm },
        origin,
        inside: unnumbered.map((o) => o.labelAt),
      }),
    ties: options.ties.map((tie) => moveTie(tie, origin)),
    net: openings.some((o) => o.ink === ink.ink && o.rank === 2),
    rules: options.rules,
    pace: options.pace,
  });
  const last = besideWeakPlaces(paper.necks);
  const inside = unnumbered.map(({ labelAt: p }) => toGrid({ x: p.x - origin.x, y: p.y - origin.y }, cell.grid));
  const inner = innerParts(parts, inside);
  const { zones, order, letters } = cuttingOrder(
    unnumbered.map((o, k) => ({ ...o, inner: inner[k], last: last.has(k) })),
    { area: { ...field, x0: field.x0 - lapMm, y0: field.y0 - lapMm }, hand: options.practice.hand },
  );
  const places = parts.map((part) => partPlace(part, cell));
  const { numbers, kept } = numberOpenings(
    places,
    order,
    likeliestKept(places, [options.numbers, ...(options.otherNumbers ?? [])]),
  );
  const done = new Set(options.done);
  const numbered = unnumbered
    .map((o, k): SheetOpening => ({ number: numbers[k], ...o, zone: letters[k], done: done.has(numbers[k]) }))
    .sort((a, b) => a.number - b.number);
  const sheet: Sheet = {
    ink: ink.ink,
    index: options.index,
    count: options.count,
    widthMm,
    heightMm,
    field,
    across,
    down,
    heldRight: bands.heldRight && moveBox(bands.heldRight, origin),
    heldBottom: moveBox(bands.heldBottom, origin),
    lapMm,
    dots,
    measures: sheetMeasures(dots, field),
    openings: numbered,
    dropped: [
      ...dropped.map((area) => droppedPlace(area, cell, origin)),
      ...(options.leftOut ?? []).flatMap((one) => leftOutPlaces(one, inkIndex, { field: fieldSize, origin })),
    ],
    zones: zones.map((zone) => ({
      ...zone,
      firstCut: zone.firstCut.map((k) => numbers[k]),
      secondCut: zone.secondCut.map((k) => numbers[k]),
    })),
    practice: options.practice,
    stops: parts
      .flatMap((part, k) => stopLines(part, cell, origin).map((stop) => ({ number: numbers[k], ...stop })))
      .sort((a, b) => a.number - b.number),
    fitsPaper: fittingPaper(widthMm, heightMm, options.paper),
    part: options.part,
    paper: numberedReport(paper, numbers),
  };
  const outlines = wholes.flatMap((contours, k) => contours.map((contour) => ({ contour, opening: numbers[k] })));
  return { sheet, kept, outlines };
}

/** An opening of the sheet as far as it is known before the order and the numbers are. */
type Unnumbered = Omit<SheetOpening, 'number' | 'zone' | 'done'>;

function sheetOpening(
  part: Part,
  cell: Cell,
  { origin, punchesMm }: { readonly origin: Point; readonly punchesMm: SheetOptions['punchesMm'] },
): Unnumbered {
  const firstCut = areaContours(part.first, part.book, cell, origin);
  const secondCut = areaContours(part.second, part.book, cell, origin);
  const main = largestArea(part.first.length > 0 ? part.first : part.second);
  const { at, roomMm } = labelPlace(main, cell.grid);
  const all = [...firstCut, ...secondCut];
  return {
    openingId: part.openingId,
    firstCut,
    secondCut,
    areaMm2: all.reduce((sum, c) => sum + contourArea(c), 0),
    box: contoursBox(all) as Box,
    labelAt: { x: at.x + origin.x, y: at.y + origin.y },
    labelRoomMm: roomMm,
    ...toolOf(all, { uncut: stopLines(part, cell, origin), ...(punchesMm === undefined ? {} : { punchesMm }) }),
  };
}

/** Where the first cut of a part stops, sheet mm. */
function stopLines({ stops }: Part, { grid }: Cell, origin: Point): Omit<StopMark, 'number'>[] {
  const place = (p: GridPoint): Point => ({ x: p.x / grid.sx + origin.x, y: p.y / grid.sy + origin.y });
  return stops.map(({ from, to }) => ({ from: place(from), to: place(to) }));
}

function largestArea(areas: readonly GridArea[]): GridArea {
  return areas.reduce((a, b) => (ringArea(b.outer) > ringArea(a.outer) ? b : a));
}

function moveTie(tie: SheetTie, by: Point): SheetTie {
  const move = (p: Point): Point => ({ x: p.x + by.x, y: p.y + by.y });
  return { ...tie, from: move(tie.from), to: move(tie.to), outline: translateContour(tie.outline, by) };
}

function moveBox(box: Box, by: Point): Box {
  return { x0: box.x0 + by.x, y0: box.y0 + by.y, x1: box.x1 + by.x, y1: box.y1 + by.y };
}
