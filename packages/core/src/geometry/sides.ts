import type { GridPath, GridPoint } from './grid.js';
import type { GridArea } from './polygons.js';

/** A stretch of an area's outline that lies on a straight line. Places along the line in grid units, `from < to`. */
export interface LineStretch {
  readonly from: LineEnd;
  readonly to: LineEnd;
  /** On which side of the line the area lies: towards smaller (`low`) or larger coordinates. */
  readonly side: 'low' | 'high';
}

/** An end of such a stretch: the corner on the line, and its neighbour on the outline that has left the line. */
export interface LineEnd {
  readonly at: number;
  readonly corner: GridPoint;
  readonly inner: GridPoint;
}

/**
 * The stretches of an area's outline on the line `axis = at`. With y down, outer rings turn clockwise as seen and the area lies to the
 * right hand of every side: going down, towards smaller x; going left, towards smaller y.
 */
export function stretchesOnLine(area: GridArea, axis: 'x' | 'y', at: number): LineStretch[] {
  const out: LineStretch[] = [];
  for (const ring of [area.outer, ...area.holes]) ringStretches(ring, axis, at, out);
  return out;
}

function ringStretches(ring: GridPath, axis: 'x' | 'y', at: number, out: LineStretch[]): void {
  const n = ring.length;
  const on = (k: number): boolean => ring[k % n][axis] === at;
  let start = 0;
  while (start < n && on(start)) start++;
  // A ring that lies on the line wholly has no area.
  if (start === n) return;
  const along = axis === 'x' ? 'y' : 'x';
  for (let i = 1; i <= n; i++) {
    const a = start + i;
    if (!on(a) || on(a - 1 + n)) continue;
    let b = a;
    while (on(b + 1)) b++;
    i += b - a;
    if (b === a) continue;
    const first = { at: ring[a % n][along], corner: ring[a % n], inner: ring[(a - 1 + n) % n] };
    const last = { at: ring[b % n][along], corner: ring[b % n], inner: ring[(b + 1) % n] };
    const growing = last.at > first.at;
    if (last.at === first.at) continue;
    // Down a vertical line the right hand is towards smaller x; right along a horizontal one it is towards larger y.
    const low = axis === 'x' ? growing : !growing;
    out.push({ from: growing ? first : last, to: growing ? last : first, side: low ? 'low' : 'high' });
  }
}
