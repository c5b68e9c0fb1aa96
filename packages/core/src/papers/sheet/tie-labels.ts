import type { ClearSpace } from '../../draw/clear-space.js';
import { type PlacedTags, placeTags } from '../../draw/name-tags.js';
import { FULL_SIZE_DIGITS, PICTURE_DIGITS } from '../../draw/number-labels.js';
import type { FontMetrics } from '../../draw/types.js';
import type { WasteIndex } from '../../draw/waste-index.js';
import type { Sheet } from '../../stencil/types.js';
import type { NamedTie } from './paper-names.js';
import { tieStarts } from './tie-marks.js';

/** Where no place is free at the size of the numbers, mm on the page. */
const SMALLER_MM = 3;
/** Longest leader from a tie to its name, mm on the page. */
const REACH_MM = 25;
/** Kept free along the edge of the paper, mm on the page. */
const EDGE_MM = 2;

/**
 * The name of every tie beside it on the cartoon: on paper where there is room, else in waste, on no line and no other word. What is placed is added to the
 * space. Sheet mm.
 */
export function tieLabels(
  sheet: Sheet,
  ties: readonly NamedTie[],
  { space, waste }: { space: ClearSpace; waste: WasteIndex },
  { font, scale }: { font: FontMetrics; scale: number },
): PlacedTags {
  if (ties.length === 0) return { items: [], missing: [] };
  const edge = EDGE_MM / scale;
  const frame = { x0: edge, y0: edge, x1: sheet.widthMm - edge, y1: sheet.heightMm - edge };
  const tags = ties.map(({ name, tie }) => ({ text: name, starts: tieStarts(tie, scale) }));
  const capsMm = scale === 1 ? [FULL_SIZE_DIGITS.smallestMm, SMALLER_MM] : [PICTURE_DIGITS.smallestMm];
  const inWaste = (p: { x: number; y: number }) => waste.at(p) !== null;
  return placeTags(tags, { space, font, frame, inWaste }, { capsMm, reachMm: REACH_MM, scale });
}
