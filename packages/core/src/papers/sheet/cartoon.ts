import { ClearSpace, NO_OWNER, SOFT } from '../../draw/clear-space.js';
import { textTurnedBox } from '../../draw/label-box.js';
import type { DigitSizes } from '../../draw/number-inside.js';
import { FULL_SIZE_DIGITS, PICTURE_DIGITS, placeNumbers } from '../../draw/number-labels.js';
import { GREY, lineStyle, WASTE_TINT } from '../../draw/palette.js';
import type { FontMetrics, Item, LayerItem, TextItem } from '../../draw/types.js';
import { WasteIndex } from '../../draw/waste-index.js';
import { boxContour, polyline } from '../../geometry/contour.js';
import type { Contour } from '../../geometry/types.js';
import type { Sheet } from '../../stencil/types.js';
import { doneContours, doneHatching } from './done-marks.js';
import { grainMark } from './grain-mark.js';
import { namedTies, type PaperNames } from './paper-names.js';
import { isPunched, punchCrosses, punchSizes } from './punch-marks.js';
import {
  clippedCorner,
  designEdgeWords,
  dotItems,
  dotLetters,
  faceUpItems,
  HOLD_RUN_OUT_MM,
  holdLineWords,
} from './sheet-words.js';
import { notYetWords, stopBars, stopWords } from './stop-marks.js';
import { tieLabels } from './tie-labels.js';
import { addTies, tieItems } from './tie-marks.js';
import { addZoneLines, zoneLetters, zoneOutlines } from './zone-marks.js';

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
  /** Heights of the numbers' digits, mm on the page; by default 5 to 4 at full size, and 3.65 to 1.65 at any other scale. */
  readonly digits?: DigitSizes;
  /** Holes that are punched get the size of their punch (the default) or each its number. */
  readonly punched?: 'sizes' | 'numbers';
  /** Outlines and letters of the zones; by default they are drawn. */
  readonly zones?: boolean;
  /** Words that will stand on the sheet beside the cartoon's own, sheet mm: nothing is written over them. */
  readonly keepClearOf?: readonly TextItem[];
}

/** A cartoon's layers, the openings whose number found no free place, and where lines and words stand. */
export interface Cartoon {
  readonly layers: readonly LayerItem[];
  /** In the order of the openings. Holes marked by the size of their punch have no number to miss. */
  readonly missingNumbers: readonly number[];
  /** Letters of zones that found no free place. */
  readonly missingZones: readonly string[];
  /** Names of ties that found no free place. */
  readonly missingTies: readonly string[];
  readonly space: ClearSpace;
}

/**
 * The full-size drawing of a sheet, in sheet mm, as layers from the lowest up: `border`, `zones`, `ties` (where there are any), `first-cut`, `second-cut`, `done`, `hold-line`,
 * `stops`, `dots`, `leaders`, `labels`. No word stands on a line that is to be cut. A sheet without openings gives its border, dots and words.
 */
export function cartoonItems(sheet: Sheet, options: CartoonOptions): readonly LayerItem[] {
  return drawCartoon(sheet, options).layers;
}

/** Like `cartoonItems`, and tells which numbers found no place. */
export function drawCartoon(sheet: Sheet, options: CartoonOptions): Cartoon {
  const { font, tint = true, numbers = true, scale = 1, leaderReachMm = 40, punched = 'sizes', zones = true } = options;
  const { digits = scale === 1 ? FULL_SIZE_DIGITS : PICTURE_DIGITS } = options;
  const words = { font, scale };
  const ties = namedTies(sheet);
  const space = linesOf(sheet, ties, scale);
  const waste = new WasteIndex(sheet.openings);
  for (const item of options.keepClearOf ?? []) space.addTurnedBox(textTurnedBox(item, font), NO_OWNER);
  space.seal();
  const where = { space, waste };
  const letters = dotLetters(sheet, space, words);
  const labels: Item[] = [
    ...faceUpItems(sheet, space, words),
    ...holdLineWords(sheet, space, words),
    ...designEdgeWords(sheet, space, words),
    // A reduced picture shows how the sheet prints.
    ...(scale === 1 ? grainMark(sheet, space, font) : []),
  ];
  let missingZones: readonly string[] = [];
  let tieNames: Pick<LayerItem, 'items'> & { missing: readonly string[] } = { items: [], missing: [] };
  // What has some choice of place comes after what has none, and before what has the most.
  const between = (): void => {
    if (zones) addZoneLines(sheet, space);
    // The name of a tie has to stand beside it.
    if (numbers) tieNames = tieLabels(sheet, ties, where, words);
    if (zones) {
      const placed = zoneLetters(sheet, where, words);
      missingZones = placed.missing;
      labels.push(...placed.items);
    }
    labels.push(...stopWords(sheet, where, words), ...notYetWords(sheet, space, words));
  };
  const bySize = punched === 'sizes';
  const numbered = numbers ? sheet.openings.filter((o) => !(bySize && isPunched(o))) : [];
  const number = { font, scale, reachMm: leaderReachMm, digits, between };
  const placed = placeNumbers(numbered, sheet, where, number);
  const punch =
    numbers && bySize
      ? punchSizes(sheet, where, { font, scale, reachMm: leaderReachMm, digitMm: digits.smallestMm })
      : { labels: [], leaders: [] };
  labels.push(...placed.labels, ...punch.labels);
  const layers = [
    layer('border', 'Edge of the paper and of the design', borderItems(sheet, scale)),
    layer('zones', 'Zones', zones ? zoneOutlines(sheet, scale) : []),
    // Below the cut lines, of which they hide nothing.
    ...(ties.length > 0 ? [layer('ties', 'Ties', [...tieItems(ties, scale), ...tieNames.items])] : []),
    layer('first-cut', 'First cut', firstCutItems(sheet, { tint, scale })),
    layer('second-cut', 'Second cut, after the proof', secondCutItems(sheet, scale)),
    layer('done', 'Done before', doneHatching(sheet.openings, scale)),
    layer('hold-line', 'Hold line', lineItems(holdLine(sheet, scale), lineStyle('hold-line', { scale }))),
    layer('stops', 'Where the first cut stops', stopBars(sheet, waste, scale)),
    layer('dots', 'Dots', [...dotItems(sheet, scale), ...letters]),
    layer('leaders', 'From numbers to their openings', [
      ...punchCrosses(sheet.openings, scale),
      ...placed.leaders,
      ...punch.leaders,
    ]),
    layer('labels', 'Words and numbers', labels),
  ];
  const missingNumbers = placed.missing.map((o) => o.number);
  return { layers, missingNumbers, missingZones, missingTies: tieNames.missing, space };
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
    .map((o): Item => {
      // What is cut already is neither black nor filled: nothing of it comes out any more.
      if (o.done) return { kind: 'path', contours: o.firstCut, line: { ...line, colour: GREY } };
      return { kind: 'path', contours: o.firstCut, line, ...(tint ? { fill: WASTE_TINT } : {}) };
    });
}

function secondCutItems(sheet: Sheet, scale: number): Item[] {
  const line = lineStyle('second-cut', { scale });
  return sheet.openings
    .filter((o) => o.secondCut.length > 0)
    .map((o): Item => {
      const done = doneContours(o) === o.secondCut;
      return { kind: 'path', contours: o.secondCut, line: done ? { ...line, colour: GREY } : line };
    });
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

/** All lines of the drawing that no word may touch. */
function linesOf(sheet: Sheet, ties: PaperNames['ties'], scale: number): ClearSpace {
  const space = new ClearSpace();
  for (const opening of sheet.openings) {
    space.addContours(opening.firstCut, opening.number);
    space.addContours(opening.secondCut, opening.number);
  }
  space.addContours(holdLine(sheet, scale), NO_OWNER);
  space.addContours([boxContour(sheet.field)], SOFT);
  space.addContours([paperOutline(sheet)], NO_OWNER);
  addTies(ties, space, { scale });
  return space;
}
