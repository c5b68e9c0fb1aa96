import { type Box, boxContour, contoursBox, type Drawing, type Item, type Page, type PlaceItem } from '@okuri/core';
import { contourArea } from '@okuri/core/inside';
import { common } from '../shared/bounds.js';

/** The repeated part of a page: what lies under it, the copies, and what lies over it. */
export interface TiledPage {
  readonly page: Page;
  readonly under: readonly Item[];
  readonly place: PlaceItem & { readonly tile: Box };
  /** Where the copies are seen, mm: the page, within all clips around them. */
  readonly window: Box;
  readonly over: readonly Item[];
}

type Parts = Omit<TiledPage, 'page'>;

/** Sizes that agree to this are the same, mm: well above rounding of coordinates to 0.1 µm, far below a pixel. */
const SAME_MM = 1e-3;

/**
 * Parts a page at the last placing of tiles. Null when there is none, or when it can't be copied by the row: under a clip that is
 * not an upright rectangle, placed by anything but shifts, or not filling its window.
 */
export function tiledPage(page: Page): TiledPage | null {
  const parts = part(page.items, { x0: 0, y0: 0, x1: page.widthMm, y1: page.heightMm });
  return parts !== null && isShifted(parts.place) && fills(parts) ? { page, ...parts } : null;
}

function part(items: readonly Item[], window: Box): Parts | null {
  for (let k = items.length - 1; k >= 0; k--) {
    const item = items[k];
    const found = partItem(item, window);
    if (found === undefined) continue;
    if (found === null) return null;
    return { ...found, under: [...items.slice(0, k), ...found.under], over: [...found.over, ...items.slice(k + 1)] };
  }
  return null;
}

/** Undefined when the item holds no tiles, null when it holds them out of reach. */
function partItem(item: Item, window: Box): Parts | null | undefined {
  if (item.kind === 'place') {
    const { tile } = item;
    return tile === undefined ? undefined : { under: [], place: { ...item, tile }, window, over: [] };
  }
  if (item.kind !== 'layer' && item.kind !== 'clip') return undefined;
  if (!holdsTiles(item.items)) return undefined;
  const inner = item.kind === 'clip' ? common(window, rectangle(item)) : window;
  const found = inner === null ? null : part(item.items, inner);
  if (found === null) return null;
  const wrap = (items: readonly Item[]): Item[] => (items.length === 0 ? [] : [{ ...item, items }]);
  return { ...found, under: wrap(found.under), over: wrap(found.over) };
}

function holdsTiles(items: readonly Item[]): boolean {
  return items.some((item) => {
    if (item.kind === 'place') return item.tile !== undefined;
    return (item.kind === 'layer' || item.kind === 'clip') && holdsTiles(item.items);
  });
}

/** The clip's box when the clip is just that box. */
function rectangle(clip: Extract<Item, { kind: 'clip' }>): Box | null {
  if (clip.contours.length !== 1) return null;
  const box = contoursBox(clip.contours);
  if (box === null) return null;
  // Nothing but the box itself has the box's area.
  const missing = Math.abs(contourArea(boxContour(box))) - Math.abs(contourArea(clip.contours[0]));
  return missing <= SAME_MM * (box.x1 - box.x0 + box.y1 - box.y0) ? box : null;
}

function isShifted(place: PlaceItem): boolean {
  return place.at.length > 0 && place.at.every(([a, b, c, d]) => a === 1 && b === 0 && c === 0 && d === 1);
}

/** True where the copies' tiles, which lie side by side, leave nothing of the window open. */
function fills({ place, window }: Parts): boolean {
  const { tile } = place;
  let covered = 0;
  for (const [, , , , e, f] of place.at) {
    const seen = common(window, { x0: tile.x0 + e, y0: tile.y0 + f, x1: tile.x1 + e, y1: tile.y1 + f });
    if (seen !== null) covered += (seen.x1 - seen.x0) * (seen.y1 - seen.y0);
  }
  const width = window.x1 - window.x0;
  const height = window.y1 - window.y0;
  return covered >= width * height - SAME_MM * (width + height) * 2;
}

/** The colours that a drawing's items use, groups included, in the order they are met. */
export function coloursOf(drawing: Drawing, items: readonly Item[]): string[] {
  const colours = new Set<string>();
  const seen = new Set<string>();
  const visit = (list: readonly Item[]): void => {
    for (const item of list) {
      if (item.kind === 'path') {
        if (item.fill !== undefined) colours.add(item.fill.toLowerCase());
        if (item.line !== undefined) colours.add(item.line.colour.toLowerCase());
      } else if (item.kind === 'text') colours.add(item.colour.toLowerCase());
      else if (item.kind !== 'place') visit(item.items);
      else if (!seen.has(item.group)) {
        seen.add(item.group);
        visit(drawing.groups[item.group] ?? []);
      }
    }
  };
  visit(items);
  return [...colours];
}
