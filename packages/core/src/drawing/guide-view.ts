import { transformContour } from '../geometry/contour.js';
import type { Box, Contour, Matrix, Point } from '../geometry/types.js';

/** A part of a drawing as it stands on a page: `window` (drawing mm) seen at `scale`, its upper left corner at `at` (page mm). */
export interface View {
  readonly window: Box;
  readonly scale: number;
  readonly at: Point;
}

/** From the drawing to the page. */
export function viewMatrix({ window, scale, at }: View): Matrix {
  return [scale, 0, 0, scale, at.x - scale * window.x0, at.y - scale * window.y0];
}

export function viewPoint(view: View, p: Point): Point {
  const [s, , , , e, f] = viewMatrix(view);
  return { x: s * p.x + e, y: s * p.y + f };
}

export function viewContours(view: View, contours: readonly Contour[]): Contour[] {
  const m = viewMatrix(view);
  return contours.map((c) => transformContour(c, m));
}

/** A box of the drawing, on the page. */
export function viewBox(view: View, box: Box): Box {
  const a = viewPoint(view, { x: box.x0, y: box.y0 });
  const b = viewPoint(view, { x: box.x1, y: box.y1 });
  return { x0: a.x, y0: a.y, x1: b.x, y1: b.y };
}

/** What of the page the view takes up. */
export function viewFrame(view: View): Box {
  return viewBox(view, view.window);
}

/** True where two boxes share an area. */
export function boxesMeet(a: Box, b: Box): boolean {
  return a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1;
}

/** True where `inner` lies within `outer`, to a slack in mm. */
export function boxWithin(inner: Box, outer: Box, slackMm = 0.01): boolean {
  return (
    inner.x0 >= outer.x0 - slackMm &&
    inner.y0 >= outer.y0 - slackMm &&
    inner.x1 <= outer.x1 + slackMm &&
    inner.y1 <= outer.y1 + slackMm
  );
}

/** The smallest box around boxes; null for none. */
export function boxAround(boxes: readonly Box[]): Box | null {
  if (boxes.length === 0) return null;
  return boxes.reduce((a, b) => ({
    x0: Math.min(a.x0, b.x0),
    y0: Math.min(a.y0, b.y0),
    x1: Math.max(a.x1, b.x1),
    y1: Math.max(a.y1, b.y1),
  }));
}

/** What two boxes share; null where that is nothing. */
export function boxShared(a: Box, b: Box): Box | null {
  const box = {
    x0: Math.max(a.x0, b.x0),
    y0: Math.max(a.y0, b.y0),
    x1: Math.min(a.x1, b.x1),
    y1: Math.min(a.y1, b.y1),
  };
  return box.x0 < box.x1 && box.y0 < box.y1 ? box : null;
}

const TIMES: Readonly<Record<number, string>> = {
  1.5: 'one and a half times',
  2: 'twice',
  3: 'three times',
  4: 'four times',
  5: 'five times',
  6: 'six times',
  8: 'eight times',
  10: 'ten times',
};

/** `true size`, `three times true size`, `1 : 2.5, smaller than true size`. */
export function scaleWords(scale: number): string {
  if (scale === 1) return 'true size';
  if (scale > 1) return `${TIMES[scale] ?? `${Number(scale.toFixed(2))} times`} true size`;
  return `1 : ${Number((1 / scale).toFixed(2))}, smaller than true size`;
}
