import type { GridPath, GridPoint } from './grid.js';

/**
 * The ring without hairpins: stretches that run out along a straight line and back on themselves. They hold no area, and the polygon engine
 * may lose its way at their turning points. Corners that stay keep their marks. Fewer than three corners are left of a ring without an inside.
 */
export function withoutHairpins(ring: GridPath): GridPath {
  const kept: GridPoint[] = [];
  for (const p of ring) {
    settleEnd(kept, p);
    const last = kept[kept.length - 1];
    if (!last || last.x !== p.x || last.y !== p.y) kept.push(p);
  }
  // Round the ring's start: its two ends are each other's neighbours.
  let first = 0;
  while (kept.length - first > 2) {
    const [a, b] = [kept[first], kept[first + 1]];
    const [z, y] = [kept[kept.length - 1], kept[kept.length - 2]];
    if ((z.x === a.x && z.y === a.y) || turnsBack(y, z, a)) kept.pop();
    else if (turnsBack(z, a, b)) first++;
    else break;
  }
  return first === 0 ? kept : kept.slice(first);
}

/** Takes off the last corners for as long as the way to `p` would turn back on itself there. */
function settleEnd(kept: GridPoint[], p: GridPoint): void {
  while (kept.length > 1 && turnsBack(kept[kept.length - 2], kept[kept.length - 1], p)) kept.pop();
}

/** Whether the way `a → b → c` turns back on itself in `b`. Sides are far below 2^26 grid units (6.7 m), so the products are exact. */
function turnsBack(a: GridPoint, b: GridPoint, c: GridPoint): boolean {
  const [ax, ay, cx, cy] = [b.x - a.x, b.y - a.y, c.x - b.x, c.y - b.y];
  return ax * cy === ay * cx && ax * cx + ay * cy < 0;
}
