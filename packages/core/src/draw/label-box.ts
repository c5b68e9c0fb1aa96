import { boxOf, moveBox } from '../geometry/boxes.js';
import type { Box, Point } from '../geometry/types.js';
import { type ClearSpace, NO_OWNER, type TurnedBox, turnedCorners } from './clear-space.js';
import { textWidthMm } from './text.js';
import type { FontMetrics, TextItem } from './types.js';

/** How a word is set before it has a place. */
export interface Wording {
  readonly text: string;
  /** mm em. */
  readonly em: number;
  readonly bold: boolean;
  /** Degrees clockwise as seen, −90 to 90; level without. −90 reads upward from below. */
  readonly turn?: number;
}

/** Height of capitals and digits, mm, at an em size. Both faces of a font have the same. */
export function capHeight(em: number, font: FontMetrics): number {
  return (em * font.bold.capHeight) / font.bold.unitsPerEm;
}

/** The em size at which capitals and digits are `capMm` high. */
export function emOfCap(capMm: number, font: FontMetrics): number {
  return (capMm * font.bold.unitsPerEm) / font.bold.capHeight;
}

/** How far the letters of a word reach below its line, mm: only those with a tail do. */
function tail(text: string, em: number, { bold }: FontMetrics): number {
  return /[gjpqy()]/.test(text) ? (-bold.descent * em) / bold.unitsPerEm : 0;
}

/** The ink of a word whose capitals are centred on a place, and `clearMm` around it. Tails count on both sides, so that the middle stays where it is. */
export function wordTurnedBox(at: Point, wording: Wording, font: FontMetrics, clearMm = 0): TurnedBox {
  const { text, em, bold, turn = 0 } = wording;
  return {
    at,
    halfU: textWidthMm(text, { sizeMm: em, bold }, font) / 2 + clearMm,
    halfV: Math.max(capHeight(em, font) / 2 + clearMm, capHeight(em, font) / 2 + tail(text, em, font) + clearMm / 2),
    turn,
  };
}

/** The upright box around the ink of a word centred on a place. */
export function wordBox(at: Point, wording: Wording, font: FontMetrics, clearMm = 0): Box {
  return boxOf(turnedCorners(wordTurnedBox(at, wording, font, clearMm)));
}

/** A question to ask of many places: whether nothing stands in the place of a word and within `clearMm` around it. */
export function wordFits(
  space: ClearSpace,
  wording: Wording,
  font: FontMetrics,
  clearMm: number,
): (at: Point) => boolean {
  const turned = wordTurnedBox({ x: 0, y: 0 }, wording, font, clearMm);
  if (turned.turn % 90 !== 0) return (at) => space.isClearTurned({ ...turned, at });
  const box = wordBox({ x: 0, y: 0 }, wording, font, clearMm);
  return (at) => space.isClear(moveBox(box, at));
}

/** Bars the place of a word, and `clearMm` around it, from other words. */
export function addWord(space: ClearSpace, at: Point, wording: Wording, font: FontMetrics, clearMm = 0): void {
  space.addTurnedBox(wordTurnedBox(at, wording, font, clearMm), NO_OWNER);
}

/** The word as drawn, its capitals centred on a place. */
export function wordItem(
  at: Point,
  { text, em, bold, turn = 0 }: Wording,
  { font, colour }: { font: FontMetrics; colour: string },
): TextItem {
  const rise = capHeight(em, font) / 2;
  const angle = (turn * Math.PI) / 180;
  const place = { x: at.x - rise * Math.sin(angle), y: at.y + rise * Math.cos(angle) };
  return { kind: 'text', text, sizeMm: em, colour, bold, anchor: 'middle', ...place, ...(turn !== 0 && { turn }) };
}

/** A turn that is not read upside down: −90 (included) to 90 degrees. */
export function readable(turn: number): number {
  const t = ((((turn + 90) % 180) + 180) % 180) - 90;
  return Math.round(t * 1e6) / 1e6 + 0;
}

/** The ink of a text as it is drawn: from its capitals' height to its line, or to its tails where it has any. */
export function textTurnedBox(item: TextItem, font: FontMetrics): TurnedBox {
  const { text, sizeMm, bold = false, turn = 0, anchor = 'start', x, y } = item;
  const width = textWidthMm(text, { sizeMm, bold }, font);
  const u = anchor === 'middle' ? 0 : anchor === 'end' ? -width / 2 : width / 2;
  const cap = capHeight(sizeMm, font);
  const below = tail(text, sizeMm, font);
  const v = (below - cap) / 2;
  const angle = (turn * Math.PI) / 180;
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  return {
    at: { x: x + u * cos - v * sin, y: y + u * sin + v * cos },
    halfU: width / 2,
    halfV: (cap + below) / 2,
    turn,
  };
}

/** Where the line from the middle of a box towards `p` leaves the box. */
export function edgeTowards(box: Box, p: Point): Point {
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
