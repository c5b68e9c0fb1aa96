import { SquareIndex } from '../geometry/square-index.js';
import type { Box } from '../geometry/types.js';
import type { Shape } from '../motif/types.js';
import { latticePoint, nearestStep } from './lattice.js';
import type { Lattice } from './types.js';

/** A copy drawn one step away may be off by this, mm, and still be the same shape. */
const SAME_MM = 0.02;
/** Places are looked up in squares of this side, mm. */
const BUCKET_MM = 0.5;

/** Shapes (by index) that lie exactly whole steps apart, and which of them lies most in the unit. */
export interface CopyFamily {
  readonly kept: number;
  readonly copies: readonly number[];
}

/**
 * Shapes that repeat another one exactly one or more steps away: drawn around the unit to see the joins. Of each family the one that lies
 * most in the unit is kept. `boxes` holds each shape's box in mm (null where it has no area).
 */
export function drawnCopies(shapes: readonly Shape[], boxes: readonly (Box | null)[], lattice: Lattice): CopyFamily[] {
  const families = new Map<string, number[]>();
  shapes.forEach((shape, k) => {
    if (!boxes[k]) return;
    const key = signature(shape);
    const family = families.get(key);
    if (family) family.push(k);
    else families.set(key, [k]);
  });
  const found: CopyFamily[] = [];
  for (const family of families.values()) {
    if (family.length < 2) continue;
    for (const group of stepFamilies(family, shapes, boxes, lattice)) {
      const best = group.reduce((a, b) => (shareInUnit(boxes[b], lattice) > shareInUnit(boxes[a], lattice) ? b : a));
      found.push({ kept: best, copies: group.filter((k) => k !== best) });
    }
  }
  return found;
}

/** Parts of a family whose members lie whole steps apart, two or more in each; found by where each lies within its unit. */
function stepFamilies(
  family: readonly number[],
  shapes: readonly Shape[],
  boxes: readonly (Box | null)[],
  lattice: Lattice,
): number[][] {
  const byPlace = new SquareIndex<number[]>(BUCKET_MM);
  const groups: number[][] = [];
  for (const k of family) {
    const { rest } = nearestStep(lattice, startOf(shapes[k]));
    const group = byPlace
      .around(rest)
      .find((g) => oneStepApart(shapes[g[0]], shapes[k], lattice) && showAlike(g[0], k, shapes, boxes));
    if (group) group.push(k);
    else {
      const fresh = [k];
      groups.push(fresh);
      byPlace.add(fresh, rest);
    }
  }
  return groups.filter((g) => g.length > 1);
}

/** The same for shapes that differ by a move only: ink, structure, and coordinates from the first point on, to 0.1 mm. */
function signature(shape: Shape): string {
  const start = startOf(shape);
  const parts = [shape.ink, shape.rule, JSON.stringify(shape.stroke ?? null), String(shape.clips.length)];
  for (const contour of shape.contours) {
    const n = contour.coords.length;
    parts.push(`${contour.closed ? 'z' : 'o'}${n}`);
    // The last and a middle point tell most shapes apart; equality is checked point by point later.
    for (const k of [0, n - 2, 2 * Math.floor(n / 4)]) {
      if (k < 0) continue;
      parts.push(`${coarse(contour.coords[k] - start.x)},${coarse(contour.coords[k + 1] - start.y)}`);
    }
  }
  return parts.join(' ');
}

function coarse(v: number): string {
  // Rounding to 1 mm keeps copies that differ by SAME_MM together but for rare ties at the rounding's edge.
  return String(Math.round(v + 1e-3));
}

function startOf(shape: Shape): { x: number; y: number } {
  const coords = shape.contours.find((c) => c.coords.length >= 2)?.coords;
  return coords ? { x: coords[0], y: coords[1] } : { x: 0, y: 0 };
}

function oneStepApart(a: Shape, b: Shape, lattice: Lattice): boolean {
  const p = startOf(a);
  const q = startOf(b);
  const vector = { x: q.x - p.x, y: q.y - p.y };
  const { step } = nearestStep(lattice, vector);
  if (step.i === 0 && step.j === 0) return false;
  const v = latticePoint(lattice, step);
  return (
    a.contours.length === b.contours.length &&
    a.contours.every((c, n) => {
      const d = b.contours[n].coords;
      if (c.coords.length !== d.length) return false;
      for (let k = 0; k < d.length; k += 2) {
        if (Math.abs(d[k] - c.coords[k] - v.x) > SAME_MM || Math.abs(d[k + 1] - c.coords[k + 1] - v.y) > SAME_MM)
          return false;
      }
      return true;
    })
  );
}

/** Clips may show another part of each of two copies: a group clipped to the unit does. What a clip takes off makes the box smaller. */
function showAlike(a: number, b: number, shapes: readonly Shape[], boxes: readonly (Box | null)[]): boolean {
  if (shapes[a].clips.length === 0) return true;
  const [p, q] = [boxes[a], boxes[b]];
  if (!p || !q) return false;
  const [from, to] = [startOf(shapes[a]), startOf(shapes[b])];
  const [dx, dy] = [to.x - from.x, to.y - from.y];
  return [q.x0 - p.x0 - dx, q.x1 - p.x1 - dx, q.y0 - p.y0 - dy, q.y1 - p.y1 - dy].every((d) => Math.abs(d) <= SAME_MM);
}

function shareInUnit(box: Box | null, lattice: Lattice): number {
  if (!box) return 0;
  const w = Math.min(box.x1, lattice.widthMm) - Math.max(box.x0, 0);
  const h = Math.min(box.y1, lattice.heightMm) - Math.max(box.y0, 0);
  return Math.max(0, w) * Math.max(0, h);
}
