import { polyline } from '../geometry/contour.js';
import { BODY_MM } from './layout.js';
import { COLOURS } from './palette.js';
import { textWidthMm } from './text.js';
import type { FontMetrics, Item } from './types.js';

/** Lengths that a bar may stand for, mm of the sheet, longest first. */
const LENGTHS_MM = [50, 20, 10, 5, 2, 1] as const;
const TICK_MM = 1.6;
/** A bar up to this long stands beside the words, mm. */
export const SHORT_BAR_MM = 60;

/** The length that a bar shows, mm of the sheet: 50 or 20 where that is no longer than `roomMm` on the page, 50 only where it is short. */
export function barLength(roomMm: number, scale: number): number {
  const fits = (mm: number) => mm * scale <= (mm === 50 ? Math.min(roomMm, SHORT_BAR_MM) : roomMm);
  return LENGTHS_MM.find(fits) ?? LENGTHS_MM[LENGTHS_MM.length - 1];
}

/**
 * A bar that shows a round length of the sheet at `scale`: its right end at `right`, its line at `y` (page mm), its length written left of it. It is no longer
 * than `roomMm` on the page.
 */
export function scaleBar(
  { right, y, roomMm }: { right: number; y: number; roomMm: number },
  scale: number,
  font: FontMetrics,
): Item[] {
  const mm = barLength(roomMm, scale);
  const left = right - mm * scale;
  const stroke = (x0: number, y0: number, x1: number, y1: number) =>
    polyline(
      [
        { x: x0, y: y0 },
        { x: x1, y: y1 },
      ],
      { closed: false },
    );
  const text = `${mm} mm`;
  return [
    {
      kind: 'path',
      contours: [
        stroke(left, y, right, y),
        stroke(left, y - TICK_MM, left, y + TICK_MM),
        stroke(right, y - TICK_MM, right, y + TICK_MM),
      ],
      line: { colour: COLOURS.black, widthMm: 0.3, cap: 'butt' },
    },
    {
      kind: 'text',
      text,
      x: left - 2 - textWidthMm(text, { sizeMm: BODY_MM }, font),
      y: y + 1.2,
      sizeMm: BODY_MM,
      colour: COLOURS.black,
    },
  ];
}
