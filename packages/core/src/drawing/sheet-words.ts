import { circleContour, contoursBox, polyline } from '../geometry/contour.js';
import type { Box, Point } from '../geometry/types.js';
import type { Dot, Sheet } from '../stencil/types.js';
import { type ClearSpace, grow, NO_OWNER, SOFT } from './clear-space.js';
import { capHeight, wordBox } from './label-box.js';
import { COLOURS, GREY, lineStyle } from './palette.js';
import { textWidthMm } from './text.js';
import type { FontMetrics, Item, TextItem } from './types.js';

export const FACE_UP = 'THIS SIDE UP';
export const CORNER_CLIPPED = 'clipped corner = upper left';
const DESIGN_EDGE = 'edge of the design – not a cut';
const HOLD_BAND = 'hold line – cut nothing beyond it before the proof';
const HOLD_CROSSING = 'hold line – beyond it cut only what is drawn solid, before the proof';

/** Ring around a dot, mm on the page: wide enough to be seen, small enough to stay clear of the design. */
const RING_MM = 2.2;
/** The same on a reduced picture. */
const SMALL_RING_MM = 1.3;
/** Words on the sheet, mm em on the page. */
const WORD_EM_MM = 3.2;
const SMALL_EM_MM = 2.4;
const LETTER_EM_MM = 4;
const FACE_UP_EM_MM = 6;
/** How far the hold line is drawn on into the border, mm on the page. */
export const HOLD_RUN_OUT_MM = 8;

export interface WordOptions {
  readonly font: FontMetrics;
  readonly scale: number;
}

/** True where something in the held margin is cut before the proof all the same (only what crosses a seam is held). */
export function cutsBeyondHoldLine(sheet: Sheet): boolean {
  const right = sheet.heldRight?.x0 ?? Infinity;
  const bottom = sheet.heldBottom?.y0 ?? Infinity;
  // A cut that ends on the line lies beyond it by no more than rounding.
  const slackMm = 0.01;
  return sheet.openings.some(({ firstCut }) => {
    const box = contoursBox(firstCut);
    return box !== null && (box.x1 > right + slackMm || box.y1 > bottom + slackMm);
  });
}

/** What the hold line says. */
export function holdWords(sheet: Sheet): string {
  return cutsBeyondHoldLine(sheet) ? HOLD_CROSSING : HOLD_BAND;
}

/** Side of the corner that is clipped off, mm: well clear of the dot in the design's corner. */
export function clippedCorner(sheet: Sheet): number {
  return Math.min(20, (sheet.field.x0 + sheet.field.y0) / 4, sheet.widthMm / 3, sheet.heightMm / 3);
}

/** Dots as they are punched: leading ones full, trailing ones open with a cross, each in a ring. */
export function dotItems(sheet: Sheet, scale: number): Item[] {
  const line = lineStyle('dot', { scale });
  return sheet.dots.flatMap((dot): Item[] => {
    const r = dot.diameterMm / 2;
    const { x, y } = dot.at;
    const hole: Item = dot.lead
      ? { kind: 'path', contours: [circleContour(dot.at, r)], fill: COLOURS.green }
      : {
          kind: 'path',
          contours: [
            circleContour(dot.at, r),
            polyline(
              [
                { x: x - r, y },
                { x: x + r, y },
              ],
              { closed: false },
            ),
            polyline(
              [
                { x, y: y - r },
                { x, y: y + r },
              ],
              { closed: false },
            ),
          ],
          line: { ...line, widthMm: line.widthMm / 2 },
        };
    return [{ kind: 'path', contours: [circleContour(dot.at, ringRadius(dot, scale))], line }, hole];
  });
}

function ringRadius(dot: Dot, scale: number): number {
  return Math.max((scale < 1 ? SMALL_RING_MM : RING_MM) / scale, dot.diameterMm / 2 + 0.6 / scale);
}

/** The letter of every dot, outside its ring on the side away from the design; rings and letters are added to `space`. */
export function dotLetters(sheet: Sheet, space: ClearSpace, { font, scale }: WordOptions): Item[] {
  const middle = { x: (sheet.field.x0 + sheet.field.x1) / 2, y: (sheet.field.y0 + sheet.field.y1) / 2 };
  for (const dot of sheet.dots) {
    const r = ringRadius(dot, scale);
    space.addBox({ x0: dot.at.x - r, y0: dot.at.y - r, x1: dot.at.x + r, y1: dot.at.y + r }, SOFT);
  }
  return sheet.dots.map((dot): Item => {
    const out = Math.atan2(dot.at.y - middle.y, dot.at.x - middle.x);
    const r = ringRadius(dot, scale);
    for (const em of [LETTER_EM_MM / scale, SMALL_EM_MM / scale]) {
      for (const far of [1.6, 2.2, 3, 4.5]) {
        for (const turn of [0, 0.5, -0.5, 1, -1, 1.6, -1.6, 2.4, -2.4, Math.PI]) {
          const d = r + far * (em / 2);
          const at = { x: dot.at.x + d * Math.cos(out + turn), y: dot.at.y + d * Math.sin(out + turn) };
          const box = grow(wordBox(at, { text: dot.name, em, bold: true }, font), 0.4 / scale);
          if (!isOnPaper(box, sheet) || !space.isClear(box)) continue;
          space.addBox(box, NO_OWNER);
          return word(dot.name, { at, em, font, colour: COLOURS.green, bold: true });
        }
      }
    }
    // Nothing is free all around: inside the ring, beside the hole.
    const at = { x: dot.at.x, y: dot.at.y - r / 2 - dot.diameterMm / 4 };
    return word(dot.name, { at, em: r * 0.7, font, colour: COLOURS.green, bold: true });
  });
}

/** "THIS SIDE UP" and the note on the clipped corner, in the upper border right of the corner. */
export function faceUpItems(sheet: Sheet, space: ClearSpace, { font, scale }: WordOptions): Item[] {
  const em = Math.min(FACE_UP_EM_MM / scale, Math.max(SMALL_EM_MM / scale, sheet.field.y0 * 0.4));
  const x = clippedCorner(sheet) + 3 / scale;
  const y = faceUpBaseline(sheet, { font, scale });
  const width = textWidthMm(FACE_UP, { sizeMm: em, bold: true }, font);
  const small = Math.min(em, SMALL_EM_MM / scale);
  const noteX = x + width + em / 2;
  const note = textWidthMm(CORNER_CLIPPED, { sizeMm: small }, font);
  const items: Item[] = [{ kind: 'text', text: FACE_UP, x, y, sizeMm: em, colour: COLOURS.black, bold: true }];
  space.addBox({ x0: x, y0: y - em, x1: x + width, y1: y + em / 4 }, NO_OWNER);
  if (noteX + note < sheet.widthMm - 2 / scale) {
    items.push({ kind: 'text', text: CORNER_CLIPPED, x: noteX, y, sizeMm: small, colour: GREY });
    space.addBox({ x0: noteX, y0: y - small, x1: noteX + note, y1: y + small / 4 }, NO_OWNER);
  }
  return items;
}

/** Baseline of "THIS SIDE UP", mm from the top of the sheet. */
export function faceUpBaseline(sheet: Sheet, { font, scale }: WordOptions): number {
  const em = Math.min(FACE_UP_EM_MM / scale, Math.max(SMALL_EM_MM / scale, sheet.field.y0 * 0.4));
  return Math.min(3 / scale, sheet.field.y0 * 0.15) + capHeight(em, font);
}

/** The words along the hold line, in the border where both of its legs run out; on free paper beside it where the border is too small. */
export function holdLineWords(sheet: Sheet, space: ClearSpace, options: WordOptions): Item[] {
  const { heldRight, heldBottom, field } = sheet;
  const text = holdWords(sheet);
  const gap = 1.5 / options.scale;
  const items: Item[] = [];
  if (heldRight) {
    const end = { x: heldRight.x0 - gap, y: field.y0 - gap };
    const item = placeAlong(text, end, { sheet, space, upward: false, borderMm: field.y0 }, options);
    if (item) items.push(item);
  }
  if (heldBottom) {
    const end = { x: field.x0 - gap, y: heldBottom.y0 - gap };
    const item = placeAlong(text, end, { sheet, space, upward: true, borderMm: field.x0 }, options);
    if (item) items.push(item);
  }
  return items;
}

/**
 * A text that ends (in the upper border, reading across) or begins (in the left border, reading upward) at the hold line, moved outward
 * until it is clear; shortened to "hold line" where the whole does not fit.
 */
function placeAlong(
  text: string,
  end: Point,
  where: { sheet: Sheet; space: ClearSpace; upward: boolean; borderMm: number },
  { font, scale }: WordOptions,
): TextItem | null {
  const { sheet, space, upward, borderMm } = where;
  for (const [words, mm] of [
    [text, WORD_EM_MM],
    [text, SMALL_EM_MM],
    ['hold line', WORD_EM_MM],
    ['hold line', SMALL_EM_MM],
  ] as const) {
    const em = mm / scale;
    const length = textWidthMm(words, { sizeMm: em, bold: true }, font);
    const step = em / 2;
    for (let out = 0.5 / scale; out < borderMm - em; out += step) {
      const box: Box = upward
        ? { x0: end.x - out - em * 0.8, y0: end.y - length, x1: end.x - out + em * 0.25, y1: end.y }
        : { x0: end.x - length, y0: end.y - out - em * 0.8, x1: end.x, y1: end.y - out + em * 0.25 };
      if (!isOnPaper(box, sheet) || !space.isClear(grow(box, 0.4 / scale))) continue;
      space.addBox(box, NO_OWNER);
      const style = { text: words, sizeMm: em, colour: COLOURS.black, bold: true } as const;
      return upward
        ? { kind: 'text', ...style, x: end.x - out, y: end.y, turn: -90 }
        : { kind: 'text', ...style, x: end.x, y: end.y - out, anchor: 'end' };
    }
  }
  return null;
}

/** Says below the lower edge of the design that its thin outline is not to be cut, where there is free paper for it. */
export function designEdgeWords(sheet: Sheet, space: ClearSpace, { font, scale }: WordOptions): Item[] {
  const em = SMALL_EM_MM / scale;
  const { field } = sheet;
  const width = textWidthMm(DESIGN_EDGE, { sizeMm: em }, font);
  const y = field.y1 + 1 / scale + em;
  for (let x = field.x0 + 8 / scale; x + width < field.x1; x += 10 / scale) {
    const box = { x0: x, y0: y - em * 0.8, x1: x + width, y1: y + em * 0.25 };
    if (!isOnPaper(box, sheet) || !space.isClear(grow(box, 0.3 / scale))) continue;
    space.addBox(box, NO_OWNER);
    return [{ kind: 'text', text: DESIGN_EDGE, x, y, sizeMm: em, colour: GREY }];
  }
  return [];
}

function word(
  text: string,
  { at, em, font, colour, bold }: { at: Point; em: number; font: FontMetrics; colour: string; bold: boolean },
): TextItem {
  return {
    kind: 'text',
    text,
    x: at.x,
    y: at.y + capHeight(em, font) / 2,
    sizeMm: em,
    colour,
    bold,
    anchor: 'middle',
  };
}

function isOnPaper(box: Box, { widthMm, heightMm }: Sheet): boolean {
  return box.x0 > 1 && box.y0 > 1 && box.x1 < widthMm - 1 && box.y1 < heightMm - 1;
}
