import { BODY_MM } from '../../draw/layout.js';
import { COLOURS, GREY, PAPER } from '../../draw/palette.js';
import { textWidthMm } from '../../draw/text.js';
import type { FontMetrics, Item } from '../../draw/types.js';
import { boxMiddle } from '../../geometry/boxes.js';
import { boxContour, circleContour, polyline } from '../../geometry/contour.js';
import type { Box, Point } from '../../geometry/types.js';
import type { Sheet } from '../../stencil/types.js';
import { holdLine, paperOutline } from '../sheet/cartoon.js';
import { type View, viewBox, viewContours, viewPoint } from '../sheet/view.js';
import { hatch } from '../sheet/zone-picture.js';

const LINE = { colour: COLOURS.black, widthMm: 0.35 } as const;
const ARROW_MM = 2.4;
const DOT_MM = 0.7;
/** Kept free below the picture for words, mm. */
const BELOW_MM = 10;
/** A design drawn smaller than this has no room for words, mm. */
const WORDS_FROM_MM = 28;

/** A little picture of a sheet in a box of the page: its clipped corner, where to begin, the paper's grain, the held margin, the dots. */
export function smallSheet(sheet: Sheet, box: Box, font: FontMetrics): Item[] {
  const scale = Math.min((box.x1 - box.x0) / sheet.widthMm, (box.y1 - box.y0 - BELOW_MM) / sheet.heightMm);
  const view: View = {
    window: { x0: 0, y0: 0, x1: sheet.widthMm, y1: sheet.heightMm },
    scale,
    at: { x: (box.x0 + box.x1 - scale * sheet.widthMm) / 2, y: box.y0 },
  };
  const field = viewBox(view, sheet.field);
  const roomy = field.x1 - field.x0 >= WORDS_FROM_MM && field.y1 - field.y0 >= WORDS_FROM_MM;
  const held = [sheet.heldRight, sheet.heldBottom].filter((b): b is Box => b !== null).map((b) => viewBox(view, b));
  return [
    { kind: 'path', contours: viewContours(view, [paperOutline(sheet)]), line: { ...LINE, widthMm: 0.5 }, fill: PAPER },
    { kind: 'path', contours: [boxContour(field)], line: { colour: GREY, widthMm: 0.2 } },
    ...held.map((b): Item => {
      const lines = { kind: 'path', contours: hatch(b), line: { colour: GREY, widthMm: 0.15 } } as const;
      return { kind: 'clip', contours: [boxContour(b)], items: [lines] };
    }),
    ...viewContours(view, holdLine(sheet)).map((c): Item => {
      return {
        kind: 'path',
        contours: [c],
        line: { colour: COLOURS.black, widthMm: 0.6, dashMm: [3, 1.2], cap: 'butt' },
      };
    }),
    ...sheet.dots.map((d): Item => {
      return { kind: 'path', contours: [circleContour(viewPoint(view, d.at), DOT_MM)], fill: COLOURS.black };
    }),
    ...(roomy ? [...grainArrow(sheet, field), ...beginMark(sheet, field, font)] : wordsBelow(sheet, box, view)),
  ];
}

/** What the picture would say, below a picture that is too small for it. */
function wordsBelow(sheet: Sheet, box: Box, view: View): Item[] {
  const { hand, grain } = sheet.practice;
  const y = view.at.y + view.scale * sheet.heightMm + 4.5;
  const middle = (box.x0 + box.x1) / 2;
  const runs = grain === null ? 'grain: ask' : `grain ${grain}`;
  return [
    word(`begin at the upper ${hand === 'right' ? 'left' : 'right'}`, { x: middle, y }),
    word(runs, { x: middle, y: y + 4.5 }),
  ];
}

function grainArrow(sheet: Sheet, field: Box): Item[] {
  const { grain } = sheet.practice;
  const middle = boxMiddle(field);
  if (grain === null) {
    return [word('grain: ask', { x: middle.x, y: middle.y + 8 })];
  }
  const upright = grain === 'upright';
  const half = 0.3 * (upright ? field.y1 - field.y0 : field.x1 - field.x0);
  const along = (u: number, v: number): Point =>
    upright ? { x: middle.x + v, y: middle.y + 4 + u } : { x: middle.x + u, y: middle.y + 6 + v };
  const head = (u: number, back: number) =>
    polyline([along(u + back, -ARROW_MM / 2), along(u, 0), along(u + back, ARROW_MM / 2)], { closed: false });
  const at = upright ? { x: middle.x + 7.5, y: middle.y + 5 } : { x: middle.x, y: middle.y + 11 };
  return [
    {
      kind: 'path',
      contours: [
        polyline([along(-half, 0), along(half, 0)], { closed: false }),
        head(-half, ARROW_MM),
        head(half, -ARROW_MM),
      ],
      line: LINE,
    },
    word('grain', at),
  ];
}

/** Where the first zone is, for the hand that holds the knife. */
function beginMark(sheet: Sheet, field: Box, font: FontMetrics): Item[] {
  const left = sheet.practice.hand === 'left';
  const text = 'begin';
  const width = textWidthMm(text, { sizeMm: BODY_MM, bold: true }, font);
  const x = left ? field.x1 - width / 2 - 8 : field.x0 + width / 2 + 3;
  const y = field.y0 + 6;
  const corner = left ? x + width / 2 + 1 : x - width / 2;
  const to = left ? corner - 9 : corner + 9;
  const back = left ? ARROW_MM : -ARROW_MM;
  const line = y + 2.6;
  return [
    word(text, { x, y }),
    {
      kind: 'path',
      contours: [
        polyline(
          [
            { x: corner, y: line },
            { x: to, y: line },
          ],
          { closed: false },
        ),
        polyline(
          [
            { x: to + back, y: line - ARROW_MM / 2 },
            { x: to, y: line },
            { x: to + back, y: line + ARROW_MM / 2 },
          ],
          { closed: false },
        ),
      ],
      line: LINE,
    },
  ];
}

function word(text: string, at: Point): Item {
  return { kind: 'text', text, x: at.x, y: at.y, sizeMm: BODY_MM, anchor: 'middle', bold: true, colour: COLOURS.black };
}
