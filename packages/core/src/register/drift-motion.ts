import { cross, dot, minus } from '../geometry/points.js';
import type { Matrix, Point } from '../geometry/types.js';

/**
 * A rigid motion of the sheet: turned by `angleRad` about the origin (above zero: clockwise as seen, since y runs down), then moved by
 * `x`, `y` mm.
 */
export interface RigidMotion {
  readonly angleRad: number;
  readonly x: number;
  readonly y: number;
}

/** Two dots of a new sheet and the two marks of an old one that they are laid on. Places in the frame of the sheet, mm. */
export interface Laying {
  readonly first: { readonly dot: Point; readonly mark: Point };
  readonly second: { readonly dot: Point; readonly mark: Point };
}

export const STAYS: RigidMotion = { angleRad: 0, x: 0, y: 0 };

/**
 * How a sheet laid dot on dot lies against the one before: its first dot exactly on its mark, its second dot on the line from the first
 * mark to the second. Only the direction of the second is used; what it is too near or too far stays. Undefined (not a number)
 * where two dots or two marks coincide.
 */
export function layingMotion({ first, second }: Laying): RigidMotion {
  const dots = minus(second.dot, first.dot);
  const marks = minus(second.mark, first.mark);
  const angleRad = Math.atan2(cross(dots, marks), dot(dots, marks));
  const turned = rotate(first.dot, angleRad);
  return { angleRad, x: first.mark.x - turned.x, y: first.mark.y - turned.y };
}

/** How much farther apart the two marks are than the two dots, mm: what stays as an error at the second dot. */
export function secondDotError({ first, second }: Laying): number {
  const [dots, marks] = [minus(second.dot, first.dot), minus(second.mark, first.mark)];
  return Math.hypot(marks.x, marks.y) - Math.hypot(dots.x, dots.y);
}

/** `outer ∘ inner`: the inner motion is made first. */
export function composeMotions(outer: RigidMotion, inner: RigidMotion): RigidMotion {
  const moved = moveBy(outer, inner);
  return { angleRad: outer.angleRad + inner.angleRad, x: moved.x, y: moved.y };
}

/** Where a motion takes a place. */
export function moveBy(motion: RigidMotion, p: Point): Point {
  const turned = rotate(p, motion.angleRad);
  return { x: turned.x + motion.x, y: turned.y + motion.y };
}

/**
 * A motion made `n` times (a whole number; below zero: its inverse). In closed form, so that no rounding gathers: the translation is the geometric
 * series t·(1 + e + … + e^(n−1)) with e = exp(iφ), which is t·exp(i(n−1)φ/2)·sin(nφ/2)/sin(φ/2), or n·t without a turn.
 */
export function repeatMotion({ angleRad, x, y }: RigidMotion, n: number): RigidMotion {
  const half = Math.sin(angleRad / 2);
  const length = half === 0 ? n : Math.sin((n * angleRad) / 2) / half;
  const moved = rotate({ x: x * length, y: y * length }, ((n - 1) * angleRad) / 2);
  return { angleRad: n * angleRad, x: moved.x, y: moved.y };
}

/** The same as an affine map, for drawings. */
export function motionMatrix({ angleRad, x, y }: RigidMotion): Matrix {
  const [c, s] = [Math.cos(angleRad), Math.sin(angleRad)];
  return [c, s, -s, c, x, y];
}

export function rotate(p: Point, angleRad: number): Point {
  const [c, s] = [Math.cos(angleRad), Math.sin(angleRad)];
  return { x: c * p.x - s * p.y, y: s * p.x + c * p.y };
}
