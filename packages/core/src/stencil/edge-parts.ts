import { growBox } from '../geometry/boxes.js';
import { boxToGrid, type GridPoint, pathsBox, ringArea } from '../geometry/grid.js';
import { insidePoint } from '../geometry/inside.js';
import { CurveMarks } from '../geometry/marks.js';
import { areaPaths, combine, type GridArea, unionAreas, unmarkedPaths } from '../geometry/polygons.js';
import type { Box } from '../geometry/types.js';
import type { Cell, CellInk } from '../repeat/cell.js';
import { latticePoint, stepsOnto } from '../repeat/lattice.js';
import { clipArea, copiesOnto, type PatternArea, patternIn } from '../repeat/pattern.js';
import { BLADE_MM, slightWhy } from '../repeat/slight.js';
import type { Lattice } from '../repeat/types.js';
import { insideRings } from './stop-chords.js';
import type { DroppedWhy } from './types.js';

/** Where a sheet is cut. Field mm, the field's upper left at the origin. */
export interface SheetEdges {
  readonly field: Box;
  /** The field, and past its lead sides by the lap. */
  readonly reach: Box;
  readonly lapMm: number;
  /** The lattice by which the sheet is laid beside itself. */
  readonly lattice: Lattice;
  /** Another print stands to the left and to the right. */
  readonly sideways: boolean;
}

/** What lies on a sheet and is not cut there. Areas on the cell's grid, in the field's own places. */
export interface DroppedArea {
  readonly why: DroppedWhy;
  readonly areas: readonly PatternArea[];
  /** What of it lies in the field. */
  readonly core: readonly PatternArea[];
  readonly book: CurveMarks;
  /** Which share of that no print shows. */
  readonly lostShare: number;
}

/** The connected areas of an opening as they are cut on a sheet, and what of it is not. */
export interface EdgeParts {
  readonly areas: readonly PatternArea[];
  readonly book: CurveMarks;
  readonly dropped: readonly DroppedArea[];
}

/** How far past the field an opening is cut at most, mm: by the lap, and by as much as an end may be deep that is too narrow to be cut on its own side. */
export function pastEdgeMm(lapMm: number): number {
  return Math.max(lapMm, BLADE_MM);
}

/** All of the cloth that the cuts of a sheet may reach. */
export function cutReach({ field, lapMm }: Pick<SheetEdges, 'field' | 'lapMm'>): Box {
  return growBox(field, pastEdgeMm(lapMm));
}

/**
 * The parts in which an opening of the pattern (some pieces of an ink) lies on a sheet. What lies past the edge of the field wholly is none: the next print has it. An end
 * that runs over the seam by so little that it can't be cut here is cut on the other side, past the edge there (`cutReach`); where both sides
 * are like that, the larger one has the other's.
 */
export function edgeParts(
  cell: Cell,
  ink: CellInk,
  pieces: readonly GridArea[],
  edges: SheetEdges,
  copies: ReturnType<typeof copiesOnto>,
): EdgeParts {
  const { areas, book } = patternIn(cell, ink, pieces, edges.reach, copies);
  const parts = areas.map((area) => partOf(area, book, cell, edges));
  if (parts.some(({ why }) => why !== null && why !== 'beyond-edge')) return sharedParts(cell, ink, pieces, edges);
  return {
    areas: parts.filter(({ why }) => why === null).map(({ area }) => area),
    book,
    dropped: parts.flatMap((part) => droppedArea(part, book, 0)),
  };
}

/** A connected area of the pattern on the sheet. */
interface EdgePart {
  readonly area: PatternArea;
  /** What of it lies in the field. */
  readonly core: readonly PatternArea[];
  /** Why it is not cut by itself; null where it is. */
  readonly why: DroppedWhy | null;
}

function partOf(area: PatternArea, book: CurveMarks, { grid }: Cell, { field }: SheetEdges): EdgePart {
  const inner = boxToGrid(field, grid);
  const own = pathsBox([area.outer]) as Box;
  // Openings that lie in the field wholly were judged as such.
  if (own.x0 > inner.x0 && own.y0 > inner.y0 && own.x1 < inner.x1 && own.y1 < inner.y1) {
    return { area, core: [area], why: null };
  }
  const core = clipArea(area, inner, book);
  return { area, core, why: core.length === 0 ? 'beyond-edge' : slightWhy(areaPaths(core), grid) };
}

function droppedArea({ why, area, core }: EdgePart, book: CurveMarks, lostShare: number): DroppedArea[] {
  return why === null ? [] : [{ why, areas: [area], core, book, lostShare }];
}

/** A piece of a neighbouring print's part that is not cut there, where it lies beside this field. */
interface Fragment {
  readonly area: PatternArea;
  /** The part, by its place on this sheet. */
  readonly home: number;
  readonly step: GridPoint;
}

function sharedParts(cell: Cell, ink: CellInk, pieces: readonly GridArea[], edges: SheetEdges): EdgeParts {
  const { grid } = cell;
  const outer = cutReach(edges);
  const { areas, book } = patternIn(cell, ink, pieces, outer, copiesOnto(cell, outer));
  const reach = boxToGrid(edges.reach, grid);
  const parts = areas.flatMap((a) => clipArea(a, reach, book)).map((area) => partOf(area, book, cell, edges));
  const fragments = fragmentsBeside(areas, parts, book, cell, edges);
  const keepers = new Set(parts.flatMap(({ why }, k) => (why === null ? [k] : [])));
  // What a part would have of its neighbours: all that hangs together with it, also round the corner where four prints meet.
  const reachOf = (k: number): Set<Fragment> => {
    const found = new Set<Fragment>();
    const rest = new Set(fragments.filter(({ home }) => home !== k && !keepers.has(home)));
    const grow = (area: GridArea): void => {
      for (const fragment of rest) {
        if (!areOne(area, fragment.area)) continue;
        rest.delete(fragment);
        found.add(fragment);
        grow(fragment.area);
      }
    };
    grow(parts[k].area);
    return found;
  };
  const hasTaker = (k: number): boolean =>
    [...keepers].some((keeper) => [...reachOf(keeper)].some(({ home }) => home === k));
  // Where neither side can be cut by itself, the larger one is with what the other would have had.
  const area = (k: number): number => gridArea(parts[k].core);
  const slight = parts.flatMap(({ why, core }, k) => (why !== null && core.length > 0 ? [k] : []));
  for (const k of slight.sort((a, b) => area(b) - area(a))) {
    if (hasTaker(k)) continue;
    const all = plainUnion([parts[k].area, ...[...reachOf(k)].map((fragment) => fragment.area)]);
    if (slightWhy(areaPaths(all), grid) === null) keepers.add(k);
  }
  const cut = [...keepers].map((k) => parts[k].area);
  const given = fragments.filter(({ home }) => !keepers.has(home));
  const whole = unionAreas(areaPaths([...cut, ...given.map((fragment) => fragment.area)]), { book });
  const kept = whole.filter((one) => cut.some((part) => holds(one, part)));
  const taken = given.filter((fragment) => kept.some((one) => holds(one, fragment.area)));
  return {
    areas: kept,
    book,
    dropped: parts.flatMap((part, k) => {
      if (keepers.has(k)) return [];
      const elsewhere = taken.filter(({ home }) => home === k);
      return droppedArea(part, book, lostShare(part, elsewhere));
    }),
  };
}

/** What the neighbouring prints have of parts that are not cut there, as far as a cut may reach past this sheet's edges. */
function fragmentsBeside(
  areas: readonly PatternArea[],
  parts: readonly EdgePart[],
  book: CurveMarks,
  { grid }: Cell,
  edges: SheetEdges,
): Fragment[] {
  const { field, lattice, sideways } = edges;
  const outer = cutReach(edges);
  return stepsOnto(lattice, field, outer).flatMap((step) => {
    const v = latticePoint(lattice, step);
    if (step.i === 0 && step.j === 0) return [];
    if (!sideways && Math.abs(v.x) >= field.x1 - field.x0) return [];
    const box = boxToGrid(
      {
        x0: Math.max(outer.x0, field.x0 + v.x),
        y0: Math.max(outer.y0, field.y0 + v.y),
        x1: Math.min(outer.x1, field.x1 + v.x),
        y1: Math.min(outer.y1, field.y1 + v.y),
      },
      grid,
    );
    const by = { x: Math.round(v.x * grid.sx), y: Math.round(v.y * grid.sy) };
    return areas
      .flatMap((area) => clipArea(area, box, book))
      .flatMap((area): Fragment[] => {
        const at = insidePoint(area);
        const place = { x: at.x - by.x, y: at.y - by.y };
        const home = parts.findIndex(
          ({ why, core }) => why !== null && core.some((c) => insideRings(place, areaPaths([c]))),
        );
        return home < 0 ? [] : [{ area, home, step: by }];
      });
  });
}

/** Which share of a part that is not cut no neighbour's cut covers. */
function lostShare({ core }: EdgePart, taken: readonly Fragment[]): number {
  if (core.length === 0) return 0;
  const covered = taken.flatMap(({ area, step }) =>
    areaPaths([area]).map((ring) => ring.map(({ x, y }) => ({ x: x - step.x, y: y - step.y }))),
  );
  const left = combine('difference', unmarkedPaths(core), covered, { book: new CurveMarks() });
  return left.reduce((sum, ring) => sum + ringArea(ring), 0) / gridArea(core);
}

/** Whether a connected area lies in another, which holds all of it or nothing. */
function holds(area: GridArea, part: GridArea): boolean {
  return insideRings(insidePoint(part), areaPaths([area]));
}

/** Whether two connected areas hang together through more than a point. */
function areOne(a: GridArea, b: GridArea): boolean {
  const [p, q] = [pathsBox([a.outer]), pathsBox([b.outer])];
  if (!p || !q || p.x0 > q.x1 || q.x0 > p.x1 || p.y0 > q.y1 || q.y0 > p.y1) return false;
  return plainUnion([a, b]).length === 1;
}

function plainUnion(areas: readonly GridArea[]): GridArea[] {
  return unionAreas(unmarkedPaths(areas), { book: new CurveMarks() });
}

function gridArea(areas: readonly GridArea[]): number {
  return areaPaths(areas).reduce((sum, ring) => sum + ringArea(ring), 0);
}
