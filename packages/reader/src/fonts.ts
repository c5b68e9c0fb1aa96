import { type Contour, InputError } from '@okuri/core';
import opentype, { type Font, type Glyph } from 'opentype.js';
import { MAX_FONT_BYTES } from './caps.js';
import { ContourBuilder } from './contour-builder.js';

/** A font file that the user gave; `family` overrides the name that is in the file. */
export interface FontFile {
  readonly family?: string;
  readonly data: Uint8Array;
}

interface Face {
  readonly families: readonly string[];
  readonly bold: boolean;
  readonly italic: boolean;
  readonly font: Font;
}

/** A face that was found, and whether it has the weight and the slant that were asked for. */
export interface FoundFace {
  readonly font: Font;
  readonly exact: boolean;
}

/** The fonts that texts may use, found by family name. */
export class FontBook {
  private readonly faces: readonly Face[];

  /** Throws `InputError` for data that is no TrueType, OpenType or WOFF font. */
  constructor(files: readonly FontFile[]) {
    this.faces = files.map(readFace);
  }

  /** The best face for a CSS `font-family` list, weight and style; null where no family fits. */
  find(familyList: string, weight: string, style: string): FoundFace | null {
    const bold = /^(?:bold|bolder|[6-9]00)$/i.test(weight.trim());
    const italic = /italic|oblique/i.test(style);
    for (const family of splitFamilies(familyList)) {
      const fitting = this.faces.filter((face) => face.families.includes(family.toLowerCase()));
      if (fitting.length === 0) continue;
      const rank = (face: Face) => Number(face.bold === bold) * 2 + Number(face.italic === italic);
      const best = fitting.reduce((a, b) => (rank(b) > rank(a) ? b : a));
      return { font: best.font, exact: rank(best) === 3 };
    }
    return null;
  }
}

/** The names of a `font-family` list, quotes taken off. */
export function splitFamilies(list: string): string[] {
  return (list.match(/"[^"]*"|'[^']*'|[^,]+/g) ?? [])
    .map((name) => name.trim().replace(/^["']|["']$/g, ''))
    .filter((name) => name !== '');
}

/** The outline of a glyph with its baseline start at (x, y), `size` user units an em. */
export function glyphContours(glyph: Glyph, x: number, y: number, size: number): readonly Contour[] {
  const out = new ContourBuilder();
  for (const step of glyph.getPath(x, y, size).commands) {
    if (step.type === 'M') out.move(step);
    else if (step.type === 'L') out.line(step);
    else if (step.type === 'Q') out.quadratic({ x: step.x1, y: step.y1 }, step);
    else if (step.type === 'C') out.cubic({ x: step.x1, y: step.y1 }, { x: step.x2, y: step.y2 }, step);
    else out.close();
  }
  return out.finish();
}

function readFace(file: FontFile): Face {
  const said = file.family === undefined ? 'A font file' : `The font file for "${file.family}"`;
  if (file.data.length > MAX_FONT_BYTES) {
    throw new InputError(`${said} is larger than ${MAX_FONT_BYTES / 1048576} MB: give a smaller font.`);
  }
  let font: Font;
  try {
    // A copy: the data may be a window on a larger buffer.
    font = opentype.parse(Uint8Array.from(file.data).buffer);
  } catch (error) {
    const why = error instanceof Error ? error.message.replace(/\.$/, '') : String(error);
    throw new InputError(`${said} can't be read as a TrueType, OpenType or WOFF font (${why}): give another file.`);
  }
  const names = font.names as unknown as Record<string, Record<string, string> | undefined>;
  const families = ['fontFamily', 'preferredFamily', 'fullName', 'postScriptName'].flatMap((key) =>
    Object.values(names[key] ?? {}),
  );
  const subfamily = [
    ...Object.values(names.fontSubfamily ?? {}),
    ...Object.values(names.preferredSubfamily ?? {}),
  ].join(' ');
  return {
    families: (file.family === undefined ? families : [file.family]).map((name) => name.toLowerCase()),
    bold: /bold|black|heavy/i.test(subfamily),
    italic: /italic|oblique/i.test(subfamily),
    font,
  };
}
