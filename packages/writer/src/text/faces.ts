import type { FaceMetrics, FontMetrics } from '@okuri/core';
import { create, type Font } from 'fontkit';
import { faceFile } from '#face-files';

/** Drawn for a character that the font lacks; both faces have it. */
export const REPLACEMENT_CODE_POINT = 0xfffd;

/** One face of the bundled font. */
export interface Face {
  readonly font: Font;
  readonly metrics: FaceMetrics;
}

const loaded = new Map<'regular' | 'bold', Face>();
let metrics: FontMetrics | undefined;

/** The regular or the bold face, read at the first call and kept. */
export function bundledFace(bold: boolean): Face {
  const name = bold ? 'bold' : 'regular';
  const known = loaded.get(name);
  if (known !== undefined) return known;
  const file = faceFile(name);
  const font = create(file as Buffer) as Font;
  const face = { font, metrics: faceMetrics(font, file) };
  loaded.set(name, face);
  return face;
}

/** The widths of the bundled font as plain data, so that labels can be placed without the font. Read once and kept. */
export function fontMetrics(): FontMetrics {
  metrics ??= { regular: bundledFace(false).metrics, bold: bundledFace(true).metrics };
  return metrics;
}

/** What fontkit reads of a TrueType file beyond its published types. */
interface FontTables {
  readonly _cmapProcessor: { lookup(codePoint: number): number };
  readonly directory: { readonly tables: { readonly hmtx: { readonly offset: number } } };
  readonly hhea: { readonly numberOfMetrics: number };
}

function faceMetrics(font: Font, file: Uint8Array): FaceMetrics {
  // Straight from the tables: a glyph object for each of 6,000 characters would take many times as long.
  const { _cmapProcessor: cmap, directory, hhea } = font as unknown as FontTables;
  const { offset } = directory.tables.hmtx;
  const bytes = new DataView(file.buffer, file.byteOffset, file.byteLength);
  const advances = new Map<number, number>();
  for (const codePoint of font.characterSet) {
    const glyph = cmap.lookup(codePoint);
    // Records of advance and bearing, two bytes each; glyphs past the last record share its advance (OpenType, `hmtx`).
    const record = Math.min(glyph, hhea.numberOfMetrics - 1);
    if (glyph !== 0) advances.set(codePoint, bytes.getUint16(offset + 4 * record));
  }
  return {
    unitsPerEm: font.unitsPerEm,
    ascent: font.ascent,
    descent: font.descent,
    // The font's OS/2 table is too old to state it.
    capHeight: font.glyphForCodePoint(0x48).bbox.maxY,
    advances,
  };
}
