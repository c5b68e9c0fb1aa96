import { ClearSpace, NO_OWNER } from './clear-space.js';
import { textTurnedBox } from './label-box.js';
import type { FontMetrics, Item } from './types.js';

/** Where the words of a drawing stand. */
export function wordSpace(items: readonly Item[], font: FontMetrics): ClearSpace {
  const space = new ClearSpace();
  const walk = (list: readonly Item[]): void => {
    for (const item of list) {
      if (item.kind === 'text') space.addTurnedBox(textTurnedBox(item, font), NO_OWNER);
      else if (item.kind === 'layer') walk(item.items);
    }
  };
  walk(items);
  return space;
}

/** Where the dots of a drawing are, with their rings and letters: its layer `dots`. */
export function dotSpace(items: readonly Item[], font: FontMetrics): ClearSpace {
  return drawnSpace(
    items.filter((item) => item.kind === 'layer' && item.id === 'dots'),
    font,
  );
}

/** Where lines, outlines and words of a drawing stand, so that more words can be kept clear of them. Placed groups are left out. */
export function drawnSpace(items: readonly Item[], font: FontMetrics): ClearSpace {
  const space = new ClearSpace();
  const walk = (list: readonly Item[]): void => {
    for (const item of list) {
      if (item.kind === 'path') space.addContours(item.contours, NO_OWNER);
      else if (item.kind === 'text') space.addTurnedBox(textTurnedBox(item, font), NO_OWNER);
      else if (item.kind === 'layer') walk(item.items);
      // What a clip holds is seen inside it only, and hatching bars no word.
      else if (item.kind === 'clip') space.addContours(item.contours, NO_OWNER);
    }
  };
  walk(items);
  space.seal();
  return space;
}
