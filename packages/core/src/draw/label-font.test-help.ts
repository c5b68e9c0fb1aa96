import type { FaceMetrics, FontMetrics } from './types.js';

/** Advances of the made-up font, in thousandths of an em: about those of a condensed sans. */
const REGULAR = 530;
const BOLD = 620;
const FIRST = 0x20;
const LAST = 0x2122;

/** A made-up font for tests of labels, as condensed as the one that is drawn with, in which all characters are equally wide. */
export function labelFont(): FontMetrics {
  return { regular: face(REGULAR), bold: face(BOLD) };
}

function face(advance: number): FaceMetrics {
  const advances = new Map<number, number>();
  for (let code = FIRST; code <= LAST; code++) advances.set(code, advance);
  return { unitsPerEm: 1000, ascent: 930, descent: -240, capHeight: 730, advances };
}
