import type { Sheet, SheetOpening } from '../stencil/types.js';
import type { ClearSpace } from './clear-space.js';
import { type DigitSizes, numbersInside } from './number-inside.js';
import { numbersWithLeaders } from './number-leaders.js';
import type { FontMetrics, Item } from './types.js';
import type { WasteIndex } from './waste-index.js';

export { numberText } from './number-inside.js';

/** On the cartoon itself: read from 60 cm, mm. */
export const FULL_SIZE_DIGITS: DigitSizes = { largestMm: 5, smallestMm: 4 };
/** On a picture at another scale, which is held in the hand, mm. */
export const PICTURE_DIGITS: DigitSizes = { largestMm: 3.65, smallestMm: 1.65 };

export interface NumberOptions {
  readonly font: FontMetrics;
  /** At which the drawing is seen: sizes are divided by it, so that they hold on the page. */
  readonly scale: number;
  /** Longest leader, mm on the page. */
  readonly reachMm: number;
  readonly digits: DigitSizes;
}

/** Numbers and leaders as drawn, and the openings for which no free place was found. */
export interface PlacedNumbers {
  readonly labels: readonly Item[];
  readonly leaders: readonly Item[];
  readonly missing: readonly SheetOpening[];
}

/**
 * The number of every given opening: in its waste where it fits there, else on free paper nearby with a leader, which crosses no line of
 * another opening and never a word. `between` is called after the numbers inside, which have no choice of place, and before the leaders, which have one.
 * What is placed is added to `space`. Sheet mm.
 */
export function placeNumbers(
  openings: readonly SheetOpening[],
  sheet: Sheet,
  where: { space: ClearSpace; waste: WasteIndex },
  options: NumberOptions & { readonly between?: () => void },
): PlacedNumbers {
  const { font, scale, reachMm, digits, between } = options;
  const inside = numbersInside(openings, where, { font, scale, digits, sheet });
  between?.();
  const led = numbersWithLeaders(inside.waiting, where, { font, scale, reachMm, digitMm: digits.smallestMm, sheet });
  return { labels: [...inside.items, ...led.labels], leaders: led.leaders, missing: led.missing };
}
