import { contourArea, contoursBox } from '../geometry/contour.js';
import { boxToGrid, pathsBox, ringArea } from '../geometry/grid.js';
import { labelPlace } from '../geometry/label-place.js';
import type { MarkBook } from '../geometry/marks.js';
import { areaPaths, type GridArea, unionAreas } from '../geometry/polygons.js';
import { stretchesOnLine } from '../geometry/sides.js';
import type { Box, Point } from '../geometry/types.js';
import type { Cell, CellInk } from '../repeat/cell.js';
import type { CellOpening } from '../repeat/openings.js';
import { areaContours, clipArea, copiesOnto, type PatternArea, patternIn } from '../repeat/pattern.js';
import type { Paper } from '../units/paper-sizes.js';
import { cuttingOrder } from './cutting-order.js';
import { sheetDots, sheetRepeat } from './dots.js';
import { heldBands } from './held-margin.js';
import { sheetMeasures } from './measures.js';
import { fittingPaper } from './named-paper.js';
import type { Sheet, SheetOpening, StopMark } from './types.js';

/** In `crossing` mode, what lies nearer than this to a shape that crosses a held seam waits with it, mm. */
const NEAR_CROSSING_MM = 3;

export interface SheetOptions {
  readonly across: number;
  readonly down: number;
  readonly borderMm: number;
  readonly trailingMm: number;
  readonly dotMm: number;
  readonly lapMm: number;
  readonly hold: { readonly mode: 'band' | 'crossing'; readonly widthMm: number | null };
  /** The printer's paper: sheets are named after its kin. */
  readonly paper: Paper;
  /** The cloth is one sheet wide: the side join never meets anything, so nothing is held along the right. */
  readonly sideJoinMeetsNothing: boolean;
}

/** A part of an opening on the sheet, in the field's own mm, before it is numbered. */
interface Part {
  readonly openingId: string;
  readonly first: readonly PatternArea[];
  readonly second: readonly PatternArea[];
  readonly book: MarkBook;
}

/**
 * The sheet of one ink: border, field of `across × down` units, held margin, dots, and every opening as it is cut: the first cut up to the
 * hold line (and past the lead seams by the lap), the second cut in the held margin.
 */
export function cutSheet(cell: Cell, inkIndex: number, openings: readonly CellOpening[], options: SheetOptions): Sheet {
  const ink = cell.inks[inkIndex];
  const { lattice } = cell;
  const { across, down, borderMm, trailingMm, lapMm } = options;
  const fieldSize = { x0: 0, y0: 0, x1: across * lattice.widthMm, y1: down * lattice.heightMm };
  const bands = heldBands(fieldSize, { widthMm: options.hold.widthMm, right: !options.sideJoinMeetsNothing });
  const reach = { x0: -lapMm, y0: -lapMm, x1: fieldSize.x1, y1: fieldSize.y1 };
  const copies = copiesOnto(cell, reach);
  const parts = openings
    .filter((o) => o.ink === ink.ink)
    .flatMap((o) => openingParts(cell, ink, o, reach, copies, bands));
  const held = options.hold.mode === 'crossing' ? releaseFarParts(parts, fieldSize, cell) : parts;
  const origin = { x: borderMm, y: borderMm };
  const numbered = cuttingOrder(held.map((p) => sheetOpening(p, cell, origin)));
  const field = moveBox(fieldSize, origin);
  const repeat = sheetRepeat(lattice.repeat, across, down);
  const dots = sheetDots(field, repeat, {
    diameterMm: options.dotMm,
    sides: { right: !options.sideJoinMeetsNothing, bottom: true },
  });
  const widthMm = field.x1 + trailingMm;
  const heightMm = field.y1 + trailingMm;
  return {
    ink: ink.ink,
    index: inkIndex + 1,
    count: cell.inks.length,
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
    openings: numbered.map((o) => o.opening),
    stops: numbered.flatMap((o) => stopMarks(held[o.source], o.opening.number, bands, cell, origin)),
    fitsPaper: fittingPaper(widthMm, heightMm, options.paper),
  };
}

/** One opening of the pattern as the connected parts in which it lies on the sheet, each cut in first and second. */
function openingParts(
  cell: Cell,
  ink: CellInk,
  opening: CellOpening,
  reach: Box,
  copies: ReturnType<typeof copiesOnto>,
  bands: ReturnType<typeof heldBands>,
): Part[] {
  const { areas, book } = patternIn(
    cell,
    ink,
    opening.pieces.map((k) => ink.pieces[k]),
    reach,
    copies,
  );
  const right = bands.heldRight?.x0 ?? reach.x1;
  const bottom = bands.heldBottom.y0;
  const firstBox = boxToGrid({ ...reach, x1: right, y1: bottom }, cell.grid);
  const whole = boxToGrid(reach, cell.grid);
  return areas.map((area) => {
    const first = clipArea(area, firstBox, book);
    // The held margin as two boxes that do not overlap: below the hold line, and right of it above that.
    const below = clipArea(area, { ...whole, y0: firstBox.y1 }, book);
    const beside = clipArea(area, { ...whole, x0: firstBox.x1, y1: firstBox.y1 }, book);
    return { openingId: opening.id, first, second: joinBands(below, beside, book), book };
  });
}

function joinBands(below: readonly PatternArea[], beside: readonly PatternArea[], book: MarkBook): PatternArea[] {
  if (below.length === 0 || beside.length === 0) return [...below, ...beside];
  return unionAreas(areaPaths([...below, ...beside]), { book });
}

/** In `crossing` mode only parts that reach the right or bottom seam wait, and what lies near those; all others are cut at once. */
function releaseFarParts(parts: readonly Part[], field: Box, cell: Cell): Part[] {
  const end = boxToGrid(field, cell.grid);
  const near = NEAR_CROSSING_MM * cell.grid.sx;
  const boxes = parts.map((p) => pathsBox(areaPaths(p.second)));
  const crosses = parts.map((_, k) => {
    const b = boxes[k];
    return b !== null && (b.x1 >= end.x1 || b.y1 >= end.y1);
  });
  return parts.map((part, k) => {
    const own = boxes[k];
    if (!own || crosses[k]) return part;
    const close = boxes.some(
      (b, n) =>
        crosses[n] && b && b.x0 - near < own.x1 && own.x0 < b.x1 + near && b.y0 - near < own.y1 && own.y0 < b.y1 + near,
    );
    if (close) return part;
    return { ...part, first: unionAreas(areaPaths([...part.first, ...part.second]), { book: part.book }), second: [] };
  });
}

function sheetOpening(part: Part, cell: Cell, origin: Point): Omit<SheetOpening, 'number'> {
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
  };
}

function largestArea(areas: readonly GridArea[]): GridArea {
  return areas.reduce((a, b) => (ringArea(b.outer) > ringArea(a.outer) ? b : a));
}

/** Where a first cut ends at the hold line: the stretches of its outline on it. */
function stopMarks(
  part: Part,
  number: number,
  bands: ReturnType<typeof heldBands>,
  cell: Cell,
  origin: Point,
): StopMark[] {
  if (part.second.length === 0) return [];
  const { grid } = cell;
  const lines: { axis: 'x' | 'y'; mm: number }[] = [{ axis: 'y', mm: bands.heldBottom.y0 }];
  if (bands.heldRight) lines.push({ axis: 'x', mm: bands.heldRight.x0 });
  return lines.flatMap(({ axis, mm }) => {
    const scale = axis === 'x' ? grid.sx : grid.sy;
    const at = Math.round(mm * scale);
    const place = (along: number): Point =>
      axis === 'x'
        ? { x: at / grid.sx + origin.x, y: along / grid.sy + origin.y }
        : { x: along / grid.sx + origin.x, y: at / grid.sy + origin.y };
    return part.first
      .flatMap((area) => stretchesOnLine(area, axis, at))
      .filter((s) => s.side === 'low')
      .map((s) => ({ number, from: place(s.from.at), to: place(s.to.at) }));
  });
}

function moveBox(box: Box, by: Point): Box {
  return { x0: box.x0 + by.x, y0: box.y0 + by.y, x1: box.x1 + by.x, y1: box.y1 + by.y };
}
