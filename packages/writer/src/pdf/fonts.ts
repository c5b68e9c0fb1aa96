import type { Font } from 'fontkit';
import { bundledFace, type Face } from '../text/faces.js';

/** The parts of pdfkit's embedded font that write a subset, beyond its published types. */
interface EmbeddedFont {
  readonly id: string;
  readonly scale: number;
  readonly subset: { includeGlyph(glyph: number): number };
  readonly widths: (number | undefined)[];
  readonly unicode: (readonly number[] | undefined)[];
  ref(): unknown;
}

/** A face in a PDF document. */
export interface PdfFace {
  /** The name of the font in resources. */
  readonly name: string;
  readonly reference: unknown;
  /** Characters as the hexadecimal codes of a `Tj` operand. */
  readonly encode: (codePoints: readonly number[]) => string;
}

/** The bundled faces in a document; each is embedded when first asked for, with the characters in use only. */
export function pdfFaces(document: PDFKit.PDFDocument): (bold: boolean) => PdfFace {
  const faces = new Map<boolean, PdfFace>();
  return (bold) => {
    const known = faces.get(bold);
    if (known !== undefined) return known;
    const made = embed(document, bundledFace(bold));
    faces.set(bold, made);
    return made;
  };
}

function embed(document: PDFKit.PDFDocument, { font }: Face): PdfFace {
  document.font(font as unknown as PDFKit.Mixins.PDFFontSource);
  const embedded = (document as unknown as { readonly _font: EmbeddedFont })._font;
  const codes = new Map<number, string>();
  const encode = (codePoint: number): string => {
    const known = codes.get(codePoint);
    if (known !== undefined) return known;
    const code = include(embedded, font, codePoint);
    codes.set(codePoint, code);
    return code;
  };
  return {
    name: embedded.id,
    reference: embedded.ref(),
    encode: (codePoints) => codePoints.map(encode).join(''),
  };
}

// Not pdfkit's own `encode`: that one sets ligatures, and remembers with the font which character first asked for a glyph, so
// that a second document could come out differently.
function include(embedded: EmbeddedFont, font: Font, codePoint: number): string {
  const glyph = font.glyphForCodePoint(codePoint);
  const code = embedded.subset.includeGlyph(glyph.id);
  embedded.widths[code] ??= glyph.advanceWidth * embedded.scale;
  embedded.unicode[code] ??= [codePoint];
  return code.toString(16).padStart(4, '0');
}
