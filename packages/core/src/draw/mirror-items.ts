import { transformContour } from '../geometry/contour.js';
import type { Matrix } from '../geometry/types.js';
import type { Item, TextItem } from './types.js';

/**
 * Artwork that is `widthMm` wide as its mirror image, left for right. Words stay readable: they take the mirrored place, not the
 * mirrored letters. Throws a `RangeError` for placed groups, whose content is not at hand.
 */
export function mirrorItems(items: readonly Item[], widthMm: number): Item[] {
  const flip: Matrix = [-1, 0, 0, 1, widthMm, 0];
  return items.map((item) => mirrorItem(item, flip, widthMm));
}

function mirrorItem(item: Item, flip: Matrix, widthMm: number): Item {
  switch (item.kind) {
    case 'path':
      return { ...item, contours: item.contours.map((contour) => transformContour(contour, flip)) };
    case 'text':
      return mirrorText(item, widthMm);
    case 'clip':
      return {
        ...item,
        contours: item.contours.map((contour) => transformContour(contour, flip)),
        items: mirrorItems(item.items, widthMm),
      };
    case 'layer':
      return { ...item, items: mirrorItems(item.items, widthMm) };
    case 'place':
      throw new RangeError(`got a placed group "${item.group}" to mirror, expected its items`);
  }
}

/** Run backwards from the mirrored anchor, the text covers the mirrored place on the same side of its baseline. */
function mirrorText(item: TextItem, widthMm: number): TextItem {
  const swapped = { start: 'end', middle: 'middle', end: 'start' } as const;
  return {
    ...item,
    x: widthMm - item.x,
    anchor: swapped[item.anchor ?? 'start'],
    ...(item.turn !== undefined && { turn: 0 - item.turn }),
  };
}
