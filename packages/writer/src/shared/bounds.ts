import type { Box, Contour, Drawing, Item } from '@okuri/core';
import { growBox, joinBoxes, sharedBox, transformBox } from '@okuri/core/inside';
import { layoutText } from '../text/layout.js';
import { groupItems } from './groups.js';

/** The sharpest mitred corner of a line, as a multiple of its width; the default of SVG 1.1, 11.4, used in every writer. */
export const MITER_LIMIT = 4;

/** Finds boxes of items and remembers those of groups. */
export interface Bounds {
  /** A box that holds all that the items draw (handles, mitres and letter heights taken in full); null for nothing. */
  readonly ofItems: (items: readonly Item[]) => Box | null;
  readonly ofGroup: (name: string) => Box | null;
}

/** Bounds over the groups of one drawing. Groups must be free of loops (see `groupOrder`). */
export function boundsOf(drawing: Drawing): Bounds {
  const known = new Map<string, Box | null>();
  const ofGroup = (name: string): Box | null => {
    const found = known.get(name);
    if (found !== undefined) return found;
    const box = ofItems(groupItems(drawing, name));
    known.set(name, box);
    return box;
  };
  const ofItems = (items: readonly Item[]): Box | null =>
    items.reduce<Box | null>((box, item) => joined(box, ofItem(item)), null);
  const ofItem = (item: Item): Box | null => {
    switch (item.kind) {
      case 'path':
        return grown(handlesBox(item.contours), item.line === undefined ? 0 : (item.line.widthMm / 2) * MITER_LIMIT);
      case 'text': {
        const { matrix, width } = layoutText(item);
        // Accents and descenders of the bundled faces stay within 1.3 em above and 0.6 em below the baseline.
        return transformBox(
          { x0: -item.sizeMm, y0: -1.3 * item.sizeMm, x1: width + item.sizeMm, y1: 0.6 * item.sizeMm },
          matrix,
        );
      }
      case 'clip':
        return common(handlesBox(item.contours), ofItems(item.items));
      case 'layer':
        return ofItems(item.items);
      case 'place': {
        const box = ofGroup(item.group);
        return box === null ? null : item.at.reduce<Box | null>((all, m) => joined(all, transformBox(box, m)), null);
      }
    }
  };
  return { ofItems, ofGroup };
}

/** What two boxes share; null where they share no area. */
export function common(a: Box | null, b: Box | null): Box | null {
  if (a === null || b === null) return null;
  return sharedBox(a, b);
}

function joined(a: Box | null, b: Box | null): Box | null {
  if (a === null) return b;
  if (b === null) return a;
  return joinBoxes(a, b);
}

function grown(box: Box | null, by: number): Box | null {
  return box === null ? null : growBox(box, by);
}

function handlesBox(contours: readonly Contour[]): Box | null {
  let x0 = Infinity;
  let y0 = Infinity;
  let x1 = -Infinity;
  let y1 = -Infinity;
  for (const { coords } of contours) {
    for (let k = 0; k + 1 < coords.length; k += 2) {
      if (coords[k] < x0) x0 = coords[k];
      if (coords[k] > x1) x1 = coords[k];
      if (coords[k + 1] < y0) y0 = coords[k + 1];
      if (coords[k + 1] > y1) y1 = coords[k + 1];
    }
  }
  return x0 <= x1 && y0 <= y1 ? { x0, y0, x1, y1 } : null;
}
