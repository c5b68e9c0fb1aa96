import { dot } from '../geometry/points.js';
import type { Box, Point } from '../geometry/types.js';
import type { Lattice, LatticeStep, Repeat } from './types.js';

/** The lattice of a repeat with a unit of the given size (mm, both > 0). See `Lattice` for its basis. */
export function makeLattice(repeat: Repeat, widthMm: number, heightMm: number): Lattice {
  const f = repeat.step.p / repeat.step.q;
  const a = { x: widthMm, y: repeat.kind === 'drop' ? f * heightMm : 0 };
  const b = { x: repeat.kind === 'brick' ? f * widthMm : 0, y: heightMm };
  return { repeat, widthMm, heightMm, a, b };
}

/** The vector `i·a + j·b`, computed from whole numbers so that far copies gather no rounding. */
export function latticePoint(lattice: Lattice, { i, j }: LatticeStep): Point {
  const { widthMm, heightMm, repeat } = lattice;
  const { p, q } = repeat.step;
  if (repeat.kind === 'drop') return { x: i * widthMm, y: ((i * p + j * q) * heightMm) / q };
  if (repeat.kind === 'brick') return { x: ((j * p + i * q) * widthMm) / q, y: j * heightMm };
  return { x: i * widthMm, y: j * heightMm };
}

/**
 * The lattice steps that move `box` to where it overlaps `target` with a positive area, column by column (row by row in a brick). Boxes in mm.
 */
export function stepsOnto(lattice: Lattice, box: Box, target: Box): LatticeStep[] {
  const steps: LatticeStep[] = [];
  const { widthMm: w, heightMm: h, repeat } = lattice;
  const f = repeat.step.p / repeat.step.q;
  const brick = repeat.kind === 'brick';
  // The outer count runs along the axis whose steps are not shifted.
  const [size, length] = brick ? [h, w] : [w, h];
  const [lo, hi, from, to] = brick ? [box.y0, box.y1, target.y0, target.y1] : [box.x0, box.x1, target.x0, target.x1];
  const [lo2, hi2, from2, to2] = brick
    ? [box.x0, box.x1, target.x0, target.x1]
    : [box.y0, box.y1, target.y0, target.y1];
  const drift = repeat.kind === 'straight' ? 0 : f * length;
  for (let m = firstAbove(from - hi, size); m * size + lo < to; m++) {
    for (let n = firstAbove(from2 - hi2 - m * drift, length); n * length + m * drift + lo2 < to2; n++) {
      const step = brick ? { i: n, j: m } : { i: m, j: n };
      const v = latticePoint(lattice, step);
      const overlaps =
        box.x0 + v.x < target.x1 && box.x1 + v.x > target.x0 && box.y0 + v.y < target.y1 && box.y1 + v.y > target.y0;
      if (overlaps) steps.push(step);
    }
  }
  return steps;
}

/** The least whole number n with n·size >= above, with one to spare against rounding. */
function firstAbove(above: number, size: number): number {
  return Math.floor(above / size);
}

/** The step to the unit in which a place of the cloth lies (mm; the unit of step 0, 0 has its upper left at the origin). */
export function unitOf(lattice: Lattice, p: Point): LatticeStep {
  const { widthMm: w, heightMm: h, repeat } = lattice;
  const f = repeat.step.p / repeat.step.q;
  if (repeat.kind === 'brick') {
    const j = Math.floor(p.y / h);
    return { i: Math.floor((p.x - j * f * w) / w), j };
  }
  const i = Math.floor(p.x / w);
  return { i, j: Math.floor((p.y - (repeat.kind === 'drop' ? i * f * h : 0)) / h) };
}

/** The lattice point nearest to a vector (of several equally near ones the first found), and what is left over. */
export function nearestStep(lattice: Lattice, vector: Point): { step: LatticeStep; rest: Point } {
  const det = lattice.a.x * lattice.b.y - lattice.a.y * lattice.b.x;
  const i0 = Math.round((vector.x * lattice.b.y - vector.y * lattice.b.x) / det);
  const j0 = Math.round((lattice.a.x * vector.y - lattice.a.y * vector.x) / det);
  let best = { step: { i: i0, j: j0 }, rest: vector };
  let least = Infinity;
  for (let i = i0 - 1; i <= i0 + 1; i++) {
    for (let j = j0 - 1; j <= j0 + 1; j++) {
      const v = latticePoint(lattice, { i, j });
      const rest = { x: vector.x - v.x, y: vector.y - v.y };
      const distance = Math.hypot(rest.x, rest.y);
      if (distance < least) {
        least = distance;
        best = { step: { i, j }, rest };
      }
    }
  }
  return best;
}

/**
 * The shortest basis of a lattice (Lagrange and Gauss): `2|u·v| <= u·u <= v·v`. Vectors need not be reduced before; parallel ones throw.
 */
export function reduceBasis(a: Point, b: Point): { u: Point; v: Point } {
  if (a.x * b.y - a.y * b.x === 0) throw new RangeError('got two parallel vectors, expected a basis of the plane');
  let u = a;
  let v = b;
  for (;;) {
    if (dot(u, u) > dot(v, v)) [u, v] = [v, u];
    const m = Math.round(dot(u, v) / dot(u, u));
    if (m === 0) return { u, v };
    v = { x: v.x - m * u.x, y: v.y - m * u.y };
  }
}

/** How many lattice points lie within `radiusMm` of one of them, itself counted. */
export function pointsWithin(lattice: Lattice, radiusMm: number): number {
  const spot = { x0: 0, y0: 0, x1: 0, y1: 0 };
  const around = { x0: -radiusMm - 1, y0: -radiusMm - 1, x1: radiusMm + 1, y1: radiusMm + 1 };
  // Squares are compared with a slack of rounding only: 3-4-5 triangles must count.
  const limit = radiusMm * radiusMm * (1 + 1e-12);
  return stepsOnto(lattice, spot, around).filter((step) => {
    const v = latticePoint(lattice, step);
    return v.x * v.x + v.y * v.y <= limit;
  }).length;
}

/** The smallest rectangle of whole units that tiles the cloth straight: `q` units wide in a drop, `q` high in a brick. */
export function straightTile(lattice: Lattice): { widthMm: number; heightMm: number } {
  const { repeat, widthMm, heightMm } = lattice;
  if (repeat.kind === 'drop') return { widthMm: widthMm * repeat.step.q, heightMm };
  if (repeat.kind === 'brick') return { widthMm, heightMm: heightMm * repeat.step.q };
  return { widthMm, heightMm };
}
