import { InputError, type Matrix, type TextItem } from '@okuri/core';
import { bundledFace, type Face, REPLACEMENT_CODE_POINT } from './faces.js';

/** A text item set in the bundled font. */
export interface TextLayout {
  readonly face: Face;
  /** Code points that the face has, and where each begins along the baseline, mm from the start of the text. */
  readonly glyphs: readonly { readonly codePoint: number; readonly x: number }[];
  /** Length along the baseline, mm. */
  readonly width: number;
  /** From the text's own frame (baseline along +x from the start, y down, mm) to the page or group. */
  readonly matrix: Matrix;
}

/**
 * Sets one line of text: a character after the other by its advance, with neither kerning nor ligatures, so that its length is
 * the sum of `FaceMetrics.advances`. A character that the font lacks becomes U+FFFD. Throws an `InputError` for a size that
 * is not a positive length.
 */
export function layoutText(item: TextItem): TextLayout {
  if (!(item.sizeMm > 0 && item.sizeMm < Infinity)) {
    throw new InputError(`The text "${item.text}" has the size ${item.sizeMm} mm; it has to be above zero.`);
  }
  const face = bundledFace(item.bold ?? false);
  const { advances, unitsPerEm } = face.metrics;
  const scale = item.sizeMm / unitsPerEm;
  const glyphs: { codePoint: number; x: number }[] = [];
  let x = 0;
  for (const character of item.text) {
    const wanted = character.codePointAt(0) as number;
    const codePoint = advances.has(wanted) ? wanted : REPLACEMENT_CODE_POINT;
    glyphs.push({ codePoint, x });
    x += (advances.get(codePoint) ?? 0) * scale;
  }
  const start = item.anchor === 'middle' ? -x / 2 : item.anchor === 'end' ? -x : 0;
  const [cos, sin] = turned(item.turn ?? 0);
  return { face, glyphs, width: x, matrix: [cos, sin, -sin, cos, item.x + cos * start, item.y + sin * start] };
}

function turned(degrees: number): [cos: number, sin: number] {
  // Quarter turns exactly: Math.cos(π/2) is not zero.
  const quarter = degrees / 90;
  if (Number.isInteger(quarter)) {
    const k = ((quarter % 4) + 4) % 4;
    return [[1, 0, -1, 0][k], [0, 1, 0, -1][k]];
  }
  const angle = (degrees * Math.PI) / 180;
  return [Math.cos(angle), Math.sin(angle)];
}
