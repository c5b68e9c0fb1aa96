import { moveBox } from '../geometry/boxes.js';
import { contourArea, contoursBox, translateContour } from '../geometry/contour.js';
import { type GridPoint, ringArea, toGrid } from '../geometry/grid.js';
import { labelPlace } from '../geometry/label-place.js';
import type { GridArea } from '../geometry/polygons.js';
import type { Box, Point } from '../geometry/types.js';
import { sheetDots, sheetRepeat } from '../register/dots.js';
import type { Cell } from '../repeat/cell.js';
import { makeLattice } from '../repeat/lattice.js';
import type { CellOpening } from '../repeat/openings.js';
import { areaContours } from '../repeat/pattern.js';
import type { NarrowPlace, SheetOutline, SheetTie } from '../strength/types.js';
import { cuttingOrder } from './cutting-order.js';
import { droppedPlace, type LeftOut, leftOutPlaces } from './dropped.js';
import { heldBands } from './held-margin.js';
import { likeliestKept, numberOpenings, type PlacedOpening } from './numbers.js';
import { innerParts, type Part, partPlace, sheetParts } from './opening-parts.js';
import { releasedOutlines } from './released.js';
import { besideWeakPlaces, type SheetPaperInput } from './sheet-paper.js';
import { toolOf } from './tools.js';
import type { CutSheet, KeptNumber, Practice, SheetOpening, StopMark, Zone } from './types.js';

/** How a sheet is laid out and cut. */
export interface CutOptions {
  readonly across: number;
  readonly down: number;
  readonly borderMm: number;
  readonly trailingMm: number;
  /** Diameters of leading dots, and of trailing ones, for sighting. */
  readonly dotMm: number;
  readonly sightDotMm: number;
  readonly lapMm: number;
  readonly hold: { readonly mode: 'band' | 'crossing'; readonly widthMm: number | null };
  /** Punches at hand, mm across. */
  readonly punchesMm: readonly number[];
  /** The cloth is one sheet wide: the side join never meets anything, so nothing is held along the right. */
  readonly sideJoinMeetsNothing: boolean;
  /** Ties that stand on the sheet's field, mm on the field. */
  readonly ties: readonly SheetTie[];
  /** The same ink without its release ties; null where there are none. */
  readonly released: Cell | null;
  /** Openings of the drawing that no blade can cut: they are not among the cell's. */
  readonly leftOut: readonly LeftOut[];
}

/** What is cut of one ink's sheet and where, before anything has a number. Sheet mm. */
export interface SheetCut
  extends Pick<
    CutSheet,
    | 'ink'
    | 'widthMm'
    | 'heightMm'
    | 'field'
    | 'across'
    | 'down'
    | 'heldRight'
    | 'heldBottom'
    | 'lapMm'
    | 'dots'
    | 'dropped'
    | 'ties'
  > {
  readonly openings: readonly UnnumberedOpening[];
  /** What its paper is judged by. */
  readonly paper: SheetPaperInput;
}

/** An opening of the sheet as far as it is known before the order and the numbers are. */
export interface UnnumberedOpening extends Omit<SheetOpening, 'number' | 'zone' | 'done'> {
  /** Where its first cut stops. */
  readonly stops: readonly Omit<StopMark, 'number'>[];
  /** By this it is known again in another run. */
  readonly place: PlacedOpening;
  /** It lies inside another one's waste: what `cuttingOrder` takes. */
  readonly inner: boolean;
}

/**
 * The sheet of one ink: border, field of `across × down` units, held margin, dots, and every opening as it is cut: the first cut up to the
 * hold line (and past the lead seams by the lap), the second cut in the held margin.
 */
export function cutOpenings(
  cell: Cell,
  inkIndex: number,
  openings: readonly CellOpening[],
  options: CutOptions,
): SheetCut {
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
    sightMm: options.sightDotMm,
    sides: { right: !options.sideJoinMeetsNothing, bottom: true },
  });
  const bare = parts.map((part) => sheetOpening(part, cell, { origin, punchesMm: options.punchesMm }));
  const inner = innerParts(
    parts,
    bare.map(({ labelAt: p }) => toGrid({ x: p.x - origin.x, y: p.y - origin.y }, cell.grid)),
  );
  const widthMm = field.x1 + trailingMm;
  const heightMm = field.y1 + trailingMm;
  return {
    ink: ink.ink,
    widthMm,
    heightMm,
    field,
    across,
    down,
    heldRight: bands.heldRight && moveBox(bands.heldRight, origin),
    heldBottom: moveBox(bands.heldBottom, origin),
    lapMm,
    dots,
    openings: bare.map((opening, k) => ({ ...opening, place: partPlace(parts[k], cell), inner: inner[k] })),
    dropped: [
      ...dropped.map((area) => droppedPlace(area, cell, origin)),
      ...options.leftOut.flatMap((one) => leftOutPlaces(one, inkIndex, { field: fieldSize, origin })),
    ],
    ties: options.ties.map((tie) => moveTie(tie, origin)),
    paper: {
      edge: { x0: 0, y0: 0, x1: widthMm, y1: heightMm },
      field,
      trim: { ...field, x0: field.x0 - lapMm, y0: field.y0 - lapMm },
      openings: bare.map((o, k) => ({
        first: o.firstCut,
        whole: areaContours([parts[k].whole], parts[k].book, cell, origin),
      })),
      released:
        options.released &&
        releasedOutlines(options.released, options.released.inks[inkIndex], {
          reach: { ...fieldSize, x0: -lapMm, y0: -lapMm },
          origin,
          inside: bare.map((o) => o.labelAt),
        }),
      net: openings.some((o) => o.ink === ink.ink && o.rank === 2),
    },
  };
}

/** How the openings of a sheet are worked, and what they are called. */
export interface SheetNumbers {
  /** By place among the openings of the `SheetCut`. */
  readonly numbers: readonly number[];
  readonly zoneOf: readonly string[];
  readonly zones: readonly Zone[];
  /** What to store of them, so that they keep their numbers. */
  readonly kept: readonly KeptNumber[];
}

/** Zones, cutting order and numbers. What frees paper beside a weak place comes last in its zone. */
export function numberSheet(
  { openings, field, lapMm }: SheetCut,
  {
    necks,
    hand,
    numbers: readings,
  }: {
    necks: readonly NarrowPlace[];
    hand: Practice['hand'];
    /** Numbers that openings keep from an earlier run; of several readings of a change of size the one by which most are found again holds. */
    numbers: readonly (readonly KeptNumber[])[];
  },
): SheetNumbers {
  const last = besideWeakPlaces(necks);
  const { zones, order, letters } = cuttingOrder(
    openings.map((o, k) => ({ ...o, last: last.has(k) })),
    { area: { ...field, x0: field.x0 - lapMm, y0: field.y0 - lapMm }, hand },
  );
  const places = openings.map(({ place }) => place);
  const { numbers, kept } = numberOpenings(places, order, likeliestKept(places, readings));
  return {
    numbers,
    kept,
    zoneOf: letters,
    zones: zones.map((zone) => ({
      ...zone,
      firstCut: zone.firstCut.map((k) => numbers[k]),
      secondCut: zone.secondCut.map((k) => numbers[k]),
    })),
  };
}

/** What a sheet is besides what is cut of it. */
export interface SheetFacts
  extends Pick<CutSheet, 'index' | 'count' | 'part' | 'practice' | 'register' | 'dots' | 'measures'> {
  /** Numbers that are ticked off. */
  readonly done: readonly number[];
}

/** The sheet, with its openings by number. */
export function numberedSheet(
  { openings, paper: _, ...cut }: SheetCut,
  { numbers, zoneOf, zones }: SheetNumbers,
  { done, ...facts }: SheetFacts,
): CutSheet {
  const ticked = new Set(done);
  return {
    ...cut,
    ...facts,
    openings: openings
      .map(({ stops: _stops, place: _place, inner: _inner, ...o }, k): SheetOpening => {
        return { number: numbers[k], ...o, zone: zoneOf[k], done: ticked.has(numbers[k]) };
      })
      .sort((a, b) => a.number - b.number),
    zones,
    stops: openings
      .flatMap(({ stops }, k) => stops.map((stop) => ({ number: numbers[k], ...stop })))
      .sort((a, b) => a.number - b.number),
  };
}

/** All that is cut out of a sheet in the end, openings by number. */
export function wholeOutlines({ paper }: SheetCut, { numbers }: SheetNumbers): SheetOutline[] {
  return paper.openings.flatMap(({ whole }, k) => whole.map((contour) => ({ contour, opening: numbers[k] })));
}

function sheetOpening(
  part: Part,
  cell: Cell,
  { origin, punchesMm }: { readonly origin: Point; readonly punchesMm: readonly number[] },
): Omit<UnnumberedOpening, 'place' | 'inner'> {
  const firstCut = areaContours(part.first, part.book, cell, origin);
  const secondCut = areaContours(part.second, part.book, cell, origin);
  const main = largestArea(part.first.length > 0 ? part.first : part.second);
  const { at, roomMm } = labelPlace(main, cell.grid);
  const all = [...firstCut, ...secondCut];
  const stops = stopLines(part, cell, origin);
  return {
    openingId: part.openingId,
    firstCut,
    secondCut,
    areaMm2: all.reduce((sum, c) => sum + contourArea(c), 0),
    box: contoursBox(all) as Box,
    labelAt: { x: at.x + origin.x, y: at.y + origin.y },
    labelRoomMm: roomMm,
    ...toolOf(all, { uncut: stops, punchesMm }),
    stops,
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
