import { type ClearSpace, NO_OWNER } from '../../draw/clear-space.js';
import { GREY } from '../../draw/palette.js';
import { textWidthMm } from '../../draw/text.js';
import type { FontMetrics, Item } from '../../draw/types.js';
import { boxOf, growBox } from '../../geometry/boxes.js';
import { polyline } from '../../geometry/contour.js';
import type { Point } from '../../geometry/types.js';
import type { Sheet } from '../../stencil/types.js';

const ARROW_MM = 36;
const HEAD_MM = 3;
const EM_MM = 3.2;
const GAP_MM = 1.5;
/** Between two places that are tried, mm. */
const TRY_MM = 5;

/**
 * An arrow with two heads along the paper's grain and the word for it, in the border beside the design: drawn where the drawing allows for paper that moves
 * by the grain. Nothing where it doesn't, or where no place is free. What is drawn is added to `space`.
 */
export function grainMark(sheet: Sheet, space: ClearSpace, font: FontMetrics): Item[] {
  const { register, practice, field } = sheet;
  if (!register.dry || practice.grain === null) return [];
  const upright = practice.grain === 'upright';
  const width = textWidthMm('grain', { sizeMm: EM_MM }, font);
  const [low, high] = upright ? [field.y0, field.y1 - ARROW_MM] : [field.x0, field.x1 - ARROW_MM];
  for (const share of [0.5, 0.65, 0.35]) {
    // In the left border for an upright grain, in the upper one for a level one.
    const side = share * (upright ? field.x0 : field.y0);
    for (let start = low; start <= high; start += TRY_MM) {
      const along = (u: number, v: number): Point =>
        upright ? { x: side + v, y: start + u } : { x: start + u, y: side + v };
      const at = upright
        ? { x: side + HEAD_MM / 2 + GAP_MM, y: start + ARROW_MM / 2 + EM_MM / 3 }
        : { x: start + ARROW_MM / 2 - width / 2, y: side - HEAD_MM / 2 - GAP_MM };
      const arrow = boxOf([along(0, -HEAD_MM / 2), along(ARROW_MM, HEAD_MM / 2)]);
      const word = { x0: at.x, y0: at.y - EM_MM, x1: at.x + width, y1: at.y + EM_MM / 4 };
      const boxes = [arrow, word].map((box) => growBox(box, 0.5));
      if (!boxes.every((box) => box.x0 > 0 && box.y0 > 0 && space.isClear(box))) continue;
      for (const box of boxes) space.addBox(box, NO_OWNER);
      const head = (u: number, back: number) =>
        polyline([along(u + back, -HEAD_MM / 2), along(u, 0), along(u + back, HEAD_MM / 2)], { closed: false });
      return [
        {
          kind: 'path',
          contours: [
            polyline([along(0, 0), along(ARROW_MM, 0)], { closed: false }),
            head(0, HEAD_MM),
            head(ARROW_MM, -HEAD_MM),
          ],
          line: { colour: GREY, widthMm: 0.35 },
        },
        { kind: 'text', text: 'grain', ...at, sizeMm: EM_MM, colour: GREY },
      ];
    }
  }
  return [];
}
