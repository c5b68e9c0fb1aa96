import type { Sheet } from '../stencil/types.js';
import { formatMm } from '../units/format.js';
import { drawCartoon } from './cartoon.js';
import { measureWords } from './measure-words.js';
import { sheetName, tieWords } from './paper-words.js';
import { roundDrawing } from './round.js';
import { faceUpBaseline } from './sheet-words.js';
import { textBlock } from './text-block.js';
import type { Drawing, FontMetrics, LayerItem, TextItem } from './types.js';
import { replacedWords, writableText } from './writable-text.js';

export interface StencilDrawingOptions {
  readonly title: string;
  /** `YYYY-MM-DD`. */
  readonly date: string;
  /** What is cut and how it is printed, in sentences. */
  readonly statements: readonly string[];
  readonly font: FontMetrics;
}

/** Words in the border, mm em: as large as fits. */
const SIZES_MM = [3.2, 2.8, 2.4, 2, 1.6];
/** Kept free next to the design for letters, rings and the words along the hold line, mm. */
const BESIDE_DESIGN_MM = 10;
/** Numbers without a place that are named one by one. */
const NAMED_MISSING = 24;
const LONGEST_MISSING: readonly number[] = Array.from({ length: NAMED_MISSING }, () => 8888);
/** Kept free along the edge of the paper, mm. */
const EDGE_MM = 3;

/**
 * The cutting drawing of one sheet at full size: the cartoon's layers, and a `title` layer with title block and dot measures in the border.
 * One page as large as the sheet.
 */
export function stencilDrawing(sheet: Sheet, options: StencilDrawingOptions): Drawing {
  const { date, font } = options;
  const measures = measuresBlock(sheet, font);
  // Which numbers find no place is not known yet: the title keeps its place free as it is without them, and with as many as are ever named.
  const title = [[], LONGEST_MISSING].flatMap((missing) => titleBlock(sheet, options, missing));
  const { layers, missingNumbers, missingTies } = drawCartoon(sheet, { font, keepClearOf: [...title, ...measures] });
  const missing = [...missingNumbers, ...missingTies];
  const block: LayerItem = {
    kind: 'layer',
    id: 'title',
    label: 'Title block and dot measures',
    items: [...titleBlock(sheet, options, missing), ...measures],
  };
  const items = [...layers, block];
  const name = sheet.count > 1 ? `${options.title} – ${sheetName(sheet)}` : options.title;
  const page = { name, widthMm: sheet.widthMm, heightMm: sheet.heightMm, items };
  return roundDrawing({ title: name, date, groups: {}, pages: [page] });
}

function titleBlock(
  sheet: Sheet,
  { title, date, statements, font }: StencilDrawingOptions,
  missing: readonly (number | string)[],
): TextItem[] {
  const { field, widthMm, heightMm, ink } = sheet;
  const box = {
    x0: field.x0,
    y0: faceUpBaseline(sheet, { font, scale: 1 }) + 2,
    x1: widthMm - EDGE_MM,
    y1: field.y0 - BESIDE_DESIGN_MM,
  };
  const written = writableText(title, font);
  const ties = tieWords(sheet);
  const named = sheetName(sheet);
  const size = `Full size, ${formatMm(widthMm, 1)} × ${formatMm(heightMm, 1)}.`;
  return textBlock(
    [
      { text: written.text, bold: true },
      { text: `S${named.slice(1)}, ink ${ink}. ${date}. ${size}` },
      ...statements.map((text) => ({ text })),
      {
        text: 'Solid outline: first cut, grey comes out. Dotted outline: second cut, not yet: it waits for the proof.',
      },
      ...(ties !== null ? [{ text: ties }] : []),
      ...replacedWords('title', written).map((text) => ({ text })),
      ...(missing.length > 0 ? [{ text: missingWords(missing) }] : []),
    ],
    box,
    { font, sizesMm: SIZES_MM },
  );
}

/** Numbers, and names of ties, without a place: one by one while they are few. */
function missingWords(missing: readonly (number | string)[]): string {
  return missing.length <= NAMED_MISSING
    ? `No room for the ${missing.every((m) => typeof m === 'number') ? 'numbers' : 'names'} ${missing.join(', ')}: see the cut guide.`
    : `No room for ${missing.length} of the numbers: see the cut guide.`;
}

function measuresBlock(sheet: Sheet, font: FontMetrics): TextItem[] {
  const { field, widthMm, heightMm } = sheet;
  const box = { x0: field.x0, y0: field.y1 + BESIDE_DESIGN_MM - 2, x1: widthMm - EDGE_MM, y1: heightMm - EDGE_MM / 2 };
  if (sheet.measures.length === 0) return [];
  return textBlock(
    [{ text: 'Dots, centre to centre:', bold: true }, ...sheet.measures.map((m) => ({ text: measureWords(m) }))],
    box,
    { font, sizesMm: SIZES_MM, columnMm: 85 },
  );
}
