import { lineStyle } from '../../draw/palette.js';
import type { Item } from '../../draw/types.js';
import { contoursBox, polyline } from '../../geometry/contour.js';
import type { Contour } from '../../geometry/types.js';
import type { SheetOpening } from '../../stencil/types.js';

/** Distance of the hatching's lines, mm on the page: far enough apart for a number to be read on it. */
const HATCH_MM = 2.2;

/** What of an opening counts as done once it is ticked off: its first cut, or its second where it has no first. */
export function doneContours({ done, firstCut, secondCut }: SheetOpening): readonly Contour[] {
  if (!done) return [];
  return firstCut.length > 0 ? firstCut : secondCut;
}

/** Slanting thin lines over the waste of what is done, one clipped item an opening. No done openings give nothing. */
export function doneHatching(openings: readonly SheetOpening[], scale: number): Item[] {
  const step = (HATCH_MM * Math.SQRT2) / scale;
  const line = lineStyle('done', { scale });
  return openings.flatMap((opening): Item[] => {
    const contours = doneContours(opening);
    const box = contoursBox(contours);
    if (box === null) return [];
    const { x0, y0, x1, y1 } = box;
    const lines: Contour[] = [];
    // Counted from the sheet's corner, so that neighbours' lines fall together.
    for (let sum = Math.ceil((x0 + y0) / step) * step; sum <= x1 + y1; sum += step) {
      // Where x + y = sum comes into the box and leaves it.
      const low = Math.max(x0, sum - y1);
      const high = Math.min(x1, sum - y0);
      const ends = [
        { x: high, y: sum - high },
        { x: low, y: sum - low },
      ];
      if (high > low) lines.push(polyline(ends, { closed: false }));
    }
    if (lines.length === 0) return [];
    return [{ kind: 'clip', contours, rule: 'nonzero', items: [{ kind: 'path', contours: lines, line }] }];
  });
}
