import { transformContour } from '../../geometry/contour.js';
import type { Box, Contour, Matrix, Point } from '../../geometry/types.js';

/** A part of a drawing as it stands on a page: `window` (drawing mm) seen at `scale`, its upper left corner at `at` (page mm). */
export interface View {
  readonly window: Box;
  readonly scale: number;
  readonly at: Point;
}

/** A name may poke out of a frame by this, mm on the page: rounding. */
export const FRAME_SLACK_MM = 0.01;

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
