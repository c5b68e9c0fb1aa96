import type { ClearSpace } from '../../draw/clear-space.js';
import { measureWords } from '../../draw/measure-words.js';
import { placeTags } from '../../draw/name-tags.js';
import { roundDrawing } from '../../draw/round.js';
import { textBlock } from '../../draw/text-block.js';
import type { Drawing, FontMetrics, LayerItem, TextItem } from '../../draw/types.js';
import { replacedWords, writableText } from '../../draw/writable-text.js';
import { dotFrame } from '../../register/dots.js';
import { drySheet, punchMeasures } from '../../stencil/dry-sheet.js';
import type { JudgedSheet, Measure, Sheet } from '../../stencil/types.js';
import { formatMm } from '../../units/format.js';
import { drawCartoon } from '../sheet/cartoon.js';
import { measuredOn, movementWords, punchWords } from '../sheet/movement-words.js';
import { sheetName, tieWords } from '../sheet/paper-words.js';
import { faceUpBaseline } from '../sheet/sheet-words.js';

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
/** Kept free next to the design for letters and rings, mm. */
const BESIDE_DESIGN_MM = 10;
/** From the middle of a dot to words in the border, mm. */
const BESIDE_DOTS_MM = 4;
/** Names of joins: heights of capitals, and the longest leader, mm. */
const JOIN_CAPS_MM = [2.4, 2] as const;
const JOIN_REACH_MM = 10;
/** Numbers without a place that are named one by one. */
const NAMED_MISSING = 24;
const LONGEST_MISSING: readonly number[] = Array.from({ length: NAMED_MISSING }, () => 8888);
/** Kept free along the edge of the paper, mm. */
const EDGE_MM = 3;

/**
 * The cutting drawing of one sheet at full size: the cartoon's layers, a layer `joins` where the sheet's ends are known, and a `title` layer with title block and dot measures in the border.
 * One page as large as the sheet. Where the paper moves when it is soaked all of it is drawn as it has to be dry.
 */
export function stencilDrawing(printed: JudgedSheet, options: StencilDrawingOptions): Drawing {
  const { date, font } = options;
  const sheet = drySheet(printed);
  const toPunch = punchMeasures(printed);
  const measures = toPunch.length === 0 ? [] : measuresBlock(sheet, toPunch, font);
  // Which numbers find no place is not known yet: the title keeps its place free as it is without them, and with as many as are ever named.
  const title = [[], LONGEST_MISSING].flatMap((missing) => titleBlock(sheet, options, missing));
  const { layers, missingNumbers, missingTies, space } = drawCartoon(sheet, {
    font,
    keepClearOf: [...title, ...measures],
  });
  const missing = [...missingNumbers, ...missingTies];
  const block: LayerItem = {
    kind: 'layer',
    id: 'title',
    label: 'Title block and dot measures',
    items: [...titleBlock(sheet, options, missing), ...measures],
  };
  const items = [...layers, ...joinNames(sheet, space, font), block];
  const name = sheet.count > 1 ? `${options.title} – ${sheetName(sheet)}` : options.title;
  const page = { name, widthMm: sheet.widthMm, heightMm: sheet.heightMm, items };
  return roundDrawing({ title: name, date, groups: {}, pages: [page] });
}

function titleBlock(
  sheet: JudgedSheet,
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
  // Dots that were moved into the border keep their rings clear of words.
  if (sheet.dots.length > 0) box.y1 = Math.min(box.y1, dotFrame(sheet.dots).y0 - BESIDE_DOTS_MM);
  const written = writableText(title, font);
  const ties = tieWords(sheet);
  const moved = [movementWords(sheet), punchWords(sheet)].filter((text) => text !== null).join(' ');
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
      ...(moved !== '' ? [{ text: moved }] : []),
      ...(ties !== null ? [{ text: ties }] : []),
      ...replacedWords('title', written).map((text) => ({ text })),
      ...(missing.length > 0 ? [{ text: missingWords(missing) }] : []),
    ],
    box,
    { font, sizesMm: SIZES_MM },
  );
}

/** Names of the joins beside the held sides, in a layer of their own, where they find free paper. */
function joinNames(
  { ends: { joins }, field, widthMm, heightMm }: Sheet,
  space: ClearSpace,
  font: FontMetrics,
): LayerItem[] {
  if (joins.length === 0) return [];
  const { items } = placeTags(
    joins.map(({ name, at }) => ({ text: name, starts: [at] })),
    { space, font, frame: { x0: field.x0, y0: field.y0, x1: widthMm - EDGE_MM, y1: heightMm - EDGE_MM } },
    { capsMm: JOIN_CAPS_MM, reachMm: JOIN_REACH_MM, strictLeaders: true },
  );
  return [{ kind: 'layer', id: 'joins', label: 'Names of joins', items }];
}

/** Numbers, and names of ties, without a place: one by one while they are few. */
function missingWords(missing: readonly (number | string)[]): string {
  return missing.length <= NAMED_MISSING
    ? `No room for the ${missing.every((m) => typeof m === 'number') ? 'numbers' : 'names'} ${missing.join(', ')}: see the cut guide.`
    : `No room for ${missing.length} of the numbers: see the cut guide.`;
}

function measuresBlock(sheet: JudgedSheet, measures: readonly Measure[], font: FontMetrics): TextItem[] {
  const { field, widthMm, heightMm } = sheet;
  const below = Math.max(BESIDE_DESIGN_MM - 2, dotFrame(sheet.dots).y1 - field.y1 + BESIDE_DOTS_MM);
  const box = { x0: field.x0, y0: field.y1 + below, x1: widthMm - EDGE_MM, y1: heightMm - EDGE_MM / 2 };
  const on = measuredOn(sheet, movementWords(sheet) !== null);
  const title = on === '' ? 'Dots, centre to centre:' : `Dots, centre to centre, ${on}:`;
  return textBlock([{ text: title, bold: true }, ...measures.map((m) => ({ text: measureWords(m) }))], box, {
    font,
    sizesMm: SIZES_MM,
    columnMm: 85,
  });
}
