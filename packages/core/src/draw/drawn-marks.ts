import { contoursBox } from '../geometry/contour.js';
import { insideContours } from '../geometry/point-tests.js';
import type { Box, Contour } from '../geometry/types.js';
import { PAPER } from './palette.js';
import type { Item } from './types.js';

/** What is to be seen of a drawing, prepared for asking which parts of it are blank. */
export interface DrawnMarks {
  /** Four numbers a piece of outline: its control points' box. */
  readonly outlines: Float64Array;
  readonly fills: readonly { readonly contours: readonly Contour[]; readonly box: Box }[];
  /** Where texts are anchored. */
  readonly texts: readonly { readonly x: number; readonly y: number }[];
}

/** Collects what can be seen of items: outlines, fills that are not paper-white, texts. Throws a `RangeError` for placed groups. */
export function drawnMarks(items: readonly Item[]): DrawnMarks {
  const boxes: number[] = [];
  const fills: { contours: readonly Contour[]; box: Box }[] = [];
  const texts: { x: number; y: number }[] = [];
  const walk = (list: readonly Item[]): void => {
    for (const item of list) {
      if (item.kind === 'clip' || item.kind === 'layer') walk(item.items);
      else if (item.kind === 'text') texts.push({ x: item.x, y: item.y });
      else if (item.kind === 'place') throw new RangeError(`got a placed group "${item.group}", expected its items`);
      else {
        const filled = item.fill !== undefined && item.fill !== PAPER;
        if (!filled && (item.line === undefined || item.line.colour === PAPER)) continue;
        for (const contour of item.contours) pushBoxes(contour, boxes);
        const box = filled ? contoursBox(item.contours) : null;
        if (box !== null) fills.push({ contours: item.contours, box });
      }
    }
  };
  walk(items);
  return { outlines: Float64Array.from(boxes), fills, texts };
}

/** True where a window shows nothing: no outline passes it (to its control points' boxes), no text begins in it, and no fill covers it. */
export function isBlank({ outlines, fills, texts }: DrawnMarks, window: Box): boolean {
  const { x0, y0, x1, y1 } = window;
  for (let k = 0; k < outlines.length; k += 4) {
    if (outlines[k] <= x1 && outlines[k + 2] >= x0 && outlines[k + 1] <= y1 && outlines[k + 3] >= y0) return false;
  }
  if (texts.some(({ x, y }) => x >= x0 && x <= x1 && y >= y0 && y <= y1)) return false;
  // No outline passes, so one point tells for the whole window.
  const middle = { x: (x0 + x1) / 2, y: (y0 + y1) / 2 };
  return !fills.some(
    ({ contours, box }) =>
      box.x0 < middle.x &&
      box.x1 > middle.x &&
      box.y0 < middle.y &&
      box.y1 > middle.y &&
      insideContours(contours, middle),
  );
}

function pushBoxes({ coords }: Contour, boxes: number[]): void {
  for (let k = 0; k + 7 < coords.length; k += 6) {
    const [ax, ay, bx, by, cx, cy, dx, dy] = coords.subarray(k, k + 8);
    boxes.push(Math.min(ax, bx, cx, dx), Math.min(ay, by, cy, dy), Math.max(ax, bx, cx, dx), Math.max(ay, by, cy, dy));
  }
}
