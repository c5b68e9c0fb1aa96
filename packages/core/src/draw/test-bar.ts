import { polyline } from '../geometry/contour.js';
import type { Contour, Point } from '../geometry/types.js';
import { MM_PER_INCH } from '../units/constants.js';
import { exactInches } from '../units/format.js';
import { COLOURS } from './palette.js';
import { textWidthMm } from './text.js';
import type { FontMetrics, Item } from './types.js';

/** A bar to hold a ruler to: mm on one side of its line, inches on the other. */
export interface TestBar {
  /** What it should measure once printed. */
  readonly nominalMm: number;
  readonly items: readonly Item[];
}

export interface TestBarOptions {
  /** Where the bar begins, page mm: its left end, or its lower end when it stands. */
  readonly at: Point;
  /** Room along it, page mm. */
  readonly roomMm: number;
  /** Printer correction along it. */
  readonly scale: number;
  readonly standing: boolean;
  readonly font: FontMetrics;
}

/** Half the breadth of a bar with its numbers, mm. */
export const BAR_HALF_MM = 5;

/** A bar's length is a whole number of these, mm. */
const BAR_PART_MM = 10;
const NUMBERED_MM = 50;
const TICK_MM = { short: 1.2, long: 2 } as const;
const EM_MM = 3;
/** Free space kept between two numbers, mm. */
const APART_MM = 1.5;

/**
 * A bar as long as its room allows in whole centimetres, its length written on it in mm and inches. The mm stand above its line and the inches
 * below (left and right of it when it stands and is read from the right). Room for less than 1 cm gives no items and nominal 0.
 */
export function testBar({ at, roomMm, scale, standing, font }: TestBarOptions): TestBar {
  // A hair of slack: 180 mm of room shall not give 170 mm for rounding.
  const nominalMm = Math.floor(roomMm / scale / BAR_PART_MM + 1e-9) * BAR_PART_MM;
  if (nominalMm < BAR_PART_MM) return { nominalMm: 0, items: [] };
  const place = (u: number, v: number): Point =>
    standing ? { x: at.x + v, y: at.y - u * scale } : { x: at.x + u * scale, y: at.y + v };
  const stroke = (u0: number, v0: number, u1: number, v1: number): Contour =>
    polyline([place(u0, v0), place(u1, v1)], { closed: false });
  const contours = [stroke(0, 0, nominalMm, 0)];
  for (let u = 0; u <= nominalMm; u += BAR_PART_MM) {
    contours.push(stroke(u, 0, u, u % NUMBERED_MM === 0 || u === nominalMm ? -TICK_MM.long : -TICK_MM.short));
  }
  const inches = Math.floor(nominalMm / MM_PER_INCH);
  for (let k = 0; k <= inches; k++) contours.push(stroke(k * MM_PER_INCH, 0, k * MM_PER_INCH, TICK_MM.long));

  const cap = (EM_MM * font.regular.capHeight) / font.regular.unitsPerEm;
  const taken: [number, number][] = [];
  const items: Item[] = [{ kind: 'path', contours, line: { colour: COLOURS.black, widthMm: 0.2, cap: 'butt' } }];
  const write = (text: string, u: number, anchor: 'start' | 'middle' | 'end', side: 'mm' | 'inches'): void => {
    const long = textWidthMm(text, { sizeMm: EM_MM }, font) / scale;
    const from = anchor === 'start' ? u : anchor === 'end' ? u - long : u - long / 2;
    const sided = side === 'mm' ? from : from + 1e6;
    if (taken.some(([a, b]) => sided < b + APART_MM && sided + long > a - APART_MM)) return;
    taken.push([sided, sided + long]);
    const v = side === 'mm' ? -TICK_MM.long - 0.5 : TICK_MM.long + 0.5 + cap;
    const { x, y } = place(u, v);
    items.push({
      kind: 'text',
      text,
      x,
      y,
      sizeMm: EM_MM,
      colour: COLOURS.black,
      anchor,
      ...(standing && { turn: -90 }),
    });
  };
  write('0', 0, 'start', 'mm');
  write(`${nominalMm} mm`, nominalMm, 'end', 'mm');
  write(`bar ${nominalMm} mm = ${exactInches(nominalMm)}`, 6, 'start', 'mm');
  for (let u = NUMBERED_MM; u < nominalMm; u += NUMBERED_MM) write(`${u}`, u, 'middle', 'mm');
  write('0', 0, 'start', 'inches');
  if (inches > 0)
    write(`${inches} in`, inches * MM_PER_INCH, inches * MM_PER_INCH > nominalMm - 5 ? 'end' : 'middle', 'inches');
  for (let k = 1; k < inches; k++) write(`${k}`, k * MM_PER_INCH, 'middle', 'inches');
  return { nominalMm, items };
}
