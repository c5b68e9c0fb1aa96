import type { FaceMetrics, FontMetrics } from '../../draw/types.js';

/** Signs beyond ASCII that the drawings' own words use. */
const SIGNS = '·×÷±−–…°′″';

/** A made-up font for tests: letters half an em wide, `i` a quarter of one; the bold face twice as wide. */
export function sampleFont(): FontMetrics {
  return { regular: face(1), bold: face(2) };
}

function face(times: number): FaceMetrics {
  const advances = new Map<number, number>();
  for (let code = 0x20; code < 0x7f; code++) advances.set(code, 500 * times);
  for (const sign of SIGNS) advances.set(sign.codePointAt(0) as number, 500 * times);
  advances.set(0x69, 250 * times);
  advances.set(0xfffd, 1000 * times);
  return { unitsPerEm: 1000, ascent: 800, descent: -200, capHeight: 700, advances };
}
