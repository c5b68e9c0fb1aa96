import { distance } from '../geometry/points.js';
import type { Box, Point } from '../geometry/types.js';
import type { Sheet, SheetOpening } from '../stencil/types.js';
import type { ClearSpace } from './clear-space.js';
import { addWord, capHeight, emOfCap, readable, type Wording, wordBox, wordFits, wordItem } from './label-box.js';
import { COLOURS } from './palette.js';
import type { FontMetrics, Item } from './types.js';
import { uprightNumber } from './upright-numbers.js';
import { numberedPart, type WasteIndex } from './waste-index.js';

/** Free space between a number and any outline, mm on the page; less in a waste that leaves no more. */
export const CLEARANCE_MM = 0.45;
const TIGHT_MM = 0.3;
/** Places in an opening that are tried for its number. */
const TRIES = 240;
/** Places are tried at least this far apart, mm on the page. */
const STEP_MM = 0.8;
/** How far a number that does not fit level is turned from the line along its waste, degrees. */
const TURNS_FROM_AXIS = [0, -8, 8, -16, 16, -28, 28];
/** `labelRoomMm` is known to this, mm. */
const ROOM_SLACK_MM = 0.1;
/** Sizes that are tried between the largest and the smallest. */
const SIZES = 4;

/** Heights of the digits, mm on the page. */
export interface DigitSizes {
  readonly largestMm: number;
  readonly smallestMm: number;
}

export interface InsideOptions {
  readonly font: FontMetrics;
  /** At which the drawing is seen: sizes are divided by it, so that they hold on the page. */
  readonly scale: number;
  readonly digits: DigitSizes;
  readonly sheet: Pick<Sheet, 'openings'>;
}

/** How an opening's number is written on its sheet: in brackets where it is cut only after the proof, with a tick where it is done. */
export function numberText({ number, firstCut, done }: SheetOpening, { openings }: Pick<Sheet, 'openings'>): string {
  const name = uprightNumber(number, openings);
  const written = firstCut.length > 0 ? name : `(${name})`;
  return done ? `${written} ✓` : written;
}

/**
 * Writes every number that fits into the waste of its opening, level where it can be, else turned; as near to the widest place as possible.
 * What is placed is added to `space`. Returns the openings whose number does not fit.
 */
export function numbersInside(
  openings: readonly SheetOpening[],
  { space, waste }: { space: ClearSpace; waste: WasteIndex },
  options: InsideOptions,
): { items: Item[]; waiting: SheetOpening[] } {
  const items: Item[] = [];
  const waiting: SheetOpening[] = [];
  for (const opening of openings) {
    const placed = placeInside(opening, { space, waste }, options);
    if (placed === null) {
      waiting.push(opening);
      continue;
    }
    addWord(space, placed.at, placed.wording, options.font);
    items.push(wordItem(placed.at, placed.wording, { font: options.font, colour: COLOURS.black }));
  }
  return { items, waiting };
}

/** A way to write a number, and the free space it needs. */
interface WritingWay {
  readonly wording: Wording;
  readonly clearMm: number;
}

/**
 * The ways to write a number inside its waste, the clearest first: bold and level, then in the thinner face, which is narrower, then turned along the
 * waste. Never turned past the upright, so that it is not read upside down.
 */
function waysToWrite(text: string, axisDeg: number, { font, scale, digits }: InsideOptions): WritingWay[] {
  const { largestMm, smallestMm } = digits;
  const sizes = Array.from({ length: SIZES }, (_, k) => largestMm * (smallestMm / largestMm) ** (k / (SIZES - 1)));
  const em = (mm: number) => emOfCap(mm, font) / scale;
  const least = { text, em: em(smallestMm), bold: false };
  const turned = [-90, ...TURNS_FROM_AXIS.map((by) => readable(axisDeg + by))].map((turn) => ({ ...least, turn }));
  const [clearMm, tightMm] = [CLEARANCE_MM / scale, TIGHT_MM / scale];
  return [
    ...[...new Set(sizes)].map((mm) => ({ wording: { text, em: em(mm), bold: true }, clearMm })),
    ...[least, ...turned].map((wording) => ({ wording, clearMm })),
    ...[least, ...turned].map((wording) => ({ wording, clearMm: tightMm })),
  ];
}

function placeInside(
  opening: SheetOpening,
  { space, waste }: { space: ClearSpace; waste: WasteIndex },
  options: InsideOptions,
): { at: Point; wording: Wording } | null {
  const { font, scale } = options;
  const part = numberedPart(opening);
  for (const { wording, clearMm } of waysToWrite(
    numberText(opening, options.sheet),
    waste.axisDeg(opening, part),
    options,
  )) {
    // The widest place of the waste has no room for the height of the digits: nor has any other.
    if (capHeight(wording.em, font) / 2 + clearMm > opening.labelRoomMm + ROOM_SLACK_MM) continue;
    const room = wordBox({ x: 0, y: 0 }, wording, font, clearMm);
    const fits = wordFits(space, wording, font, clearMm);
    const at = placesFor(opening, room, STEP_MM / scale).find((p) => fits(p) && waste.isIn(opening, p, part));
    if (at) return { at, wording };
  }
  return null;
}

/** Places at which a box (around 0, 0) stays within the box of the opening: the widest place first, then on a grid, the nearest to it first. */
function placesFor({ box, labelAt }: SheetOpening, room: Box, stepMm: number): Point[] {
  const x0 = box.x0 - room.x0;
  const y0 = box.y0 - room.y0;
  const wide = box.x1 - room.x1 - x0;
  const high = box.y1 - room.y1 - y0;
  if (wide < 0 || high < 0) return [];
  const step = Math.max(stepMm, Math.sqrt((wide * high) / TRIES), (wide + high) / TRIES);
  const across = Math.floor(wide / step);
  const down = Math.floor(high / step);
  const places: Point[] = [];
  for (let i = 0; i <= across; i++) {
    for (let j = 0; j <= down; j++) {
      places.push({ x: x0 + ((i + 0.5) * wide) / (across + 1), y: y0 + ((j + 0.5) * high) / (down + 1) });
    }
  }
  const far = (p: Point) => distance(p, labelAt);
  return [labelAt, ...places.sort((a, b) => far(a) - far(b))];
}
