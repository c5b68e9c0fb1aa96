import { boxMiddle, boxOf } from '../geometry/boxes.js';
import { contourArea, contoursBox, segmentCount } from '../geometry/contour.js';
import { contourLength, flattened } from '../geometry/length.js';
import { distance } from '../geometry/points.js';
import { pointDistance, sharedLength } from '../geometry/segments.js';
import type { Contour, Point } from '../geometry/types.js';
import { longestRun, unbentLength } from './straight-runs.js';
import type { CuttingTool } from './types.js';

/** Punches of a usual set, mm across: what is taken for those at hand where nobody says (common practice, no published source). */
export const USUAL_PUNCHES_MM: readonly number[] = [1, 1.5, 2, 2.5, 3, 3.5, 4, 4.5, 5];
/** A hole this far from a punch's size is still punched with it, mm: what the edge of a punched hole gives either way. */
export const PUNCH_WITHIN_MM = 0.3;
/** Radii of a round hole differ by at most this, mm: less than a knife's accuracy of 0.2 mm. */
const ROUND_MM = 0.15;
/** 4π · area / perimeter², which is 1 for a circle, 0.95 for an octagon: from here on a hole is round. */
const ROUND_SHARE = 0.97;
/** Straight runs longer than this are cut along a ruler, mm. */
const RULER_MM = 30;
/** What is not bent makes up at least this share of an outline that is cut along a ruler. */
const RULED_SHARE = 0.6;
/** A side whose handles lie this near to its chord may lie on a stretch that is not cut, mm. */
const STRAIGHT_MM = 0.05;
/** Ends nearer than this are the same place, mm: ten units of the polygons' grid. */
const SAME_MM = 1e-3;

/** A stretch that is not cut: the opening goes on there with its other cut. */
export interface UncutStretch {
  readonly from: Point;
  readonly to: Point;
}

export interface ToolOptions {
  readonly uncut?: readonly UncutStretch[];
  /** Punches at hand, mm across; those of a usual set where they are not given. */
  readonly punchesMm?: readonly number[];
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
 * The tool for an opening with these outlines (any mm): the nearest of the punches at hand for a single round hole within 0.3 mm of its size, a ruler where the
 * outlines are made of straight runs, one of them longer than 30 mm, else a knife. `uncut` are stretches of the outlines where nothing is cut; each counts on every outline
 * that runs along it. No outlines give a knife and no length.
 */
export function toolOf(
  contours: readonly Contour[],
  { uncut = [], punchesMm = USUAL_PUNCHES_MM }: ToolOptions = {},
): ToolChoice {
  let cutLengthMm = 0;
  const uncutOf = contours.map((contour) => uncutLengths(contour, uncut));
  contours.forEach((contour, k) => {
    cutLengthMm += contourLength(contour) - uncutOf[k].reduce((sum, mm) => sum + mm, 0);
  });
  const punchMm = contours.length === 1 ? punchFor(contours[0], punchesMm) : null;
  const ruled = punchMm === null && isRuled(contours, uncutOf, cutLengthMm);
  return {
    tool: punchMm !== null ? 'punch' : ruled ? 'ruler' : 'knife',
    punchMm,
    cutLengthMm: Math.max(0, cutLengthMm),
  };
}

/** Whether outlines are made of straight runs: one of them is long, and most of what is cut is not bent. */
function isRuled(contours: readonly Contour[], uncutOf: readonly (readonly number[])[], cutLengthMm: number): boolean {
  const box = contoursBox(contours);
  if (box === null || Math.hypot(box.x1 - box.x0, box.y1 - box.y0) <= RULER_MM) return false;
  const isCut = (k: number) => (cubic: number) => uncutOf[k][cubic] < SAME_MM;
  if (!contours.some((contour, k) => longestRun(contour, RULER_MM, isCut(k)) > 0)) return false;
  const unbent = contours.reduce((sum, contour, k) => sum + unbentLength(contour, isCut(k)), 0);
  return unbent >= RULED_SHARE * cutLengthMm;
}

/** The punch that makes this hole; null where it is not round or no punch has its size. */
function punchFor(contour: Contour, punchesMm: readonly number[]): number | null {
  const area = Math.abs(contourArea(contour));
  const diameter = 2 * Math.sqrt(area / Math.PI);
  if (!(diameter > 0) || punchesMm.length === 0) return null;
  // The hair keeps a hole drawn halfway with the punch that comes first, and one drawn just so far off on one side of it.
  const nearest = punchesMm.reduce((a, b) => (Math.abs(b - diameter) < Math.abs(a - diameter) - SAME_MM ? b : a));
  if (Math.abs(nearest - diameter) > PUNCH_WITHIN_MM + SAME_MM) return null;
  const around = contourLength(contour);
  if ((4 * Math.PI * area) / (around * around) < ROUND_SHARE) return null;
  const points = flattened(contour);
  const centre = {
    x: points.reduce((sum, p) => sum + p.x, 0) / points.length,
    y: points.reduce((sum, p) => sum + p.y, 0) / points.length,
  };
  // The farthest across in x and y fixes the middle better than unevenly spaced corners do.
  const middle = boxMiddle(boxOf(points));
  const spread = Math.min(spreadAround(points, centre), spreadAround(points, middle));
  return spread > ROUND_MM ? null : nearest;
}

function spreadAround(points: readonly Point[], centre: Point): number {
  const radii = points.map((p) => distance(p, centre));
  return Math.max(...radii) - Math.min(...radii);
}

/** Of each cubic of an outline, how much lies on stretches that are not cut, mm. */
function uncutLengths(contour: Contour, uncut: readonly UncutStretch[]): number[] {
  const q = contour.coords;
  return Array.from({ length: segmentCount(contour) }, (_, k) => {
    const o = 6 * k;
    const side = { from: { x: q[o], y: q[o + 1] }, to: { x: q[o + 6], y: q[o + 7] } };
    const handles = [
      { x: q[o + 2], y: q[o + 3] },
      { x: q[o + 4], y: q[o + 5] },
    ];
    if (!handles.every((h) => pointDistance(side, h) <= STRAIGHT_MM)) return 0;
    return uncut.reduce((sum, stretch) => sum + sharedLength(side, stretch, SAME_MM), 0);
  });
}
