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
/** A number that stands outside on a leader, mm em. */
const LEADER_EM_MM = 2.6;
/** Free paper between a number and any line, mm on the page. */
const CLEARANCE_MM = 0.5;
/** Shortest and longest leaders, mm on the page, and how their length grows from try to try. */
const LEADER_FROM_MM = 2.5;
const LEADER_GROWTH = 1.35;
const LEADER_ANGLES = 16;

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
 * The number of every opening: in its waste where it fits there, else on free paper nearby with a leader that crosses no other line.
 * What is placed is added to `space`. Sheet mm.
 */
export function placeNumbers(sheet: Sheet, space: ClearSpace, options: NumberOptions): PlacedNumbers {
  const items: Item[] = [];
  const waiting: SheetOpening[] = [];
  const missing: number[] = [];
  for (const opening of sheet.openings) {
    const em = emInside(opening, space, options);
    if (em === null) {
      waiting.push(opening);
      continue;
    }
    space.addBox(textBox(opening.labelAt, numberText(opening), em, options.font), opening.number);
    items.push(numberItem(opening, opening.labelAt, em, options.font));
  }
  // Numbers inside have no choice of place, so leaders come after all of them.
  for (const opening of waiting) {
    const at = placeOutside(opening, sheet, space, options);
    if (at) items.push(...leaderItems(opening, at, space, options));
    else missing.push(opening.number);
  }
  return { items, missing };
}

/** The size at which the number fits into the waste around `labelAt`, or null. */
function emInside(opening: SheetOpening, space: ClearSpace, { font, scale }: NumberOptions): number | null {
  const text = numberText(opening);
  const unit = textBox({ x: 0, y: 0 }, text, 1, font);
  const reach = Math.hypot(unit.x1, unit.y1);
  const byRoom = (opening.labelRoomMm - CLEARANCE_MM / scale) / reach;
  const sizes = [LARGEST_EM_MM, 4, 3.2, 2.7, SMALLEST_EM_MM].map((mm) => mm / scale);
  for (const em of sizes) {
    // The room is a circle; a number in a long opening may fit although its circle would not.
    if (em > byRoom * 2) continue;
    if (space.isClear(grow(textBox(opening.labelAt, text, em, font), CLEARANCE_MM / scale))) return em;
  }
  return null;
}

function placeOutside(
  opening: SheetOpening,
  sheet: Sheet,
  space: ClearSpace,
  { font, scale, reachMm }: NumberOptions,
): Point | null {
  const text = numberText(opening);
  const em = LEADER_EM_MM / scale;
  const { labelAt } = opening;
  const margin = 2 / scale;
  for (let r = opening.labelRoomMm + LEADER_FROM_MM / scale; r <= reachMm / scale; r *= LEADER_GROWTH) {
    for (let k = 0; k < LEADER_ANGLES; k++) {
      // Up and to the right first.
      const angle = -Math.PI / 4 + (2 * Math.PI * k) / LEADER_ANGLES;
      const at = { x: labelAt.x + r * Math.cos(angle), y: labelAt.y + r * Math.sin(angle) };
      const box = grow(textBox(at, text, em, font), CLEARANCE_MM / scale);
      const onPaper =
        box.x0 > margin && box.y0 > margin && box.x1 < sheet.widthMm - margin && box.y1 < sheet.heightMm - margin;
      if (!onPaper || !space.isClear(box)) continue;
      if (space.crossesOthers(labelAt, at, opening.number)) continue;
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

function leaderItems(opening: SheetOpening, at: Point, space: ClearSpace, { font, scale }: NumberOptions): Item[] {
  const em = LEADER_EM_MM / scale;
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
