import { boxContour, polyline } from '../geometry/contour.js';
import type { Contour } from '../geometry/types.js';
import type { Sheet } from '../stencil/types.js';
import { ClearSpace, NO_OWNER, SOFT } from './clear-space.js';
import { placeNumbers } from './number-labels.js';
import { lineStyle, WASTE_TINT } from './palette.js';
import {
  clippedCorner,
  designEdgeWords,
  dotItems,
  dotLetters,
  faceUpItems,
  HOLD_RUN_OUT_MM,
  heldMarginWords,
  holdLineWords,
} from './sheet-words.js';
import type { FontMetrics, Item, LayerItem } from './types.js';

export interface CartoonOptions {
  readonly font: FontMetrics;
  /** Waste of the first cut lightly tinted; by default it is. */
  readonly tint?: boolean;
  /** The openings' numbers; by default they are written. */
  readonly numbers?: boolean;
  /**
   * The scale at which the cartoon will be seen, 1 by default: lines and letters are drawn larger by its inverse, so that on the page they
   * keep their widths and sizes.
   */
  readonly scale?: number;
  /** The longest leader from an opening to its number, mm on the page; 40 by default, 0 for none. */
  readonly leaderReachMm?: number;
}

/** A cartoon's layers, the openings whose number found no free place, and where lines and words stand. */
export interface Cartoon {
  readonly layers: readonly LayerItem[];
  readonly missingNumbers: readonly number[];
  readonly space: ClearSpace;
}

/**
 * The full-size drawing of a sheet, in sheet mm, as layers from the lowest up: `border`, `first-cut`, `second-cut`, `hold-line`, `stops`,
 * `dots`, `labels`. No word stands on a line that is to be cut. A sheet without openings gives its border, dots and words.
 */
export function cartoonItems(sheet: Sheet, options: CartoonOptions): readonly LayerItem[] {
  return drawCartoon(sheet, options).layers;
}

/** Like `cartoonItems`, and tells which numbers found no place. */
export function drawCartoon(sheet: Sheet, options: CartoonOptions): Cartoon {
  const { font, tint = true, numbers = true, scale = 1, leaderReachMm = 40 } = options;
  const words = { font, scale };
  const space = linesOf(sheet, scale);
  const letters = dotLetters(sheet, space, words);
  const labels: Item[] = [
    ...faceUpItems(sheet, space, words),
    ...holdLineWords(sheet, space, words),
    ...designEdgeWords(sheet, space, words),
  ];
  const placed = numbers
    ? placeNumbers(sheet, space, { font, scale, reachMm: leaderReachMm })
    : { items: [], missing: [] };
  labels.push(...placed.items, ...heldMarginWords(sheet, space, words));
  const layers = [
    layer('border', 'Edge of the paper and of the design', borderItems(sheet, scale)),
    layer('first-cut', 'First cut', firstCutItems(sheet, { tint, scale })),
    layer('second-cut', 'Second cut, after the proof', secondCutItems(sheet, scale)),
    layer('hold-line', 'Hold line', lineItems(holdLine(sheet, scale), lineStyle('hold-line', { scale }))),
    layer('stops', 'Where the first cut stops', stopItems(sheet, scale)),
    layer('dots', 'Dots', [...dotItems(sheet, scale), ...letters]),
    layer('labels', 'Words and numbers', labels),
  ];
  return { layers, missingNumbers: placed.missing, space };
}

function layer(id: string, label: string, items: readonly Item[]): LayerItem {
  return { kind: 'layer', id, label, items };
}

/** The outline of the paper, its upper left corner clipped off, clockwise as seen. */
export function paperOutline(sheet: Sheet): Contour {
  const c = clippedCorner(sheet);
  const { widthMm: x, heightMm: y } = sheet;
  const points = [
    { x: c, y: 0 },
    { x, y: 0 },
    { x, y },
    { x: 0, y },
    { x: 0, y: c },
  ];
  return polyline(points, { closed: true });
}

function borderItems(sheet: Sheet, scale: number): Item[] {
  return [
    { kind: 'path', contours: [boxContour(sheet.field)], line: lineStyle('seam', { scale }) },
    { kind: 'path', contours: [paperOutline(sheet)], line: lineStyle('border', { scale }) },
  ];
}

function firstCutItems(sheet: Sheet, { tint, scale }: { tint: boolean; scale: number }): Item[] {
  const line = lineStyle('first-cut', { scale });
  return sheet.openings
    .filter((o) => o.firstCut.length > 0)
    .map((o): Item => ({ kind: 'path', contours: o.firstCut, line, ...(tint ? { fill: WASTE_TINT } : {}) }));
}

function secondCutItems(sheet: Sheet, scale: number): Item[] {
  const line = lineStyle('second-cut', { scale });
  return sheet.openings
    .filter((o) => o.secondCut.length > 0)
    .map((o): Item => ({ kind: 'path', contours: o.secondCut, line }));
}

function lineItems(contours: readonly Contour[], line: ReturnType<typeof lineStyle>): Item[] {
  return contours.length > 0 ? [{ kind: 'path', contours, line }] : [];
}

/** The hold line: along the inner edges of the held margin, meeting in its corner, and run out into the border. */
export function holdLine(sheet: Sheet, scale = 1): Contour[] {
  const { heldRight, heldBottom, field } = sheet;
  const runOut = Math.min(HOLD_RUN_OUT_MM / scale, 0.4 * Math.min(field.x0, field.y0));
  const top = { x: heldRight?.x0 ?? field.x1, y: field.y0 - runOut };
  const left = { x: field.x0 - runOut, y: heldBottom?.y0 ?? field.y1 };
  const corner = { x: top.x, y: left.y };
  if (heldRight && heldBottom) return [polyline([top, corner, left], { closed: false })];
  if (heldRight) return [polyline([top, corner], { closed: false })];
  if (heldBottom) return [polyline([corner, left], { closed: false })];
  return [];
}

/** A bar along each stop, with a short tick at either end that points into the held margin. */
function stopItems(sheet: Sheet, scale: number): Item[] {
  const tick = (scale < 1 ? 0.9 : 1.6) / scale;
  const contours = sheet.stops.flatMap(({ from, to }) => {
    const upright = Math.abs(from.x - to.x) < Math.abs(from.y - to.y);
    const by = upright ? { x: tick, y: 0 } : { x: 0, y: tick };
    const away = (p: typeof from) => ({ x: p.x + by.x, y: p.y + by.y });
    return [polyline([away(from), from, to, away(to)], { closed: false })];
  });
  return lineItems(contours, lineStyle('stop', { scale }));
}

/** All lines of the drawing that no word may touch. */
function linesOf(sheet: Sheet, scale: number): ClearSpace {
  const space = new ClearSpace();
  for (const opening of sheet.openings) {
    space.addContours(opening.firstCut, opening.number);
    space.addContours(opening.secondCut, opening.number);
  }
  space.addContours(holdLine(sheet, scale), NO_OWNER);
  space.addContours([boxContour(sheet.field)], SOFT);
  space.addContours([paperOutline(sheet)], NO_OWNER);
  return space;
}
