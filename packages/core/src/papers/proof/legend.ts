import { BODY_MM, type GuidePages, LINE_MM } from '../../draw/layout.js';
import { COLOURS, lineStyle } from '../../draw/palette.js';
import { textWidthMm } from '../../draw/text.js';
import type { Item } from '../../draw/types.js';
import { boxContour } from '../../geometry/contour.js';
import { hatch } from '../sheet/zone-picture.js';

/** How a print is drawn over its plan. */
export const PRINT_TINT = '#dcdcdc';
export const PLAN_LINE = { colour: COLOURS.black, widthMm: 0.13, join: 'round' } as const;
export const MISSING_HATCH = { colour: COLOURS.vermillion, widthMm: 0.3 } as const;
export const EXTRA_FILL = COLOURS.blue;

const SAMPLE_MM = { width: 9, height: 3.4 } as const;
const GAP_MM = 6;

/** What the fills and lines of an overlay mean, on as many lines as it takes. */
export function printLegend(pages: GuidePages): void {
  const box = { x0: 0, y0: 0, x1: SAMPLE_MM.width, y1: SAMPLE_MM.height };
  const at = (x: number, y: number) => ({ x0: x, y0: y, x1: x + box.x1, y1: y + box.y1 });
  const entries: readonly { text: string; draw: (x: number, y: number) => Item[] }[] = [
    { text: 'printed', draw: (x, y) => [{ kind: 'path', contours: [boxContour(at(x, y))], fill: PRINT_TINT }] },
    { text: 'plan', draw: (x, y) => [{ kind: 'path', contours: [boxContour(at(x, y))], line: PLAN_LINE }] },
    {
      text: 'planned, not printed: hatched',
      draw: (x, y) => [
        {
          kind: 'clip',
          contours: [boxContour(at(x, y))],
          items: [{ kind: 'path', contours: hatch(at(x, y)), line: MISSING_HATCH }],
        },
        { kind: 'path', contours: [boxContour(at(x, y))], line: PLAN_LINE },
      ],
    },
    {
      text: 'printed, not planned: solid',
      draw: (x, y) => [{ kind: 'path', contours: [boxContour(at(x, y))], fill: EXTRA_FILL }],
    },
    {
      text: 'second cut: dotted',
      draw: (x, y) => [
        {
          kind: 'path',
          contours: [boxContour(at(x, y))],
          line: { ...lineStyle('second-cut'), widthMm: 0.25, colour: '#595959' },
        },
      ],
    },
  ];
  let x = pages.left;
  for (const { text, draw } of entries) {
    const wide = SAMPLE_MM.width + 1.5 + textWidthMm(text, { sizeMm: BODY_MM }, pages.font);
    if (x > pages.left && x + wide > pages.right) {
      x = pages.left;
      pages.y += LINE_MM + 0.6;
    }
    pages.add(
      ...draw(x, pages.y + 0.5),
      pages.line(text, x + SAMPLE_MM.width + 1.5, pages.y + 0.72 * LINE_MM, { sizeMm: BODY_MM }),
    );
    x += wide + GAP_MM;
  }
  pages.y += LINE_MM + 1.5;
}
