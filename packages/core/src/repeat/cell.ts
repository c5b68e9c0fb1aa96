import { boxesOverlap } from '../geometry/boxes.js';
import { boxIndex } from '../geometry/cluster.js';
import { type Grid, type GridPath, type GridPoint, pathsBox } from '../geometry/grid.js';
import { CurveMarks } from '../geometry/marks.js';
import { areaPaths, combine, type GridArea } from '../geometry/polygons.js';
import type { Box } from '../geometry/types.js';
import { type CutLine, clipToBox, type UnionPart, unionPieces } from '../geometry/union.js';
import type { Ink } from '../motif/types.js';
import { InputError } from '../units/input-error.js';
import { latticePoint, stepsOnto } from './lattice.js';
import { gridStep, latticeGrid } from './lattice-grid.js';
import { type ShapeArea, unitBox } from './shape-area.js';
import type { Lattice, LatticeStep } from './types.js';

/** What pokes out less than this, mm, only touches the seam; an outline within it lies on the seam. */
export const SEAM_SNAP_MM = 0.02;
/** Most copies of shapes that may reach into one unit. */
const MAX_COPIES = 200_000;

/** What is done with a shape that pokes out of the unit. */
export type SpillReading = 'carry' | 'trim' | 'leave-out';

/** What is visible of one ink in the unit: connected pieces, cut at the unit's sides (and along `cuts`). */
export interface CellInk {
  readonly ink: Ink;
  readonly pieces: readonly GridArea[];
  readonly cuts: readonly CutLine[];
}

/** The artwork laid on the repeat: every lattice copy that reaches into the unit, clipped to it, and what covers what decided. */
export interface Cell {
  readonly lattice: Lattice;
  readonly grid: Grid;
  readonly book: CurveMarks;
  readonly inks: readonly CellInk[];
  /** Owners (shape indices) that were carried. */
  readonly carried: ReadonlySet<number>;
  /** Owners that were not laid at all. */
  readonly leftOut: ReadonlySet<number>;
}

/**
 * Lays shapes on the unit of a lattice. Carried shapes come with every lattice copy that reaches in, trimmed ones as they are; then the
 * paint order decides what is seen: by source order first, by lattice copy second, so that a carried paper-coloured shape cuts its
 * neighbour and a background that bleeds over the edge does not wipe out the copy beside it.
 */
export function layCell(
  areas: readonly ShapeArea[],
  lattice: Lattice,
  { readings, paperColour }: { readings: (index: number) => SpillReading; paperColour: Ink },
): Cell {
  const grid = latticeGrid(lattice);
  const unit = unitBox(grid);
  const snapX = Math.round(SEAM_SNAP_MM * grid.sx);
  const snapY = Math.round(SEAM_SNAP_MM * grid.sy);
  const book = new CurveMarks();
  const carried = new Set<number>();
  const leftOut = new Set<number>();
  const copies: { area: ShapeArea; step: LatticeStep; base: number }[] = [];
  for (const area of areas) {
    const reading = readings(area.index);
    if (reading === 'leave-out') {
      leftOut.add(area.index);
      continue;
    }
    if (reading === 'carry') carried.add(area.index);
    const steps = reading === 'carry' ? stepsOnto(lattice, mmBox(area.box, grid), mmBox(unit, grid)) : [{ i: 0, j: 0 }];
    if (copies.length + steps.length > MAX_COPIES) {
      throw new InputError(
        `The artwork reaches into more than ${MAX_COPIES} copies of the unit; the unit is too small for it: set the unit's width.`,
      );
    }
    for (const step of steps) {
      const v = latticePoint(lattice, step);
      copies.push({ area, step, base: book.include(area.book, v.x, v.y) });
    }
  }
  const layers: Layer[] = [];
  for (const { area, step, base } of copies) {
    const v = gridStep(lattice, grid, step);
    const inside =
      v.x === 0 &&
      v.y === 0 &&
      area.box.x0 > snapX &&
      area.box.y0 > snapY &&
      area.box.x1 < unit.x1 - snapX &&
      area.box.y1 < unit.y1 - snapY;
    const moved = area.paths.map((path) => movePath(path, v.x, v.y, base));
    const paths = inside ? moved : cutToUnit(moved, unit, snapX, snapY, book);
    const box = inside ? area.box : pathsBox(paths);
    if (box) layers.push({ ink: area.ink, paths, box });
  }
  return { lattice, grid, book, inks: visibleInks(layers, paperColour, book), carried, leftOut };
}

interface Layer extends UnionPart {
  readonly ink: Ink;
}

/** For every ink but the paper's: the union of what each of its shapes shows past all later shapes of other inks. */
function visibleInks(layers: readonly Layer[], paperColour: Ink, book: CurveMarks): CellInk[] {
  if (layers.length === 0) return [];
  const index = boxIndex(layers.map((l) => l.box));
  const several = layers.some((l) => l.ink !== layers[0].ink);
  const seen = new Map<Ink, UnionPart[]>();
  layers.forEach((layer, k) => {
    if (layer.ink === paperColour) return;
    const above = several
      ? index
          .search(layer.box.x0, layer.box.y0, layer.box.x1, layer.box.y1)
          .filter((o) => o > k && layers[o].ink !== layer.ink && boxesOverlap(layers[o].box, layer.box))
          .sort((a, b) => a - b)
      : [];
    const paths =
      above.length === 0
        ? layer.paths
        : combine(
            'difference',
            layer.paths,
            above.flatMap((o) => layers[o].paths),
            { book },
          );
    const box = above.length === 0 ? layer.box : pathsBox(paths);
    if (!box) return;
    const list = seen.get(layer.ink);
    if (list) list.push({ paths, box });
    else seen.set(layer.ink, [{ paths, box }]);
  });
  return [...seen].map(([ink, parts]) => {
    const { areas, cuts } = unionPieces(parts, { book });
    return { ink, pieces: areas, cuts };
  });
}

/** A copy of a ring moved by whole grid units, its marks renumbered by `base`. */
export function movePath(path: GridPath, dx: number, dy: number, base: number): GridPath {
  return path.map((p) => ({ x: p.x + dx, y: p.y + dy, z: p.z ? p.z + base : 0 }));
}

/** How far off a side the polygon engine may round a corner that it cuts there, grid units. */
const CUT_ROUNDING = 1;

/** What of rings lies in the unit, with all that comes within the snap of its sides on them. */
function cutToUnit(rings: readonly GridPath[], unit: Box, snapX: number, snapY: number, book: CurveMarks): GridPath[] {
  const snapped = rings.map((ring) => snapToSides(ring, unit, snapX, snapY));
  return clipToBox(snapped, unit, book).map((ring) => snapToSides(ring, unit, CUT_ROUNDING, CUT_ROUNDING));
}

/** A ring with the corners that lie within the snap of a side of the unit moved onto it, and none between others on the same side. */
function snapToSides(path: GridPath, unit: Box, snapX: number, snapY: number): GridPath {
  const moved = path.map((p) => ({ ...p }));
  for (const at of [0, unit.x1]) {
    const side = { across: 'x', along: 'y', at, end: unit.y1, snap: snapX, ease: snapY } as const;
    for (const k of snappedCorners(path, side)) moved[k].x = at;
  }
  for (const at of [0, unit.y1]) {
    const side = { across: 'y', along: 'x', at, end: unit.x1, snap: snapY, ease: snapX } as const;
    for (const k of snappedCorners(path, side)) moved[k].y = at;
  }
  return straightAlongSides(moved, unit);
}

/** A side that slants by less than this, and is longer than so many snaps, was drawn along the seam. */
const ALONG_SEAM = { slope: 0.005, snaps: 10 };

/** One side of the unit: `end` is its length, `ease` by how much more it counts. Grid units. */
interface SeamSide {
  readonly across: 'x' | 'y';
  readonly along: 'x' | 'y';
  readonly at: number;
  readonly end: number;
  readonly snap: number;
  readonly ease: number;
}

/**
 * The corners that go onto one side of the unit: those within its snap, where the outline only touches the side, ends at it or is drawn along it. Where it goes
 * through from one side of the band to the other they stay: moved, an outline that meets the seam at a small angle would meet it elsewhere.
 */
function snappedCorners(path: GridPath, { across, along, at, end, snap, ease }: SeamSide): number[] {
  const n = path.length;
  const near = path.map((p) => Math.abs(p[across] - at) <= snap && p[along] >= -ease && p[along] <= end + ease);
  const first = near.indexOf(false);
  if (first < 0) return path.map((_, k) => k);
  const out: number[] = [];
  for (let k = 1; k < n; k++) {
    const from = first + k;
    if (!near[from % n]) continue;
    const run: number[] = [];
    for (let m = from; near[m % n]; m++) run.push(m % n);
    k += run.length;
    const before = path[(from + n - 1) % n][across] - at;
    const after = path[(from + run.length) % n][across] - at;
    const drawnAlong = run.slice(1).some((m, i) => {
      const [p, o] = [path[m], path[run[i]]];
      const length = Math.abs(p[along] - o[along]);
      return length > ALONG_SEAM.snaps * ease && Math.abs(p[across] - o[across]) < ALONG_SEAM.slope * length;
    });
    if (before < 0 === after < 0 || drawnAlong) out.push(...run);
  }
  return out;
}

/**
 * A ring without the corners between two others on the same side of the unit. Moved corners run back over those that were cut there; the
 * polygon engine can lose a part of the area over a line that doubles back.
 */
function straightAlongSides(path: GridPath, unit: Box): GridPath {
  const along = (a: GridPoint, b: GridPoint, c: GridPoint): boolean =>
    (a.x === b.x && b.x === c.x && (b.x === 0 || b.x === unit.x1)) ||
    (a.y === b.y && b.y === c.y && (b.y === 0 || b.y === unit.y1));
  const out: GridPoint[] = [];
  for (const p of path) {
    while (out.length >= 2 && along(out[out.length - 2], out[out.length - 1], p)) out.pop();
    out.push(p);
  }
  while (out.length >= 3 && along(out[out.length - 2], out[out.length - 1], out[0])) out.pop();
  while (out.length >= 3 && along(out[out.length - 1], out[0], out[1])) out.shift();
  return out;
}

export function mmBox(box: Box, grid: Grid): Box {
  return { x0: box.x0 / grid.sx, y0: box.y0 / grid.sy, x1: box.x1 / grid.sx, y1: box.y1 / grid.sy };
}

/** What the cutter takes out, as a cell of its own. */
export interface CutChoice {
  readonly drawn: 'cut' | 'cloth';
  readonly method: 'resist' | 'direct';
  readonly paperColour: Ink;
  /** Inks to cut; null for all but the paper colour. */
  readonly cut: readonly Ink[] | null;
}

/**
 * The inks that are cut. Drawn for the cloth and printed by resist, the light is cut: all of the unit that no chosen ink covers, as one
 * opening list under the paper colour. Else the chosen inks, each a stencil of its own.
 */
export function cutCell(cell: Cell, choice: CutChoice): Cell {
  const chosen = cell.inks.filter((i) => (choice.cut ? choice.cut.includes(i.ink) : i.ink !== choice.paperColour));
  if (!(choice.drawn === 'cloth' && choice.method === 'resist')) return { ...cell, inks: chosen };
  const unit = unitBox(cell.grid);
  const dark = chosen.flatMap((i) => i.pieces);
  const corners: GridPoint[] = [
    { x: 0, y: 0 },
    { x: unit.x1, y: 0 },
    { x: unit.x1, y: unit.y1 },
    { x: 0, y: unit.y1 },
  ];
  const light = combine('difference', [corners], areaPaths(dark), { book: cell.book });
  const box = pathsBox(light);
  const { areas, cuts } = box ? unionPieces([{ paths: light, box }], { book: cell.book }) : { areas: [], cuts: [] };
  return { ...cell, inks: [{ ink: choice.paperColour, pieces: areas, cuts }] };
}
