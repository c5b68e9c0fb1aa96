import { boxOf } from '../geometry/boxes.js';
import { boxIndex } from '../geometry/cluster.js';
import { contoursBox, translateContour } from '../geometry/contour.js';
import { flattenCubic } from '../geometry/flatten.js';
import { insideContours } from '../geometry/point-tests.js';
import { distance } from '../geometry/points.js';
import type { Box, Contour, Point } from '../geometry/types.js';
import type { NextSheets } from '../register/dots.js';
import { latticePoint, stepsOnto } from '../repeat/lattice.js';
import type { Lattice } from '../repeat/types.js';
import type { CutSheet, SheetOpening } from './types.js';

/** What lies around places of a sheet on the cloth: its own openings and those of its neighbours. Sheet mm. */
export interface SeatGround {
  /** The nearest outline, and whether that is at a tip; infinite beyond the reach. */
  nearest(at: Point): { readonly mm: number; readonly tip: boolean };
  isInside(at: Point): boolean;
}

/** A sheet as far as dots are concerned. */
export interface SeatedSheet extends Pick<CutSheet, 'field' | 'widthMm' | 'heightMm' | 'lapMm' | 'dots'> {
  readonly openings: readonly Pick<SheetOpening, 'firstCut' | 'secondCut'>[];
}

export interface SeatGroundOptions {
  /** How the sheets step on the cloth. */
  readonly lattice: Lattice;
  readonly sides: NextSheets;
  /** Outlines farther off than this are of no account, mm. */
  readonly reachMm: number;
}

/** Curves are known to this, mm: far below what separates two places of a dot. */
const FLATTEN_MM = 0.05;
/** An outline's direction is taken over this length on both sides of a place, mm: shorter turns are not seen as a tip. */
const TIP_ARM_MM = 1.5;
/** An outline that turns by more than this around paper's side is a tip, deg. */
const TIP_TURN_DEG = 75;
/** The nearest place of an outline is at a tip within this, mm. */
const AT_TIP_MM = 1.5;

interface FlatSide {
  readonly ax: number;
  readonly ay: number;
  readonly bx: number;
  readonly by: number;
}

/**
 * The openings of sheets that print one cloth, with those of the neighbouring placements as far as they lie within `reachMm` of the paper. Null where
 * there are none. Time grows like n log n in sides of outlines.
 */
export function seatGround(sheets: readonly SeatedSheet[], options: SeatGroundOptions): SeatGround | null {
  const placed = placedOutlines(sheets, options);
  if (placed.length === 0) return null;
  const sides: FlatSide[] = [];
  const tips: Point[] = [];
  for (const { contours } of placed) {
    for (const contour of contours) {
      const ring = flatRing(contour);
      ring.forEach((a, k) => {
        const b = ring[(k + 1) % ring.length];
        sides.push({ ax: a.x, ay: a.y, bx: b.x, by: b.y });
      });
      tips.push(...tipsOf(ring));
    }
  }
  const sideIndex = boxIndex(
    sides.map(({ ax, ay, bx, by }) =>
      boxOf([
        { x: ax, y: ay },
        { x: bx, y: by },
      ]),
    ),
  );
  const tipIndex = tips.length === 0 ? null : boxIndex(tips.map((tip) => boxOf([tip])));
  const openingIndex = boxIndex(placed.map(({ box }) => box));
  const { reachMm } = options;
  return {
    nearest: ({ x, y }) => {
      let mm = Number.POSITIVE_INFINITY;
      let foot: Point = { x, y };
      for (const k of sideIndex.search(x - reachMm, y - reachMm, x + reachMm, y + reachMm)) {
        const p = footOn(sides[k], x, y);
        const far = Math.hypot(p.x - x, p.y - y);
        if (far >= mm) continue;
        mm = far;
        foot = p;
      }
      const r = AT_TIP_MM;
      const near = tipIndex?.search(foot.x - r, foot.y - r, foot.x + r, foot.y + r) ?? [];
      const tip = near.some((k) => distance(tips[k], foot) <= r);
      return { mm, tip: Number.isFinite(mm) && tip };
    },
    isInside: (at) => openingIndex.search(at.x, at.y, at.x, at.y).some((k) => insideContours(placed[k].contours, at)),
  };
}

interface PlacedOutline {
  readonly contours: readonly Contour[];
  readonly box: Box;
}

/** The cut outlines of all sheets, and their copies on the neighbouring placements. */
function placedOutlines(
  sheets: readonly SeatedSheet[],
  { lattice, sides, reachMm }: SeatGroundOptions,
): PlacedOutline[] {
  return sheets.flatMap(({ openings, widthMm, heightMm }) => {
    const target = { x0: -reachMm, y0: -reachMm, x1: widthMm + reachMm, y1: heightMm + reachMm };
    return openings.flatMap(({ firstCut, secondCut }) =>
      [firstCut, secondCut].flatMap((contours): PlacedOutline[] => {
        const box = contoursBox(contours);
        if (box === null) return [];
        return stepsOnto(lattice, box, target).flatMap((step) => {
          // With one column there is nothing beside it; the rows of a brick shift over several.
          if (!sides.right && lattice.repeat.kind !== 'brick' && step.i !== 0) return [];
          if (!sides.bottom && lattice.repeat.kind !== 'drop' && step.j !== 0) return [];
          const v = latticePoint(lattice, step);
          const moved = { x0: box.x0 + v.x, y0: box.y0 + v.y, x1: box.x1 + v.x, y1: box.y1 + v.y };
          return [{ contours: contours.map((contour) => translateContour(contour, v)), box: moved }];
        });
      }),
    );
  });
}

/** The corners of a closed outline's polygon, without one that repeats the one before. */
function flatRing({ coords }: Contour): Point[] {
  const ring: Point[] = [];
  const add = (x: number, y: number): void => {
    const last = ring[ring.length - 1];
    if (last === undefined || last.x !== x || last.y !== y) ring.push({ x, y });
  };
  if (coords.length >= 2) add(coords[0], coords[1]);
  for (let k = 0; k + 7 < coords.length; k += 6) flattenCubic(coords, k, FLATTEN_MM, add);
  const [first, last] = [ring[0], ring[ring.length - 1]];
  if (ring.length > 1 && first.x === last.x && first.y === last.y) ring.pop();
  return ring;
}

/** Corners at which a ring, seen over an arm's length both ways, turns sharply around its own area: the ends of leaves, points of stars. */
function tipsOf(ring: readonly Point[]): Point[] {
  if (ring.length < 3) return [];
  const limit = Math.cos((TIP_TURN_DEG * Math.PI) / 180);
  return ring.filter((p, k) => {
    const before = armEnd(ring, k, -1);
    const after = armEnd(ring, k, 1);
    const [ax, ay] = [p.x - before.x, p.y - before.y];
    const [bx, by] = [after.x - p.x, after.y - p.y];
    const lengths = Math.hypot(ax, ay) * Math.hypot(bx, by);
    // Rings turn clockwise as seen (y runs down), so that they turn to the right around their area.
    return lengths > 0 && ax * by - ay * bx > 0 && (ax * bx + ay * by) / lengths < limit;
  });
}

/** The place an arm's length along the ring from a corner. */
function armEnd(ring: readonly Point[], from: number, way: 1 | -1): Point {
  const n = ring.length;
  let left = TIP_ARM_MM;
  let a = ring[from];
  for (let m = 1; m < n; m++) {
    const b = ring[(((from + way * m) % n) + n) % n];
    const long = distance(b, a);
    if (long >= left) return { x: a.x + (left / long) * (b.x - a.x), y: a.y + (left / long) * (b.y - a.y) };
    left -= long;
    a = b;
  }
  return a;
}

function footOn({ ax, ay, bx, by }: FlatSide, x: number, y: number): Point {
  const [dx, dy] = [bx - ax, by - ay];
  const square = dx * dx + dy * dy;
  const t = square === 0 ? 0 : Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / square));
  return { x: ax + t * dx, y: ay + t * dy };
}
