import { boxOf, joinBoxes } from '../geometry/boxes.js';
import { boxIndex } from '../geometry/cluster.js';
import { polyline } from '../geometry/contour.js';
import { FLATTEN_MM, flattenCubic } from '../geometry/flatten.js';
import { distance, middle, plus } from '../geometry/points.js';
import { segmentDistance, segmentLength } from '../geometry/segments.js';
import type { Contour, Point } from '../geometry/types.js';
import type { Cell } from '../repeat/cell.js';
import { latticePoint, stepsOnto } from '../repeat/lattice.js';
import { type CurveIndex, sideReach } from '../ties/tie-reach.js';
import {
  flareOf,
  type StandingTie,
  type TieEnds,
  type TiePatchOptions,
  tiePatch,
  tieShape,
} from '../ties/tie-shape.js';
import { nearUnit, openingsAround } from './fit-ties.js';

/** So far past the end of a tie's side its patch goes on, mm: more than rounding hides, less than any knife cuts. */
const PAST_MM = 0.01;

/** The ends of the two sides of a patch differ by at least this, or not at all, mm. */
const STEP_MM = 0.02;

export interface PatchOptions {
  readonly overlapMm: number;
  /** Paper between two patches in one opening that would be narrower is cut too. */
  readonly neckMm: number;
}

/**
 * Outlines, unit mm, that hold what a second sheet cuts where ties stand on the first: their strips, wider by the overlap along each of their sides as
 * far as that side goes (so that nothing of the opening around a corner is cut in passing), and what lies between neighbours with too
 * little paper between their patches. They reach past the banks: what is meant is the opening under them. Near linear in the number of ties.
 */
export function tiePatches(
  cell: Cell,
  inkIndex: number,
  ties: readonly StandingTie[],
  { overlapMm, neckMm }: PatchOptions,
): Contour[] {
  if (ties.length === 0) return [];
  const near = nearUnit(ties, cell.lattice);
  const room = Math.max(...near.map((tie) => 3 * tie.widthMm + 2 * (tie.flareMm + overlapMm) + neckMm));
  const outlines = openingsAround(cell, inkIndex, near, room);
  return [
    ...near.flatMap((tie) => [tieShape(tie, tie), tiePatch(tie, { overlapMm, ...patchEnds(tie, outlines) })]),
    ...crowdedPairs(near, cell, { overlapMm, neckMm }).flatMap((pair) => between(pair, overlapMm, outlines)),
  ];
}

/** How far a patch runs on past the banks of its tie on either side: as far as that side of the tie's strip does. */
function patchEnds(tie: StandingTie, outlines: CurveIndex): Pick<TiePatchOptions, 'ends'> {
  const { flare } = flareOf(segmentLength(tie), tie.flareMm);
  const found = sideReach(tie, outlines, { widthMm: tie.widthMm, flareMm: flare });
  if (found === null) return {};
  const [left, right] = found;
  // Ends that are nearly level are level.
  const past = (own: number, other: number): number =>
    PAST_MM + (Math.abs(own - other) < STEP_MM ? Math.max(own, other) : own);
  return {
    ends: [
      { from: past(left.from, right.from), to: past(left.to, right.to) },
      { from: past(right.from, left.from), to: past(right.to, left.to) },
    ],
  };
}

/** Pairs of ties (one of them moved to the copy that is meant) whose patches have less than `neckMm` between them. */
function crowdedPairs(
  ties: readonly StandingTie[],
  { lattice }: Cell,
  { overlapMm, neckMm }: PatchOptions,
): (readonly [StandingTie, StandingTie])[] {
  const widest = Math.max(...ties.map((tie) => tie.widthMm / 2 + tie.flareMm));
  const apart = 2 * (widest + overlapMm) + neckMm;
  const boxes = ties.map(({ from, to }) => boxOf([from, to]));
  const index = boxIndex(boxes);
  const all = boxes.reduce(joinBoxes);
  const pairs: (readonly [StandingTie, StandingTie])[] = [];
  ties.forEach((tie, k) => {
    const wide = boxOf([tie.from, tie.to], apart);
    for (const step of stepsOnto(lattice, wide, all)) {
      const v = latticePoint(lattice, step);
      const moved = { ...tie, from: plus(tie.from, v), to: plus(tie.to, v) };
      const found = index.search(wide.x0 + v.x, wide.y0 + v.y, wide.x1 + v.x, wide.y1 + v.y);
      for (const other of found) {
        // A tie and its own copies come up from both sides; once will do.
        if (other < k || (other === k && step.i === 0 && step.j === 0)) continue;
        const limit = reachAside(tie) + reachAside(ties[other]) + 2 * overlapMm + neckMm;
        if (segmentDistance(moved, ties[other]) < limit) pairs.push([moved, ties[other]]);
      }
    }
  });
  return pairs;
}

function reachAside({ widthMm, flareMm }: StandingTie): number {
  return widthMm / 2 + flareMm;
}

/** What lies between two ties, sides of their patches included, where nothing but opening leads from the middle of the one to that of the other. */
function between(pair: readonly [StandingTie, StandingTie], overlapMm: number, outlines: CurveIndex): Contour[] {
  const [from, to] = pair.map(({ from: p, to: q }): Point => middle(p, q));
  if (!isOpen({ from, to }, outlines)) return [];
  return [polyline(convexHull(pair.flatMap((tie) => corners(tie, overlapMm))), { closed: true })];
}

/** The corners of a tie's patch on its banks. */
function corners(tie: StandingTie, overlapMm: number): Point[] {
  const { from, to } = tie;
  const aside = (reachAside(tie) + overlapMm) / distance(to, from);
  const by = { x: -aside * (to.y - from.y), y: aside * (to.x - from.x) };
  return [from, to].flatMap((p) => [plus(p, by), { x: p.x - by.x, y: p.y - by.y }]);
}

/** The convex hull of points, clockwise as seen (A. M. Andrew's two chains, 1979). */
function convexHull(points: readonly Point[]): Point[] {
  const sorted = [...points].sort((p, q) => p.x - q.x || p.y - q.y);
  const chain = (list: readonly Point[]): Point[] => {
    const hull: Point[] = [];
    for (const p of list) {
      for (let n = hull.length; n >= 2; n--) {
        const [a, b] = [hull[n - 2], hull[n - 1]];
        if ((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x) > 0) break;
        hull.pop();
      }
      hull.push(p);
    }
    return hull.slice(0, -1);
  };
  return [...chain(sorted), ...chain(sorted.reverse())];
}

/** Whether no outline crosses a straight way. */
function isOpen({ from, to }: TieEnds, { contours, curves, boxes }: CurveIndex): boolean {
  const box = boxOf([from, to]);
  const sideOf = (x: number, y: number): number => (to.x - from.x) * (y - from.y) - (to.y - from.y) * (x - from.x);
  for (const k of boxes?.search(box.x0, box.y0, box.x1, box.y1) ?? []) {
    const [contour, o] = curves[k];
    const { coords } = contours[contour];
    let [px, py] = [coords[o], coords[o + 1]];
    let crossed = false;
    flattenCubic(coords, o, FLATTEN_MM, (x, y) => {
      const [p, q] = [sideOf(px, py), sideOf(x, y)];
      if (p < 0 !== q < 0) {
        const t = p / (p - q);
        const [cx, cy] = [px + t * (x - px), py + t * (y - py)];
        const way = (to.x - from.x) * (cx - from.x) + (to.y - from.y) * (cy - from.y);
        if (way > 0 && way < (to.x - from.x) ** 2 + (to.y - from.y) ** 2) crossed = true;
      }
      [px, py] = [x, y];
    });
    if (crossed) return false;
  }
  return true;
}
