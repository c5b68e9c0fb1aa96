import type { GridArea } from './polygons.js';
import type { Point } from './types.js';

/**
 * A point inside an area (grid units): the middle of the widest stretch on a level line through it. The middle level first, then others,
 * until one gives a stretch; an area without an inside gives its first corner.
 */
export function insidePoint(area: GridArea): Point {
  let low = Infinity;
  let high = -Infinity;
  for (const p of area.outer) {
    if (p.y < low) low = p.y;
    if (p.y > high) high = p.y;
  }
  let best = { width: -1, x: area.outer[0].x, y: area.outer[0].y };
  for (const share of [0.5, 0.381, 0.618, 0.25, 0.75]) {
    // Off the grid's whole numbers, so that the line meets no corner.
    const y = Math.floor(low + share * (high - low)) + 0.5;
    const cuts: number[] = [];
    for (const ring of [area.outer, ...area.holes]) {
      let o = ring[ring.length - 1];
      for (const p of ring) {
        if (o.y > y !== p.y > y) cuts.push(o.x + ((y - o.y) * (p.x - o.x)) / (p.y - o.y));
        o = p;
      }
    }
    cuts.sort((a, b) => a - b);
    for (let k = 0; k + 1 < cuts.length; k += 2) {
      const width = cuts[k + 1] - cuts[k];
      if (width > best.width) best = { width, x: (cuts[k] + cuts[k + 1]) / 2, y };
    }
    if (best.width > 0 && share === 0.5) break;
  }
  return { x: best.x, y: best.y };
}
