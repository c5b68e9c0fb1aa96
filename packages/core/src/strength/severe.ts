import type { NarrowPlace } from './types.js';

/** A narrow strip longer than this many of its widths tears, or its slit clogs (common practice, no published source). */
export const GRAVE_WIDTHS = 5;
/** Paper above this that hangs on one narrow place tears off as the sheet is lifted, mm² (common practice, no published source). */
export const GRAVE_HANGS_MM2 = 150;

/** Whether a narrow place has to be mended before cutting: it is long for its width, or much hangs on it. */
export function isSevere({ lengthMm, widthMm, hangsMm2 }: NarrowPlace): boolean {
  return lengthMm > GRAVE_WIDTHS * widthMm || hangsMm2 > GRAVE_HANGS_MM2;
}
