import { GREY, lineStyle, RULE_GREY, ZONE_GREY } from '../../draw/palette.js';
import type { Item, LineStyle } from '../../draw/types.js';
import { boxesOverlap } from '../../geometry/boxes.js';
import { boxContour } from '../../geometry/contour.js';
import type { Sheet } from '../../stencil/types.js';
import { paperOutline } from './cartoon.js';
import { type View, viewContours, viewFrame } from './view.js';

/** What is cut, as pale as still shows: it is not what the picture is about. */
const QUIET_FILL = '#e0e0e0';
const QUIET_LINE: LineStyle = { colour: ZONE_GREY, widthMm: 0.12, join: 'round' };

/** A view of a sheet in which nothing but the openings is seen, palely, as the ground of marks. Page mm. */
export function quietSheet(sheet: Sheet, view: View): Item[] {
  const seen = sheet.openings.filter((o) => boxesOverlap(o.box, view.window));
  const openings = seen.map((o): Item => {
    const contours = viewContours(view, [...o.firstCut, ...o.secondCut]);
    return { kind: 'path', contours, fill: QUIET_FILL, line: QUIET_LINE };
  });
  const border = { ...lineStyle('border'), widthMm: 0.3, colour: GREY };
  const { window: w } = view;
  const whole = w.x0 <= 0 && w.y0 <= 0 && w.x1 >= sheet.widthMm && w.y1 >= sheet.heightMm;
  const frame = boxContour(viewFrame(view));
  const items: Item[] = [
    ...openings,
    {
      kind: 'path',
      contours: viewContours(view, [boxContour(sheet.field)]),
      line: { colour: RULE_GREY, widthMm: 0.2 },
    },
    { kind: 'path', contours: viewContours(view, [paperOutline(sheet)]), line: border },
  ];
  if (whole) return items;
  return [
    { kind: 'clip', contours: [frame], items },
    { kind: 'path', contours: [frame], line: { colour: RULE_GREY, widthMm: 0.2 } },
  ];
}
