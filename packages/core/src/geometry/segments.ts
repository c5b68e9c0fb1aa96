import { turn } from './points.js';
import type { Point } from './types.js';

/** The straight way between two places. */
export interface Segment {
  readonly from: Point;
  readonly to: Point;
}

export function segmentLength({ from, to }: Segment): number {
  return Math.hypot(to.x - from.x, to.y - from.y);
}

export function segmentMiddle({ from, to }: Segment): Point {
  return { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 };
}

/** At which share of the straight way from `x0, y0` to `x1, y1` it comes nearest to a place; nothing but numbers, as it is asked for millions of times. */
export function nearestShare(px: number, py: number, x0: number, y0: number, x1: number, y1: number): number {
  const dx = x1 - x0;
  const dy = y1 - y0;
  return Math.min(1, Math.max(0, ((px - x0) * dx + (py - y0) * dy) / (dx * dx + dy * dy || 1)));
}

/** From a place to the nearest of a segment. */
export function pointDistance({ from, to }: Segment, at: Point): number {
  const t = nearestShare(at.x, at.y, from.x, from.y, to.x, to.y);
  return Math.hypot(from.x + t * (to.x - from.x) - at.x, from.y + t * (to.y - from.y) - at.y);
}

/** From a place to the endless line through a segment; infinite for one without a length. */
export function lineDistance(line: Segment, at: Point): number {
  const length = segmentLength(line);
  return length === 0 ? Infinity : Math.abs(turn(line.from, line.to, at)) / length;
}

/** The least distance between two segments; 0 where they cross. */
export function segmentDistance(a: Segment, b: Segment): number {
  const crosses = (p: Segment, q: Segment): boolean => turn(p.from, p.to, q.from) * turn(p.from, p.to, q.to) < 0;
  if (crosses(a, b) && crosses(b, a)) return 0;
  return Math.min(pointDistance(a, b.from), pointDistance(a, b.to), pointDistance(b, a.from), pointDistance(b, a.to));
}

/** How much of a segment two have in common; none where an end of the second is off the line of the first by more than `slack`. */
export function sharedLength(line: Segment, other: Segment, slack: number): number {
  if (lineDistance(line, other.from) > slack || lineDistance(line, other.to) > slack) return 0;
  const { from, to } = line;
  const length = segmentLength(line);
  const along = (p: Point): number => ((p.x - from.x) * (to.x - from.x) + (p.y - from.y) * (to.y - from.y)) / length;
  const [s, t] = [along(other.from), along(other.to)];
  return Math.max(0, Math.min(length, Math.max(s, t)) - Math.max(0, Math.min(s, t)));
}
