import { apply } from './matrix.js';
import type { Box, Matrix, Point } from './types.js';

/** The least box around places, with `room` on every side. Without a place it is turned inside out: `x0` above `x1`. */
export function boxOf(points: readonly Point[], room = 0): Box {
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { x, y } of points) {
    if (x < x0) x0 = x;
    if (y < y0) y0 = y;
    if (x > x1) x1 = x;
    if (y > y1) y1 = y;
  }
  return { x0: x0 - room, y0: y0 - room, x1: x1 + room, y1: y1 + room };
}

/** The least box around the control points of the cubic at `coords[o]`, with `room` on every side: it holds the curve. */
export function controlBox(coords: Float64Array, o: number, room = 0): Box {
  return {
    x0: Math.min(coords[o], coords[o + 2], coords[o + 4], coords[o + 6]) - room,
    y0: Math.min(coords[o + 1], coords[o + 3], coords[o + 5], coords[o + 7]) - room,
    x1: Math.max(coords[o], coords[o + 2], coords[o + 4], coords[o + 6]) + room,
    y1: Math.max(coords[o + 1], coords[o + 3], coords[o + 5], coords[o + 7]) + room,
  };
}

/** The least box around two. */
export function joinBoxes(a: Box, b: Box): Box {
  return {
    x0: Math.min(a.x0, b.x0),
    y0: Math.min(a.y0, b.y0),
    x1: Math.max(a.x1, b.x1),
    y1: Math.max(a.y1, b.y1),
  };
}

/** The least box around all; null for none. */
export function boxAround(boxes: readonly Box[]): Box | null {
  return boxes.length === 0 ? null : boxes.reduce(joinBoxes);
}

/** What two boxes share; null where that is not wider and higher than `least`. */
export function sharedBox(a: Box, b: Box, least = 0): Box | null {
  const box = {
    x0: Math.max(a.x0, b.x0),
    y0: Math.max(a.y0, b.y0),
    x1: Math.min(a.x1, b.x1),
    y1: Math.min(a.y1, b.y1),
  };
  return box.x1 - box.x0 > least && box.y1 - box.y0 > least ? box : null;
}

export function growBox({ x0, y0, x1, y1 }: Box, by: number): Box {
  return { x0: x0 - by, y0: y0 - by, x1: x1 + by, y1: y1 + by };
}

export function moveBox({ x0, y0, x1, y1 }: Box, by: Point): Box {
  return { x0: x0 + by.x, y0: y0 + by.y, x1: x1 + by.x, y1: y1 + by.y };
}

/** Whether two boxes share an area. */
export function boxesOverlap(a: Box, b: Box): boolean {
  return a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1;
}

/** Whether a place lies in a box or on its edge. */
export function boxHolds(box: Box, { x, y }: Point): boolean {
  return x >= box.x0 && x <= box.x1 && y >= box.y0 && y <= box.y1;
}

/** Whether a box lies in another, or pokes out by no more than `slack`. */
export function boxWithin(inner: Box, outer: Box, slack = 0): boolean {
  return (
    inner.x0 >= outer.x0 - slack &&
    inner.y0 >= outer.y0 - slack &&
    inner.x1 <= outer.x1 + slack &&
    inner.y1 <= outer.y1 + slack
  );
}

/** From a place to the nearest of a box; 0 inside. */
export function boxDistance({ x0, y0, x1, y1 }: Box, { x, y }: Point): number {
  return Math.hypot(Math.max(x0 - x, 0, x - x1), Math.max(y0 - y, 0, y - y1));
}

export function boxMiddle({ x0, y0, x1, y1 }: Box): Point {
  return { x: (x0 + x1) / 2, y: (y0 + y1) / 2 };
}

export function boxArea({ x0, y0, x1, y1 }: Box): number {
  return (x1 - x0) * (y1 - y0);
}

/** Clockwise as seen, from the upper left. */
export function boxCorners({ x0, y0, x1, y1 }: Box): readonly [Point, Point, Point, Point] {
  return [
    { x: x0, y: y0 },
    { x: x1, y: y0 },
    { x: x1, y: y1 },
    { x: x0, y: y1 },
  ];
}

/** The least box around a box under a map. */
export function transformBox(box: Box, m: Matrix): Box {
  return boxOf(boxCorners(box).map((p) => apply(m, p)));
}
