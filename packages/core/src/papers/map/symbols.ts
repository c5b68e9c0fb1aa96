import { COLOURS, GREY } from '../../draw/palette.js';
import type { LineStyle } from '../../draw/types.js';
import { polyline } from '../../geometry/contour.js';
import type { Contour, Point } from '../../geometry/types.js';

/** Lines of the map, page mm. Each has its own dashes, so that it can be told without its colour. */
export const MAP_LINES = {
  cloth: { colour: COLOURS.black, widthMm: 0.7, join: 'miter' },
  usable: { colour: GREY, widthMm: 0.25, dashMm: [0.4, 0.8], cap: 'butt' },
  placement: { colour: COLOURS.black, widthMm: 0.25, join: 'miter' },
  beyond: { colour: GREY, widthMm: 0.2, dashMm: [1.4, 1], cap: 'butt' },
  mask: { colour: COLOURS.vermillion, widthMm: 0.6, dashMm: [5, 1.6], cap: 'butt' },
  ground: { colour: COLOURS.blue, widthMm: 0.7, dashMm: [7, 1.2, 0.7, 1.2], cap: 'butt' },
  mark: { colour: COLOURS.black, widthMm: 0.25, cap: 'butt' },
  cut: { colour: GREY, widthMm: 0.2, dashMm: [3, 1, 0.5, 1], cap: 'butt' },
} as const satisfies Record<string, LineStyle>;

/** The edge of the cloth is drawn just outside of it, so that it is seen beside what ends there, page mm. */
export const EDGE_OUT_MM = 0.75;

/** Cloth that is not printed. */
export const UNPRINTED_TINT = '#d0d0d0';

/** Under a mask beyond the cloth. */
export const MASK_TINT = '#ededed';

/** Radius of a check mark's ring, page mm. */
export const MARK_MM = 1;

/** The cross of a check mark; its ring is a circle of `MARK_MM`. */
export function markCross({ x, y }: Point): Contour[] {
  const r = MARK_MM * 1.6;
  const line = (ax: number, ay: number, bx: number, by: number): Contour =>
    polyline(
      [
        { x: ax, y: ay },
        { x: bx, y: by },
      ],
      { closed: false },
    );
  return [line(x - r, y, x + r, y), line(x, y - r, x, y + r)];
}

/** A straight line. */
export function segment(a: Point, b: Point): Contour {
  return polyline([a, b], { closed: false });
}
