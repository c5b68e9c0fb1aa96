import { COLOURS } from '../../draw/palette.js';
import type { Colour, Item } from '../../draw/types.js';
import { boxContour, circleContour, polyline } from '../../geometry/contour.js';
import type { Box, Contour } from '../../geometry/types.js';

/** How a pass is shown: by its hatching first, which prints in black and white, then by its colour. */
interface PassStyle {
  readonly colour: Colour;
  readonly tint: Colour;
  readonly hatch: 'none' | 'falling' | 'level' | 'points' | 'upright' | 'rising' | 'net';
}

const PASS_STYLES: readonly PassStyle[] = [
  { colour: COLOURS.black, tint: '#ffffff', hatch: 'none' },
  { colour: COLOURS.blue, tint: '#e3eef5', hatch: 'falling' },
  { colour: COLOURS.vermillion, tint: '#faeadf', hatch: 'level' },
  { colour: COLOURS.green, tint: '#e3f2ec', hatch: 'points' },
  { colour: COLOURS.purple, tint: '#f7ecf2', hatch: 'upright' },
  { colour: COLOURS.black, tint: '#f4f4f4', hatch: 'rising' },
  { colour: COLOURS.blue, tint: '#eef4f8', hatch: 'net' },
];

/** Distance of hatching lines, and their width, page mm. */
const HATCH_MM = 2.4;
const LINE_MM = 0.15;
const POINT_MM = 0.28;

/** Later passes begin again with the first hatching: their numbers tell them apart. */
export const PASS_STYLES_COUNT = PASS_STYLES.length;

/** The ground of a placement of a pass (from 1) in a box of the page: tint and hatching. */
export function passGround(pass: number, box: Box): Item[] {
  const { colour, tint, hatch } = PASS_STYLES[(pass - 1) % PASS_STYLES.length];
  const ground: Item = { kind: 'path', contours: [boxContour(box)], fill: tint };
  if (hatch === 'none') return [ground];
  if (hatch === 'points') return [ground, { kind: 'path', contours: points(box), fill: colour }];
  const contours = hatch === 'net' ? [...lines('falling', box), ...lines('rising', box)] : lines(hatch, box);
  return [ground, { kind: 'path', contours, line: { colour, widthMm: LINE_MM, cap: 'butt' } }];
}

function points({ x0, y0, x1, y1 }: Box): Contour[] {
  const found: Contour[] = [];
  for (let y = y0 + HATCH_MM / 2, row = 0; y < y1; y += HATCH_MM * 0.8, row++) {
    for (let x = x0 + (row % 2 === 0 ? HATCH_MM / 2 : HATCH_MM); x < x1 - POINT_MM; x += HATCH_MM) {
      found.push(circleContour({ x, y }, POINT_MM));
    }
  }
  return found;
}

function lines(hatch: 'falling' | 'rising' | 'level' | 'upright', { x0, y0, x1, y1 }: Box): Contour[] {
  const [w, h] = [x1 - x0, y1 - y0];
  const found: Contour[] = [];
  const line = (ax: number, ay: number, bx: number, by: number): void => {
    found.push(
      polyline(
        [
          { x: ax, y: ay },
          { x: bx, y: by },
        ],
        { closed: false },
      ),
    );
  };
  if (hatch === 'level') for (let y = HATCH_MM / 2; y < h; y += HATCH_MM) line(x0, y0 + y, x1, y0 + y);
  if (hatch === 'upright') for (let x = HATCH_MM / 2; x < w; x += HATCH_MM) line(x0 + x, y0, x0 + x, y1);
  if (hatch === 'falling' || hatch === 'rising') {
    // Each runs from the left or the lower side up to the upper or the right side; a falling one is its mirror image.
    for (let t = HATCH_MM; t < w + h; t += HATCH_MM * Math.SQRT2) {
      const [ax, ay] = t <= h ? [0, t] : [t - h, h];
      const [bx, by] = t <= w ? [t, 0] : [w, t - w];
      if (hatch === 'rising') line(x0 + ax, y0 + ay, x0 + bx, y0 + by);
      else line(x1 - ax, y0 + ay, x1 - bx, y0 + by);
    }
  }
  return found;
}
