import type { GridPath, GridPoint } from '../geometry/grid.js';

/** The line up to which the first cut goes, in grid units: along the bottom margin and, where that is held too, up along the right one. */
export interface HoldLine {
  readonly right: number | null;
  readonly bottom: number;
}

/** A stretch of a ring on the hold line: corners `from` … `to` in the ring's own order, at least two. */
export interface LineRun {
  readonly nodes: readonly GridPoint[];
}

/** How far before the line a place lies, grid units; below 0 past it. */
export function beforeLine(p: GridPoint, line: HoldLine): number {
  const up = line.bottom - p.y;
  return line.right === null ? up : Math.min(up, line.right - p.x);
}

/** How far before the line the side `p→q` comes: inside the line's corner that may be more than at both of its ends. Grid units. */
export function farthestOnSide(p: GridPoint, q: GridPoint, line: HoldLine): number {
  const ends = Math.max(beforeLine(p, line), beforeLine(q, line));
  if (line.right === null) return ends;
  const [a, b] = [line.right - p.x - (line.bottom - p.y), line.right - q.x - (line.bottom - q.y)];
  if (a * b >= 0) return ends;
  const t = a / (a - b);
  return Math.max(ends, beforeLine({ x: p.x + t * (q.x - p.x), y: p.y + t * (q.y - p.y) }, line));
}

/** How far past the line a place lies, grid units; 0 before it. */
export function pastLine(p: GridPoint, line: HoldLine): number {
  const down = Math.max(0, p.y - line.bottom);
  return line.right === null ? down : Math.hypot(down, Math.max(0, p.x - line.right));
}

/** Whether the side `p→q` runs along the line; an edge of the artwork that lies there may take it on past the line's corner. */
function sideOnLine(p: GridPoint, q: GridPoint, { right, bottom }: HoldLine): boolean {
  if (p.y === bottom && q.y === bottom) return right === null || Math.min(p.x, q.x) < right;
  return right !== null && p.x === right && q.x === right && Math.min(p.y, q.y) < bottom;
}

/** The stretches of a ring on the line, in the ring's order. A ring that lies on it wholly has none. */
export function runsOnLine(ring: GridPath, line: HoldLine): LineRun[] {
  const n = ring.length;
  const on = (k: number): boolean => sideOnLine(ring[k % n], ring[(k + 1) % n], line);
  let start = 0;
  while (start < n && on(start)) start++;
  if (start === n) return [];
  const runs: LineRun[] = [];
  for (let k = start + 1; k < start + n; k++) {
    if (!on(k)) continue;
    const nodes = [ring[k % n]];
    while (on(k)) nodes.push(ring[++k % n]);
    runs.push({ nodes });
  }
  return runs;
}
