import { boxToGrid, type GridPath, type GridPoint, pathsBox, ringArea, toMm } from '../geometry/grid.js';
import type { CurveMarks } from '../geometry/marks.js';
import { areaPaths, unionAreas } from '../geometry/polygons.js';
import type { Box, Point } from '../geometry/types.js';
import type { Cell, CellInk } from '../repeat/cell.js';
import type { CellOpening } from '../repeat/openings.js';
import { clipArea, copiesOnto, type PatternArea } from '../repeat/pattern.js';
import { BLADE_MM, slightWhy } from '../repeat/slight.js';
import type { Lattice } from '../repeat/types.js';
import { cutReach, type DroppedArea, edgeParts, type SheetEdges } from './edge-parts.js';
import { insideRings } from './stop-chords.js';
import { placeStops } from './stop-places.js';
import type { StopLine } from './stop-runs.js';

/** In `crossing` mode, what lies nearer than this to a shape that crosses a held seam waits with it, mm. */
const NEAR_CROSSING_MM = 3;

/** The bands of the field that stay uncut until the proof. Field mm. */
export interface HeldBands {
  readonly heldRight: Box | null;
  readonly heldBottom: Box;
}

/** A part of an opening on the sheet, on the cell's grid in the field's own places, before it is numbered. */
export interface Part {
  readonly openingId: string;
  readonly first: readonly PatternArea[];
  readonly second: readonly PatternArea[];
  readonly stops: readonly StopLine[];
  /** The whole of it, by which it is known again. */
  readonly whole: PatternArea;
  readonly book: CurveMarks;
}

/** What the parts of a sheet are cut by. */
export interface PartOptions {
  /** Field mm, its upper left at the origin. */
  readonly field: Box;
  readonly bands: HeldBands;
  readonly lapMm: number;
  readonly mode: 'band' | 'crossing';
  /** The lattice by which the sheet is laid beside itself. */
  readonly lattice: Lattice;
}

/**
 * The openings of an ink as the connected parts in which they lie on the sheet, each cut in first and second, with the stops in good places;
 * and what lies on the sheet and is not cut there.
 */
export function sheetParts(
  cell: Cell,
  ink: CellInk,
  openings: readonly CellOpening[],
  options: PartOptions,
): { parts: Part[]; dropped: DroppedArea[] } {
  const { field, bands, lapMm, lattice, mode } = options;
  const edges = { field, reach: fieldReach(options), lapMm, lattice, sideways: bands.heldRight !== null };
  const copies = copiesOnto(cell, edges.reach);
  const dropped: DroppedArea[] = [];
  const parts = openings
    .filter((o) => o.ink === ink.ink)
    .flatMap((o) => openingParts(cell, ink, o, { edges, bands, copies, dropped }));
  const held = mode === 'crossing' ? releaseFarParts(parts, field, cell) : parts;
  const { grid } = cell;
  const reach = boxToGrid({ ...field, x0: -lapMm, y0: -lapMm }, grid);
  const { x0: right } = boxToGrid(bands.heldRight ?? field, grid);
  const line = { right: bands.heldRight === null ? null : right, bottom: boxToGrid(bands.heldBottom, grid).y0 };
  return {
    parts: held.map((part) => ({ ...part, ...placeStops(part, { line, reach, scale: grid.sx, book: part.book }) })),
    dropped,
  };
}

/** The field, and past the lead seams by the lap. */
function fieldReach({ field, lapMm }: PartOptions): Box {
  return { ...field, x0: -lapMm, y0: -lapMm };
}

/** One opening of the pattern as the connected parts in which it lies on the sheet, each cut in first and second along the hold line. */
function openingParts(
  cell: Cell,
  ink: CellInk,
  opening: CellOpening,
  {
    edges,
    bands,
    copies,
    dropped,
  }: { edges: SheetEdges; bands: HeldBands; copies: ReturnType<typeof copiesOnto>; dropped: DroppedArea[] },
): Part[] {
  const pieces = opening.pieces.map((k) => ink.pieces[k]);
  const { areas, book, dropped: notCut } = edgeParts(cell, ink, pieces, edges, copies);
  dropped.push(...notCut);
  const right = bands.heldRight?.x0 ?? edges.field.x1;
  const whole = boxToGrid(cutReach(edges), cell.grid);
  const { x1, y1 } = boxToGrid({ ...edges.field, x1: right, y1: bands.heldBottom.y0 }, cell.grid);
  // Where nothing is held along the right, what goes past the edge there is cut with the rest.
  const firstBox = { ...whole, x1: bands.heldRight === null ? whole.x1 : x1, y1 };
  return areas.map((area) => {
    const first = clipArea(area, firstBox, book);
    // The held margin as two boxes that do not overlap: below the hold line, and right of it above that.
    const below = clipArea(area, { ...whole, y0: firstBox.y1 }, book);
    const beside = clipArea(area, { ...whole, x0: firstBox.x1, y1: firstBox.y1 }, book);
    const cuts = { first, second: joinBands(below, beside, book) };
    return {
      openingId: opening.id,
      ...withoutCrumbs(cuts, area, { firstBox, book, cell }),
      stops: [],
      whole: area,
      book,
    };
  });
}

/** The areas of the first and of the second cut. */
type Cuts = Pick<Part, 'first' | 'second'>;

/**
 * What of one cut no blade can cut by itself goes to the other, with which it is one: all of it that lies before the hold line; past that only what
 * ends within a blade's width of it, so that nothing that comes up to a seam is cut early.
 */
function withoutCrumbs(
  { first, second }: Cuts,
  whole: PatternArea,
  { firstBox, book, cell }: { firstBox: Box; book: CurveMarks; cell: Cell },
): Cuts {
  if (first.length === 0 || second.length === 0) return { first, second };
  const { grid } = cell;
  const isSlight = (area: PatternArea): boolean => slightWhy(areaPaths([area]), grid) !== null;
  const past = BLADE_MM * grid.sx;
  const early = first.filter((area) => !isSlight(area));
  const late = second.filter((area) => {
    const box = pathsBox([area.outer]) as Box;
    return box.x1 > firstBox.x1 + past || box.y1 > firstBox.y1 + past || !isSlight(area);
  });
  if (early.length === first.length && late.length === second.length) return { first, second };
  if (early.length === 0) return { first: [], second: [whole] };
  if (late.length === 0) return { first: [whole], second: [] };
  const joined = (own: readonly PatternArea[], other: readonly PatternArea[], kept: readonly PatternArea[]) =>
    unionAreas(areaPaths([...own, ...other.filter((area) => !kept.includes(area))]), { book });
  return { first: joined(early, second, late), second: joined(late, first, early) };
}

function joinBands(below: readonly PatternArea[], beside: readonly PatternArea[], book: CurveMarks): PatternArea[] {
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

/** The middle of a part's area, field mm, and its area, mm², both on the grid. */
export function partPlace({ whole }: Part, { grid }: Cell): { at: Point; areaMm2: number } {
  let area = 0;
  let [x, y] = [0, 0];
  for (const ring of [whole.outer, ...whole.holes]) {
    const own = ringArea(ring);
    const middle = ringMiddle(ring, own);
    area += own;
    x += own * middle.x;
    y += own * middle.y;
  }
  return { at: toMm({ x: x / area, y: y / area }, grid), areaMm2: area / (grid.sx * grid.sy) };
}

/** Centre of area of a ring (K. Gauss's shoelace sums), taken from its first corner so that large places lose no digits. */
function ringMiddle(ring: GridPath, area: number): GridPoint {
  const o = ring[0];
  let [x, y] = [0, 0];
  let a = ring[ring.length - 1];
  for (const b of ring) {
    const cross = (a.x - o.x) * (b.y - o.y) - (b.x - o.x) * (a.y - o.y);
    x += (a.x + b.x - 2 * o.x) * cross;
    y += (a.y + b.y - 2 * o.y) * cross;
    a = b;
  }
  return area === 0 ? o : { x: o.x + x / (6 * area), y: o.y + y / (6 * area) };
}

/** For each part whether it lies within a hole of another. */
export function innerParts(parts: readonly Part[], inside: readonly GridPoint[]): boolean[] {
  const holes = parts.flatMap((p, part) => p.whole.holes.map((ring) => ({ part, ring, box: pathsBox([ring]) as Box })));
  return inside.map((at, part) =>
    holes.some(
      (hole) =>
        hole.part !== part &&
        at.x > hole.box.x0 &&
        at.x < hole.box.x1 &&
        at.y > hole.box.y0 &&
        at.y < hole.box.y1 &&
        insideRings(at, [hole.ring]),
    ),
  );
}
