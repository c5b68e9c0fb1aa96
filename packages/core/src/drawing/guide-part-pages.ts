import { boxContour } from '../geometry/contour.js';
import type { Sheet } from '../stencil/types.js';
import { drawCartoon } from './cartoon.js';
import type { GuidePages } from './guide-layout.js';
import { type Parts, partName, partWindow } from './guide-parts.js';
import { LEADER_REACH_MM, missingWords, type PictureOptions, scaleWords } from './guide-picture.js';
import { GREY } from './palette.js';
import type { Item } from './types.js';

/** A page for each part of the sheet, with numbers. Returns the items of the group that all of them place. */
export function partPages(
  pages: GuidePages,
  sheet: Sheet,
  parts: Parts,
  { font, group }: PictureOptions,
): readonly Item[] {
  const { scale } = parts;
  const { layers, missingNumbers } = drawCartoon(sheet, { font, scale, leaderReachMm: 2 * LEADER_REACH_MM });
  parts.rows.forEach((_, row) => {
    parts.columns.forEach((__, column) => {
      pages.newPage();
      pages.heading(`Part ${partName(row, column)} of the sheet`);
      const window = partWindow(parts, { row, column }, sheet);
      const [x, y] = [pages.left - scale * window.x0, pages.y - scale * window.y0];
      const frame = boxContour({
        x0: x + scale * window.x0,
        y0: y + scale * window.y0,
        x1: x + scale * window.x1,
        y1: y + scale * window.y1,
      });
      pages.add(
        { kind: 'clip', contours: [frame], items: [{ kind: 'place', group, at: [[scale, 0, 0, scale, x, y]] }] },
        { kind: 'path', contours: [frame], line: { colour: GREY, widthMm: 0.2, dashMm: [1, 1] } },
      );
      pages.y += scale * (window.y1 - window.y0) + 1;
      pages.paragraph({
        text: `Drawn at ${scaleWords(scale)}, with a little of its neighbours. Numbers in brackets are second cut only.`,
      });
      const last = row === parts.rows.length - 1 && column === parts.columns.length - 1;
      if (last && missingNumbers.length > 0) {
        pages.paragraph({ text: missingWords(missingNumbers, sheet.openings.length) });
      }
    });
  });
  return layers;
}
