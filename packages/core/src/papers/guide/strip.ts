import { BODY_MM, type GuidePages, LINE_MM } from '../../draw/layout.js';
import { COLOURS } from '../../draw/palette.js';
import { wrapText } from '../../draw/text.js';
import { polyline } from '../../geometry/contour.js';
import { tickBox } from './tick-list.js';

const BOX_MM = 5;

/** The steps of the work side by side, each with a box to tick. */
export function workStrip(pages: GuidePages, steps: readonly string[]): void {
  const cell = pages.width / steps.length;
  const labels = steps.map((s) => wrapText(s, cell - 1, { sizeMm: BODY_MM, bold: true }, pages.font));
  const lines = Math.max(...labels.map((l) => l.length));
  const height = BOX_MM + 2 + lines * LINE_MM + 1;
  pages.need(height);
  const top = pages.y + 1;
  const y = top + BOX_MM / 2;
  steps.forEach((_, k) => {
    const x = pages.left + (k + 0.5) * cell;
    pages.add(...tickBox(x - BOX_MM / 2, top, { sideMm: BOX_MM }));
    if (k > 0) {
      const from = x - cell + BOX_MM / 2 + 1;
      const to = x - BOX_MM / 2 - 1;
      const arrow = [
        [
          { x: from, y },
          { x: to, y },
        ],
        [
          { x: to - 1.6, y: y - 1 },
          { x: to, y },
          { x: to - 1.6, y: y + 1 },
        ],
      ].map((points) => polyline(points, { closed: false }));
      pages.add({ kind: 'path', contours: arrow, line: { colour: COLOURS.black, widthMm: 0.25 } });
    }
    labels[k].forEach((text, n) => {
      const style = { sizeMm: BODY_MM, bold: true };
      pages.add({ ...pages.line(text, x, top + BOX_MM + 1 + (n + 0.8) * LINE_MM, style), anchor: 'middle' });
    });
  });
  pages.y += height;
}
