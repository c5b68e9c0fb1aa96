import { type ClearSpace, NO_OWNER, SOFT } from '../../draw/clear-space.js';
import { addWord, capHeight, type Wording, wordBox, wordFits, wordItem } from '../../draw/label-box.js';
import { COLOURS, GREY, lineStyle } from '../../draw/palette.js';
import { textWidthMm } from '../../draw/text.js';
import type { FontMetrics, Item, TextItem } from '../../draw/types.js';
import { boxMiddle, growBox } from '../../geometry/boxes.js';
import { circleContour, contoursBox, polyline } from '../../geometry/contour.js';
import type { Box, Point } from '../../geometry/types.js';
import type { Dot } from '../../register/dots.js';
import type { Sheet } from '../../stencil/types.js';

export const FACE_UP = 'THIS SIDE UP';
export const CORNER_CLIPPED = 'clipped corner = upper left';
const DESIGN_EDGE = 'edge of the design – not a cut';
/** What the hold line says: in full, in fewer words, and by its name alone. */
const HOLD_WORDS = {
  band: { full: 'hold line – cut nothing beyond it before the proof', brief: 'hold line – cut no further yet' },
  crossing: {
    full: 'hold line – beyond it cut only what is drawn solid, before the proof',
    brief: 'hold line – past it only solid lines',
  },
} as const;
const HOLD_NAME = 'hold line';

/** Ring around a dot, mm on the page: wide enough to be seen, small enough to stay clear of the design. */
const RING_MM = 2.2;
/** The same on a reduced picture. */
const SMALL_RING_MM = 1.3;
/** Words on the sheet, mm em on the page. */
const WORD_EM_MM = 3.2;
const SMALL_EM_MM = 2.4;
const LEAST_EM_MM = 2;
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

function holdWords(sheet: Sheet): { readonly full: string; readonly brief: string } {
  return cutsBeyondHoldLine(sheet) ? HOLD_WORDS.crossing : HOLD_WORDS.band;
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
  const middle = boxMiddle(sheet.field);
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
          const box = growBox(wordBox(at, { text: dot.name, em, bold: true }, font), 0.4 / scale);
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

/** The hold line's words stand this near to it, mm on the page. */
const BESIDE_LINE_MM = { least: 1.2, most: 4.4, step: 0.4 } as const;
/** They keep this far from the edges up to which everything is cut, mm on the page, and there at most this share of the line's length. */
const FROM_LEAD_MM = 12;
const FROM_LEAD_SHARE = 0.2;
/** Free space around them, mm on the page. */
const HOLD_CLEARANCE_MM = 0.4;

/**
 * The words along both legs of the hold line, in the held margin right beside it, as near to the middle of the leg as they stand clear; in fewer
 * words where the whole does not fit, and none where no word does.
 */
export function holdLineWords(sheet: Sheet, space: ClearSpace, options: WordOptions): Item[] {
  const { heldRight, heldBottom, field } = sheet;
  const corner = { x: heldRight?.x0 ?? field.x1, y: heldBottom?.y0 ?? field.y1 };
  const words = holdWords(sheet);
  const legs: HoldLeg[] = [
    ...(heldRight ? [{ beside: { ...heldRight, y1: corner.y }, upright: true }] : []),
    ...(heldBottom ? [{ beside: { ...heldBottom, x1: corner.x }, upright: false }] : []),
  ];
  return legs.flatMap((leg) => placeBeside(words, leg, space, options) ?? []);
}

/** The held margin beside one leg of the hold line, which runs along its left side (`upright`) or its top. */
interface HoldLeg {
  readonly beside: Box;
  readonly upright: boolean;
}

function placeBeside(
  { full, brief }: ReturnType<typeof holdWords>,
  leg: HoldLeg,
  space: ClearSpace,
  { font, scale }: WordOptions,
): TextItem | null {
  const { beside, upright } = leg;
  for (const [text, mm] of [
    [full, WORD_EM_MM],
    [full, SMALL_EM_MM],
    [brief, WORD_EM_MM],
    [brief, SMALL_EM_MM],
    [HOLD_NAME, WORD_EM_MM],
    [HOLD_NAME, SMALL_EM_MM],
    [HOLD_NAME, LEAST_EM_MM],
  ] as const) {
    const wording: Wording = { text, em: mm / scale, bold: true, turn: upright ? -90 : 0 };
    const room = wordBox({ x: 0, y: 0 }, wording, font);
    const fits = wordFits(space, wording, font, HOLD_CLEARANCE_MM / scale);
    const along = alongLeg(leg, room, { scale, stepMm: wording.em / 2 });
    for (let out = BESIDE_LINE_MM.least; out <= BESIDE_LINE_MM.most; out += BESIDE_LINE_MM.step) {
      for (const place of along) {
        const at = upright
          ? { x: beside.x0 + out / scale - room.x0, y: place }
          : { x: place, y: beside.y0 + out / scale - room.y0 };
        if (at.x + room.x1 > beside.x1 || at.y + room.y1 > beside.y1 || !fits(at)) continue;
        addWord(space, at, wording, font, HOLD_CLEARANCE_MM / scale);
        return wordItem(at, wording, { font, colour: COLOURS.black });
      }
    }
  }
  return null;
}

/** Places for the middle of a word along a leg, from the leg's middle outward both ways, clear of the lead edge where it begins. */
function alongLeg(
  { beside, upright }: HoldLeg,
  room: Box,
  { scale, stepMm }: { scale: number; stepMm: number },
): number[] {
  const [from, to, back, on] = upright
    ? [beside.y0, beside.y1, room.y0, room.y1]
    : [beside.x0, beside.x1, room.x0, room.x1];
  const low = from + Math.min(FROM_LEAD_MM / scale, FROM_LEAD_SHARE * (to - from)) - back;
  const high = to - on;
  const middle = (low + high) / 2;
  const count = Math.floor((high - low) / 2 / stepMm);
  if (high < low) return [];
  return [
    middle,
    ...Array.from({ length: count }, (_, k) => [middle - (k + 1) * stepMm, middle + (k + 1) * stepMm]).flat(),
  ];
}

/** Says below the lower edge of the design that its thin outline is not to be cut, where there is free paper for it. */
export function designEdgeWords(sheet: Sheet, space: ClearSpace, { font, scale }: WordOptions): Item[] {
  const em = SMALL_EM_MM / scale;
  const { field } = sheet;
  const width = textWidthMm(DESIGN_EDGE, { sizeMm: em }, font);
  const y = field.y1 + 1 / scale + em;
  for (let x = field.x0 + 8 / scale; x + width < field.x1; x += 10 / scale) {
    const box = { x0: x, y0: y - em * 0.8, x1: x + width, y1: y + em * 0.25 };
    if (!isOnPaper(box, sheet) || !space.isClear(growBox(box, 0.3 / scale))) continue;
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
