import { contourArea } from '../geometry/contour.js';
import { contourLength, flattened } from '../geometry/length.js';
import type { Contour, Point } from '../geometry/types.js';
import type { CuttingTool } from './types.js';

/** Punches at hand, mm across. */
export const PUNCHES_MM = [1, 1.5, 2, 3, 4, 5] as const;
/** A hole this far from a punch's size is still punched with it, mm: what the edge of a punched hole gives either way. */
const PUNCH_WITHIN_MM = 0.3;
/** Rounding of a hole drawn as large as the largest punch, mm. */
const LARGEST_SLACK_MM = 0.05;
/** Radii of a round hole differ by at most this, mm: less than a knife's accuracy of 0.2 mm. */
const ROUND_MM = 0.15;
/** 4π · area / perimeter², which is 1 for a circle, 0.95 for an octagon: from here on a hole is round. */
const ROUND_SHARE = 0.97;
/** Straight runs longer than this are cut along a ruler, mm. */
const RULER_MM = 30;
/** How far a run may lie beside its chord and still follow a ruler, mm: a knife's accuracy. */
const STRAIGHT_MM = 0.2;
/** Ends nearer than this are the same place, mm: ten units of the polygons' grid. */
const SAME_MM = 1e-3;

/** A stretch that is not cut: the opening goes on there with its other cut. */
export interface UncutStretch {
  readonly from: Point;
  readonly to: Point;
}

/** What takes an opening out, and how far the knife travels. */
export interface ToolChoice {
  readonly tool: CuttingTool;
  /** Diameter of the punch, mm; null for other tools. */
  readonly punchMm: number | null;
  /** Length of all outlines without the uncut stretches, mm. */
  readonly cutLengthMm: number;
}

/**
 * The tool for an opening with these outlines (any mm): a punch for a single round hole of up to 5 mm near a punch's size, a ruler where some
 * straight run is longer than 30 mm, else a knife. `uncut` are stretches of the outlines where nothing is cut; each counts on every outline
 * that runs along it. No outlines give a knife and no length.
 */
export function toolOf(
  contours: readonly Contour[],
  { uncut = [] }: { uncut?: readonly UncutStretch[] } = {},
): ToolChoice {
  let cutLengthMm = 0;
  let longest = 0;
  for (const contour of contours) {
    cutLengthMm += contourLength(contour);
    const sides = straightSides(contour, uncut);
    cutLengthMm -= sides.reduce((sum, side) => sum + side.uncutMm, 0);
    longest = Math.max(longest, longestRun(sides));
  }
  const punchMm = contours.length === 1 ? punchFor(contours[0]) : null;
  const tool = punchMm !== null ? 'punch' : longest > RULER_MM ? 'ruler' : 'knife';
  return { tool, punchMm, cutLengthMm: Math.max(0, cutLengthMm) };
}

/** The punch that makes this hole; null where it is not round or no punch has its size. */
function punchFor(contour: Contour): number | null {
  const area = Math.abs(contourArea(contour));
  const diameter = 2 * Math.sqrt(area / Math.PI);
  if (!(diameter > 0) || diameter > Math.max(...PUNCHES_MM) + LARGEST_SLACK_MM) return null;
  const around = contourLength(contour);
  if ((4 * Math.PI * area) / (around * around) < ROUND_SHARE) return null;
  const points = flattened(contour);
  const centre = {
    x: points.reduce((sum, p) => sum + p.x, 0) / points.length,
    y: points.reduce((sum, p) => sum + p.y, 0) / points.length,
  };
  // The farthest across in x and y fixes the middle better than unevenly spaced corners do.
  const xs = points.map((p) => p.x);
  const ys = points.map((p) => p.y);
  const middle = { x: (Math.min(...xs) + Math.max(...xs)) / 2, y: (Math.min(...ys) + Math.max(...ys)) / 2 };
  const spread = Math.min(spreadAround(points, centre), spreadAround(points, middle));
  if (spread > ROUND_MM) return null;
  const nearest = PUNCHES_MM.reduce((a, b) => (Math.abs(b - diameter) < Math.abs(a - diameter) ? b : a));
  return Math.abs(nearest - diameter) <= PUNCH_WITHIN_MM ? nearest : null;
}

function spreadAround(points: readonly Point[], centre: Point): number {
  const radii = points.map((p) => Math.hypot(p.x - centre.x, p.y - centre.y));
  return Math.max(...radii) - Math.min(...radii);
}

/** One cubic of an outline, as far as a ruler minds. */
interface Side {
  readonly from: Point;
  readonly to: Point;
  readonly straight: boolean;
  /** How much of it is not cut, mm. */
  readonly uncutMm: number;
}

function straightSides({ coords: q }: Contour, uncut: readonly UncutStretch[]): Side[] {
  const sides: Side[] = [];
  for (let o = 0; o + 7 < q.length; o += 6) {
    const from = { x: q[o], y: q[o + 1] };
    const to = { x: q[o + 6], y: q[o + 7] };
    const handles = [
      { x: q[o + 2], y: q[o + 3] },
      { x: q[o + 4], y: q[o + 5] },
    ];
    const straight = handles.every((h) => besideChord(h, from, to) <= STRAIGHT_MM / 4);
    const uncutMm = straight ? uncut.reduce((sum, stretch) => sum + sharedLength(from, to, stretch), 0) : 0;
    sides.push({ from, to, straight, uncutMm });
  }
  return sides;
}

/** How much of the side `a→b` lies on a stretch, mm. */
function sharedLength(a: Point, b: Point, { from, to }: UncutStretch): number {
  const length = Math.hypot(b.x - a.x, b.y - a.y);
  if (length < SAME_MM || besideLine(from, a, b) > SAME_MM || besideLine(to, a, b) > SAME_MM) return 0;
  const along = (p: Point): number => ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / length;
  const [s, t] = [along(from), along(to)];
  return Math.max(0, Math.min(length, Math.max(s, t)) - Math.max(0, Math.min(s, t)));
}

/** The longest straight run of cut sides around a ring, mm. */
function longestRun(sides: readonly Side[]): number {
  const n = sides.length;
  if (n === 0) return 0;
  const cut = (k: number): boolean => sides[k % n].straight && sides[k % n].uncutMm < SAME_MM;
  const goesOn = (k: number): boolean => cut(k) && cut(k + n - 1) && turnBetween(sides[(k + n - 1) % n], sides[k % n]);
  // A run that goes on past the ring's first corner must not be counted in two parts.
  let start = 0;
  while (start < n && goesOn(start)) start++;
  let longest = 0;
  for (let i = 0; i < n; ) {
    const first = start + i;
    if (!cut(first)) {
      i++;
      continue;
    }
    let last = first;
    while (last + 1 < start + n && goesOn(last + 1) && isStraightRun(sides, first, last + 1)) last++;
    const [from, to] = [sides[first % n].from, sides[last % n].to];
    longest = Math.max(longest, Math.hypot(to.x - from.x, to.y - from.y));
    i += last - first + 1;
  }
  return longest;
}

/** Whether the second side goes on forward where the first ends. */
function turnBetween(a: Side, b: Side): boolean {
  const dot = (a.to.x - a.from.x) * (b.to.x - b.from.x) + (a.to.y - a.from.y) * (b.to.y - b.from.y);
  return dot > 0;
}

function isStraightRun(sides: readonly Side[], first: number, last: number): boolean {
  const n = sides.length;
  const [from, to] = [sides[first % n].from, sides[last % n].to];
  for (let k = first; k < last; k++) if (besideChord(sides[k % n].to, from, to) > STRAIGHT_MM) return false;
  return true;
}

function besideChord(p: Point, a: Point, b: Point): number {
  const length = (b.x - a.x) ** 2 + (b.y - a.y) ** 2;
  const t = length === 0 ? 0 : ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / length;
  const s = Math.min(1, Math.max(0, t));
  return Math.hypot(p.x - a.x - s * (b.x - a.x), p.y - a.y - s * (b.y - a.y));
}

function besideLine(p: Point, a: Point, b: Point): number {
  const length = Math.hypot(b.x - a.x, b.y - a.y);
  return length === 0 ? Infinity : Math.abs((p.x - a.x) * (b.y - a.y) - (p.y - a.y) * (b.x - a.x)) / length;
}
