import type { Item } from '../draw/types.js';
import type { Contour } from '../geometry/types.js';

/** Layers of a cutting drawing, and of the drawing that print pages share, whose lines are cut. */
const CUT_LAYERS = new Set(['first-cut', 'second-cut']);

/** All lines of a display list that tell where to cut, in its own mm: of the first cut and of the second, cut already or not. */
export function drawnCuts(items: readonly Item[]): Contour[] {
  return items.flatMap((item): Contour[] => {
    if (item.kind === 'layer') return CUT_LAYERS.has(item.id) ? linesOf(item.items) : drawnCuts(item.items);
    return item.kind === 'clip' ? drawnCuts(item.items) : [];
  });
}

function linesOf(items: readonly Item[]): Contour[] {
  return items.flatMap((item): Contour[] => {
    if (item.kind === 'path') return item.line ? [...item.contours] : [];
    return item.kind === 'layer' || item.kind === 'clip' ? linesOf(item.items) : [];
  });
}
