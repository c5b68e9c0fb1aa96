import type { GridPath, GridPoint } from './grid.js';

/**
 * The ring without its spurs: stretches that run out and back nearer to themselves than `within` (grid units), be they slits of an opening or of paper. No blade can follow
 * them, and on paper they are a line that leads nowhere. Corners that are `fixed` stay, and so do the marks of all others. Fewer than three corners are left of a ring
 * that is nowhere wider.
 */
export function withoutSpurs(ring: GridPath, within: number, fixed: (p: GridPoint) => boolean): GridPath {
  const kept = [...ring];
  let settled = 0;
  for (let k = 0; kept.length > 2 && settled < kept.length; ) {
    const n = kept.length;
    k %= n;
    const [a, b, c] = [kept[(k + n - 1) % n], kept[k], kept[(k + 1) % n]];
    if (!isTip(a, b, c, within) || fixed(b)) {
      k++;
      settled++;
      continue;
    }
    kept.splice(k, 1);
    // What was before and after it may be a tip now.
    k = (k + kept.length - 2) % kept.length;
    settled = 0;
  }
  return kept.length === ring.length ? ring : kept;
}

/** Whether the way `a → b → c` turns back in `b`, and the nearer of its ends lies beside the other side. */
function isTip(a: GridPoint, b: GridPoint, c: GridPoint, within: number): boolean {
  const [ax, ay, cx, cy] = [a.x - b.x, a.y - b.y, c.x - b.x, c.y - b.y];
  if (ax * cx + ay * cy <= 0) return false;
  const longer = Math.max(Math.hypot(ax, ay), Math.hypot(cx, cy));
  return Math.abs(ax * cy - ay * cx) <= within * longer;
}
