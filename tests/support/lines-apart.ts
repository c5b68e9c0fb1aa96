import type { Contour, Point } from '@okuri/core';
import { evaluateCubic } from '../../packages/core/src/geometry/curve.js';

/** Places on outlines lie at most this far apart, mm. */
const STEP_MM = 0.25;
/** Cells into which sides are sorted, mm. */
const CELL_MM = 1;

/**
 * How far two sets of outlines lie apart at most, mm: of every place on one the distance to the nearest place on the other, both ways (the
 * Hausdorff distance, sampled). `cap` where nothing lies nearer than that.
 */
export function farthestApart(
  a: readonly Contour[],
  b: readonly Contour[],
  { cap = 2 }: { cap?: number } = {},
): number {
  const [mine, theirs] = [a.map(sampled), b.map(sampled)];
  return Math.max(0, farthest(mine, theirs, cap), farthest(theirs, mine, cap));
}

function sampled({ coords }: Contour): Point[] {
  const points: Point[] = [];
  for (let o = 0; o + 7 < coords.length; o += 6) {
    const [dx, dy] = [2, 4, 6]
      .map((k) => Math.hypot(coords[o + k] - coords[o + k - 2], coords[o + k + 1] - coords[o + k - 1]))
      .reduce(([sum], v) => [sum + v, 0], [0, 0]);
    const n = Math.max(4, Math.ceil((dx + dy) / STEP_MM));
    for (let i = 0; i < n; i++) points.push(evaluateCubic(coords, o, i / n));
  }
  return points;
}

function farthest(from: readonly Point[][], to: readonly Point[][], cap: number): number {
  const cells = new Map<string, [Point, Point][]>();
  const key = (x: number, y: number): string => `${Math.floor(x / CELL_MM)} ${Math.floor(y / CELL_MM)}`;
  for (const ring of to) {
    ring.forEach((p, k) => {
      const q = ring[(k + 1) % ring.length];
      // A straight side may be longer than a cell: it is entered in every cell that it passes.
      const n = Math.max(1, Math.ceil(Math.hypot(q.x - p.x, q.y - p.y) / (CELL_MM / 2)));
      const entered = new Set<string>();
      for (let i = 0; i <= n; i++) entered.add(key(p.x + (i / n) * (q.x - p.x), p.y + (i / n) * (q.y - p.y)));
      for (const cell of entered) cells.set(cell, [...(cells.get(cell) ?? []), [p, q]]);
    });
  }
  let most = 0;
  for (const p of from.flat()) {
    let best = cap;
    for (let dy = -CELL_MM; dy <= CELL_MM; dy += CELL_MM) {
      for (let dx = -CELL_MM; dx <= CELL_MM; dx += CELL_MM) {
        for (const [a, b] of cells.get(key(p.x + dx, p.y + dy)) ?? []) best = Math.min(best, besideSide(p, a, b));
      }
    }
    most = Math.max(most, best);
  }
  return most;
}

function besideSide(p: Point, a: Point, b: Point): number {
  const [dx, dy] = [b.x - a.x, b.y - a.y];
  const length = dx * dx + dy * dy;
  const t = length === 0 ? 0 : Math.min(1, Math.max(0, ((p.x - a.x) * dx + (p.y - a.y) * dy) / length));
  return Math.hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
}
