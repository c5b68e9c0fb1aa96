import { emOfCap, wordItem } from '../../draw/label-box.js';
import type { GuidePages } from '../../draw/layout.js';
import { COLOURS, PAPER } from '../../draw/palette.js';
import { textWidthMm } from '../../draw/text.js';
import type { FontMetrics, Item } from '../../draw/types.js';
import { boxMiddle, joinBoxes } from '../../geometry/boxes.js';
import { boxContour } from '../../geometry/contour.js';
import type { Box } from '../../geometry/types.js';
import type { PagePlan } from '../../pages/types.js';
import type { Sheet } from '../../stencil/types.js';
import type { CutStrip } from '../sheet/cut-strip.js';
import { quietSheet } from '../sheet/quiet-sheet.js';
import { type View, viewBox } from '../sheet/view.js';

const HEIGHT_MM = 80;
const NAME_CAP_MM = 3;
const EDGE = { colour: COLOURS.black, widthMm: 0.35 } as const;

/** The whole sheet, small, with the pages of its strips where they lie. */
export function stripMap(
  pages: GuidePages,
  sheet: Sheet,
  laid: readonly { readonly strip: CutStrip; readonly plan: PagePlan }[],
): void {
  const around = laid.reduce((b, { strip }) => joinBoxes(b, strip.box), {
    x0: 0,
    y0: 0,
    x1: sheet.widthMm,
    y1: sheet.heightMm,
  });
  const scale = Math.min(pages.width / (around.x1 - around.x0), HEIGHT_MM / (around.y1 - around.y0));
  const width = scale * (around.x1 - around.x0);
  const view: View = { window: around, scale, at: { x: pages.left + (pages.width - width) / 2, y: pages.y } };
  const ground: View = {
    window: { x0: 0, y0: 0, x1: sheet.widthMm, y1: sheet.heightMm },
    scale,
    at: { x: view.at.x - scale * around.x0, y: view.at.y - scale * around.y0 },
  };
  pages.add(...quietSheet(sheet, ground));
  for (const { strip, plan } of laid) {
    const { pages: own } = plan;
    own.forEach((page, k) => {
      // Where the next page's trimmed edge comes to lie this one ends.
      const next = own[k + 1]?.windowMm;
      const { windowMm: w } = page;
      const cell = {
        ...w,
        ...(next && next.y0 > w.y0 && { y1: next.y0 }),
        ...(next && next.x0 > w.x0 && { x1: next.x0 }),
      };
      const { x0, y0 } = strip.box;
      const box = viewBox(view, { x0: cell.x0 + x0, y0: cell.y0 + y0, x1: cell.x1 + x0, y1: cell.y1 + y0 });
      pages.add({ kind: 'path', contours: [boxContour(box)], line: EDGE }, ...pageName(page.name, box, pages.font));
    });
  }
  pages.y += scale * (around.y1 - around.y0) + 2;
}

/** On white, upright in its cell. */
function pageName(text: string, box: Box, font: FontMetrics): Item[] {
  const em = emOfCap(NAME_CAP_MM, font);
  const at = boxMiddle(box);
  const tall = box.y1 - box.y0 > box.x1 - box.x0;
  const half = textWidthMm(text, { sizeMm: em, bold: true }, font) / 2 + 0.7;
  const [hx, hy] = tall ? [NAME_CAP_MM / 2 + 0.7, half] : [half, NAME_CAP_MM / 2 + 0.7];
  return [
    {
      kind: 'path',
      contours: [boxContour({ x0: at.x - hx, y0: at.y - hy, x1: at.x + hx, y1: at.y + hy })],
      fill: PAPER,
    },
    wordItem(at, { text, em, bold: true, ...(tall && { turn: -90 }) }, { font, colour: COLOURS.black }),
  ];
}
