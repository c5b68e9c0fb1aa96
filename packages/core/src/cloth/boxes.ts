import type { Box } from '../geometry/types.js';

/** The area of a box. */
export function boxArea(box: Box): number {
  return (box.x1 - box.x0) * (box.y1 - box.y0);
}

/** The least box around two. */
export function joined(a: Box, b: Box): Box {
  return {
    x0: Math.min(a.x0, b.x0),
    y0: Math.min(a.y0, b.y0),
    x1: Math.max(a.x1, b.x1),
    y1: Math.max(a.y1, b.y1),
  };
}
