import { boxIndex } from '../geometry/cluster.js';
import { pathsBox } from '../geometry/grid.js';
import { insideContours } from '../geometry/point-tests.js';
import type { Box, Contour, Point } from '../geometry/types.js';
import { comesTogether } from '../joins/states.js';
import type { Join } from '../joins/types.js';
import type { JoinView } from '../joins/view-types.js';
import { sheetRepeat } from '../register/dots.js';
import { type Cell, mmBox } from '../repeat/cell.js';
import { latticePoint, makeLattice, stepsOnto } from '../repeat/lattice.js';
import { areaContours, patternIn } from '../repeat/pattern.js';
import type { Lattice } from '../repeat/types.js';
import type { Sheet, SheetOpening } from '../stencil/types.js';
import type { JobResult } from './result.js';

/** Most joins that are shown: ten pages of a guide. */
export const JOIN_VIEWS_MAX = 60;
/** What is seen of the cloth around a join, mm. */
const VIEW_MM = { width: 40, height: 26 } as const;
/** How far from the seam, and to either side along it, it is tried which opening is there, mm. */
const PROBE_MM = [0.05, 0.3, 1] as const;
/** Two ends of one shape nearer than this are seen in one view, mm: well within it. */
const ONE_VIEW_MM = 10;
/** A place this near to an edge of the field is on it, mm: rounding only. */
const ON_EDGE_MM = 1e-3;

/**
 * The joins to finish as both sides look where they meet, at most 60: first those that do not meet, then those of shapes that the second cut
 * completes, by seam and place. Two ends of one shape that meet are one view. Joins of a side that nothing is ever printed beside are left
 * out.
 */
export function joinViews(result: Pick<JobResult, 'joins' | 'sheets' | 'cell' | 'lattice'>): JoinView[] {
  const views: JoinView[] = [];
  const finders = result.sheets.map((sheet) => ({ sheet, find: openingFinder(sheet) }));
  const placesOf = (join: Join) =>
    finders
      .filter(({ sheet }) => sheet.ink === join.ink)
      .map(({ sheet, find }) => ({ sheet, ...sidesOf(join, sheet, find, result.lattice) }));
  const camera = cameraOn(result.cell);
  const worst = result.joins.filter((join) => !comesTogether(join));
  const rest = result.joins.filter(comesTogether);
  for (const join of [...worst, ...rest]) {
    if (views.length === JOIN_VIEWS_MAX) break;
    const found = placesOf(join);
    // Of two sheets the one that cuts the opening has its join.
    const place = found.find(({ own }) => own !== null) ?? found[0];
    if (place === undefined || (join.seam === 'right' && place.sheet.heldRight === null)) continue;
    const { sheet, own, partner } = place;
    if (comesTogether(join)) {
      const held = own !== null && sheet.openings.some((o) => o.number === own && o.secondCut.length > 0);
      if (!held || views.some((view) => showsToo(view, join, own, partner))) continue;
    }
    views.push({ join, part: sheet.part, own, partner, ...camera(viewPlace(join, result.lattice)) });
  }
  return views;
}

/** Whether a view of the same two openings shows this join as well. */
function showsToo(view: JoinView, join: Join, own: number | null, partner: number | null): boolean {
  return (
    view.own === own &&
    view.partner === partner &&
    view.join.ink === join.ink &&
    view.join.seam === join.seam &&
    Math.abs(view.join.atMm - join.atMm) < ONE_VIEW_MM
  );
}

/** The join's place on the right or the bottom side of the unit, also for an end that was found on the other side only. Unit mm. */
function viewPlace({ seam, atMm }: Join, { widthMm, heightMm }: Lattice): Point {
  return seam === 'right' ? { x: widthMm, y: atMm } : { x: atMm, y: heightMm };
}

/** What of the cloth is seen around a place of the unit (mm): all cut inks. */
type Camera = (at: Point) => { box: Box; contours: Contour[] };

/** Pieces that never reach into the view are sorted out by their boxes, which are made once. */
function cameraOn(cell: Cell): Camera {
  const inks = cell.inks.map((ink) => ({
    ink,
    pieces: ink.pieces.map((piece) => ({ piece, box: mmBox(pathsBox([piece.outer]) as Box, cell.grid) })),
  }));
  return (at) => {
    const box = {
      x0: at.x - VIEW_MM.width / 2,
      y0: at.y - VIEW_MM.height / 2,
      x1: at.x + VIEW_MM.width / 2,
      y1: at.y + VIEW_MM.height / 2,
    };
    const contours = inks.flatMap(({ ink, pieces }) => {
      const near = pieces.filter((one) => stepsOnto(cell.lattice, one.box, box).length > 0);
      const { areas, book } = patternIn(
        cell,
        ink,
        near.map(({ piece }) => piece),
        box,
      );
      return areaContours(areas, book, cell);
    });
    return { box, contours };
  };
}

type Finder = (at: Point) => SheetOpening | null;

/** Finds the opening in which a place of the field lies. */
function openingFinder({ openings, field }: Sheet): Finder {
  if (openings.length === 0) return () => null;
  const index = boxIndex(openings.map(({ box }) => box));
  return (place) => {
    const at = { x: place.x + field.x0, y: place.y + field.y0 };
    const found = index
      .search(at.x, at.y, at.x, at.y)
      .map((k) => openings[k])
      .filter((o) => [o.firstCut, o.secondCut].some((cut) => cut.length > 0 && insideContours(cut, at)));
    return found[0] ?? null;
  };
}

/**
 * The numbers of the openings that a join brings together: at the sheet's right or bottom edge, and at its left or top edge where the next sheet's
 * opening comes to lie. null where none is found: no partner, or a seam of the unit that lies within the sheet.
 */
function sidesOf(
  join: Join,
  sheet: Sheet,
  find: Finder,
  lattice: Lattice,
): { own: number | null; partner: number | null } {
  const place = placeOnEdge(join, sheet, lattice);
  if (place === null) return { own: null, partner: null };
  const right = join.seam === 'right';
  const [width, height] = [sheet.field.x1 - sheet.field.x0, sheet.field.y1 - sheet.field.y0];
  const { a, b } = makeLattice(sheetRepeat(lattice.repeat, sheet.across, sheet.down), width, height);
  const moved = right ? { x: 0, y: wrapped(place.y - a.y, height) } : { x: wrapped(place.x - b.x, width), y: 0 };
  const own = probe(place, right, -1, 0, find);
  const partner = join.offsetMm === null && own !== null ? null : probe(moved, right, 1, join.offsetMm ?? 0, find);
  return { own: own?.number ?? null, partner: partner?.number ?? null };
}

/** A copy of the join's place on the right or bottom edge of the field, the first from the corner; field mm; null where there is none. */
function placeOnEdge(join: Join, { field, across, down }: Sheet, lattice: Lattice): Point | null {
  const [width, height] = [field.x1 - field.x0, field.y1 - field.y0];
  const at = viewPlace(join, lattice);
  const edge =
    join.seam === 'right'
      ? { x0: width - ON_EDGE_MM, x1: width + ON_EDGE_MM, y0: -ON_EDGE_MM, y1: height + ON_EDGE_MM }
      : { x0: -ON_EDGE_MM, x1: width + ON_EDGE_MM, y0: height - ON_EDGE_MM, y1: height + ON_EDGE_MM };
  if (across === 1 && down === 1) return at;
  const [step] = stepsOnto(lattice, { x0: at.x, y0: at.y, x1: at.x, y1: at.y }, edge);
  if (step === undefined) return null;
  const v = latticePoint(lattice, step);
  return { x: at.x + v.x, y: at.y + v.y };
}

/** The opening just beside a place on an edge: a join is an end of it, so that it lies to one side along the edge. */
function probe(at: Point, right: boolean, inward: 1 | -1, alongMm: number, find: Finder): SheetOpening | null {
  for (const deep of PROBE_MM) {
    for (const aside of PROBE_MM) {
      for (const sign of [1, -1]) {
        const [across, along] = [inward * deep, alongMm + sign * aside];
        const found = find(right ? { x: at.x + across, y: at.y + along } : { x: at.x + along, y: at.y + across });
        if (found !== null) return found;
      }
    }
  }
  return null;
}

function wrapped(value: number, period: number): number {
  return value - period * Math.floor(value / period);
}
