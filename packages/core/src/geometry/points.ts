import type { Point } from './types.js';

export function plus(a: Point, b: Point): Point {
  return { x: a.x + b.x, y: a.y + b.y };
}

export function minus(a: Point, b: Point): Point {
  return { x: a.x - b.x, y: a.y - b.y };
}

export function dot(a: Point, b: Point): number {
  return a.x * b.x + a.y * b.y;
}

/** Above zero where `b` is turned clockwise as seen from `a` (y runs down). */
export function cross(a: Point, b: Point): number {
  return a.x * b.y - a.y * b.x;
}

export function distance(a: Point, b: Point): number {
  return Math.hypot(a.x - b.x, a.y - b.y);
}

/** The place at a share of the straight way from `a` (0) to `b` (1). */
export function between(a: Point, b: Point, share: number): Point {
  return { x: a.x + share * (b.x - a.x), y: a.y + share * (b.y - a.y) };
}

export function middle(a: Point, b: Point): Point {
  return { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
}

/** Above zero where the way `a → b → c` turns clockwise as seen; twice the area of the triangle. */
export function turn(a: Point, b: Point, c: Point): number {
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}
