import { circleContour, polyline } from '../geometry/contour.js';
import type { Box, Point } from '../geometry/types.js';
import type { Sheet, SheetOpening } from '../stencil/types.js';
import { type ClearSpace, grow, isInside, NO_OWNER } from './clear-space.js';
import { COLOURS, GREY, lineStyle } from './palette.js';
import { textWidthMm } from './text.js';
import type { FontMetrics, Item } from './types.js';

/** Numbers inside the waste, on the page: never smaller than can be read, never larger than helps, mm em. */
const SMALLEST_EM_MM = 2.2;
const LARGEST_EM_MM = 5;
/** Free paper between a number and any line, mm on the page. */
const CLEARANCE_MM = 0.5;

/** Sizes to try inside the waste, largest first. */
const ROOMY = { sizesMm: [LARGEST_EM_MM, 4, 3.2, 2.7, SMALLEST_EM_MM], clearanceMm: CLEARANCE_MM };
/** The last resort inside the waste, at full size only: about the smallest print that is read at a cutting table, mm em. */
const TIGHT_EM_MM = 1.8;
const TIGHT_CLEARANCE_MM = 0.3;

/** A way to look for a place outside: number size (mm em), directions, growth of the length from try to try. */
interface Search {
  readonly emMm: number;
  readonly angles: number;
  readonly growth: number;
  /** The shortest leader, from the edge of the number's room, mm on the page. */
  readonly fromMm: number;
  /** The leader may pass over outlines of other openings, though never over words or other leaders. */
  readonly overOutlines: boolean;
}

/** From the clearest to the last resort: a number on a long leader is better than none. */
const SEARCHES: readonly Search[] = [
  { emMm: 2.6, angles: 16, growth: 1.35, fromMm: 2.5, overOutlines: false },
  { emMm: SMALLEST_EM_MM, angles: 48, growth: 1.12, fromMm: 1.6, overOutlines: false },
  { emMm: SMALLEST_EM_MM, angles: 48, growth: 1.12, fromMm: 1.6, overOutlines: true },
];

/** At full size no pains are spared. */
const CLOSEST: Search = { emMm: SMALLEST_EM_MM, angles: 90, growth: 1.06, fromMm: 1, overOutlines: true };

export interface NumberOptions {
  readonly font: FontMetrics;
  /** At which the drawing is seen: sizes are divided by it, so that they hold on the page. */
  readonly scale: number;
  /** Longest leader, mm on the page. */
  readonly reachMm: number;
}

/** Numbers as drawn, and those for which no free place was found. */
export interface PlacedNumbers {
  readonly items: readonly Item[];
  readonly missing: readonly number[];
}

/** How an opening's number is written: in brackets where it is cut only after the proof. */
export function numberText(opening: SheetOpening): string {
  return opening.firstCut.length > 0 ? `${opening.number}` : `(${opening.number})`;
}

/**
 * The number of every opening: in its waste where it fits there, else on free paper nearby with a leader, which crosses no other line wherever
 * there is such a place, and never a word.
 * What is placed is added to `space`. Sheet mm.
 */
export function placeNumbers(sheet: Sheet, space: ClearSpace, options: NumberOptions): PlacedNumbers {
  const items: Item[] = [];
  let waiting: SheetOpening[] = [];
  for (const opening of sheet.openings) {
    const em = emInside(opening, space, options);
    if (em === null) {
      waiting.push(opening);
      continue;
    }
    space.addBox(textBox(opening.labelAt, numberText(opening), em, options.font), NO_OWNER);
    items.push(numberItem(opening, opening.labelAt, em, options.font));
  }
  // Numbers inside have no choice of place, so leaders come after all of them.
  for (const search of options.scale === 1 ? [...SEARCHES, CLOSEST] : SEARCHES) {
    const left: SheetOpening[] = [];
    for (const opening of waiting) {
      const at = placeOutside(opening, sheet, space, { ...options, search });
      if (at) items.push(...leaderItems(opening, at, space, { ...options, search }));
      else left.push(opening);
    }
    waiting = left;
  }
  // At full size a small number in the waste is better than none; on a reduced picture nobody could read it.
  if (options.scale === 1) {
    const tight = { sizesMm: [TIGHT_EM_MM], clearanceMm: TIGHT_CLEARANCE_MM };
    waiting = waiting.filter((opening) => {
      const em = emInside(opening, space, options, tight);
      if (em !== null) items.push(numberItem(opening, opening.labelAt, em, options.font));
      return em === null;
    });
  }
  return { items, missing: waiting.map((o) => o.number) };
}

/** The size at which the number fits into the waste around `labelAt`, or null. */
function emInside(
  opening: SheetOpening,
  space: ClearSpace,
  { font, scale }: NumberOptions,
  { sizesMm, clearanceMm }: { sizesMm: readonly number[]; clearanceMm: number } = ROOMY,
): number | null {
  const text = numberText(opening);
  const unit = textBox({ x: 0, y: 0 }, text, 1, font);
  const reach = Math.hypot(unit.x1, unit.y1);
  const byRoom = (opening.labelRoomMm - clearanceMm / scale) / reach;
  for (const mm of sizesMm) {
    const em = mm / scale;
    // The room is a circle; a number in a long opening may fit although its circle would not.
    if (em > byRoom * 2) continue;
    if (space.isClear(grow(textBox(opening.labelAt, text, em, font), clearanceMm / scale))) return em;
  }
  return null;
}

type SearchOptions = NumberOptions & { readonly search: Search };

function placeOutside(
  opening: SheetOpening,
  sheet: Sheet,
  space: ClearSpace,
  { font, scale, reachMm, search }: SearchOptions,
): Point | null {
  const text = numberText(opening);
  const em = search.emMm / scale;
  const { labelAt } = opening;
  const margin = 2 / scale;
  for (let r = opening.labelRoomMm + search.fromMm / scale; r <= reachMm / scale; r *= search.growth) {
    for (let k = 0; k < search.angles; k++) {
      // Up and to the right first.
      const angle = -Math.PI / 4 + (2 * Math.PI * k) / search.angles;
      const at = { x: labelAt.x + r * Math.cos(angle), y: labelAt.y + r * Math.sin(angle) };
      const box = grow(textBox(at, text, em, font), CLEARANCE_MM / scale);
      const onPaper =
        box.x0 > margin && box.y0 > margin && box.x1 < sheet.widthMm - margin && box.y1 < sheet.heightMm - margin;
      if (!onPaper || !space.isClear(box)) continue;
      if (space.crossesOthers(labelAt, at, opening.number, search)) continue;
      if (!isOnWaste(sheet, at)) return at;
    }
  }
  return null;
}

function isOnWaste(sheet: Sheet, at: Point): boolean {
  return sheet.openings.some(
    ({ box, firstCut, secondCut }) =>
      at.x >= box.x0 &&
      at.x <= box.x1 &&
      at.y >= box.y0 &&
      at.y <= box.y1 &&
      (isInside(firstCut, at) || isInside(secondCut, at)),
  );
}

function leaderItems(
  opening: SheetOpening,
  at: Point,
  space: ClearSpace,
  { font, scale, search }: SearchOptions,
): Item[] {
  const em = search.emMm / scale;
  const box = grow(textBox(at, numberText(opening), em, font), CLEARANCE_MM / scale / 2);
  const end = edgeTowards(box, opening.labelAt);
  space.addBox(box, NO_OWNER);
  space.addLine(opening.labelAt.x, opening.labelAt.y, end.x, end.y, NO_OWNER);
  const spot = Math.min(0.45 / scale, Math.max(0.2 / scale, opening.labelRoomMm / 2));
  return [
    {
      kind: 'path',
      contours: [polyline([opening.labelAt, end], { closed: false })],
      line: lineStyle('leader', { scale }),
    },
    { kind: 'path', contours: [circleContour(opening.labelAt, spot)], fill: GREY },
    numberItem(opening, at, em, font),
  ];
}

/** Where the line from the middle of a box towards `p` leaves the box. */
function edgeTowards(box: Box, p: Point): Point {
  const x = (box.x0 + box.x1) / 2;
  const y = (box.y0 + box.y1) / 2;
  const dx = p.x - x;
  const dy = p.y - y;
  const t = Math.min(
    dx === 0 ? Infinity : (box.x1 - x) / Math.abs(dx),
    dy === 0 ? Infinity : (box.y1 - y) / Math.abs(dy),
    1,
  );
  return { x: x + t * dx, y: y + t * dy };
}

/** The box of capitals and digits of a text centred on a place. */
export function textBox(at: Point, text: string, em: number, font: FontMetrics, { bold = true } = {}): Box {
  const half = textWidthMm(text, { sizeMm: em, bold }, font) / 2;
  const cap = capHeight(em, font) / 2;
  return { x0: at.x - half, y0: at.y - cap, x1: at.x + half, y1: at.y + cap };
}

/** Height of capitals, mm, at an em size. */
export function capHeight(em: number, font: FontMetrics): number {
  return (em * font.bold.capHeight) / font.bold.unitsPerEm;
}

function numberItem(opening: SheetOpening, at: Point, em: number, font: FontMetrics): Item {
  return {
    kind: 'text',
    text: numberText(opening),
    x: at.x,
    y: at.y + capHeight(em, font) / 2,
    sizeMm: em,
    anchor: 'middle',
    bold: true,
    colour: opening.firstCut.length > 0 ? COLOURS.black : COLOURS.blue,
  };
}
