import { COLOURS, PAPER } from '../../draw/palette.js';
import { textWidthMm } from '../../draw/text.js';
import type { FontMetrics, Item } from '../../draw/types.js';
import { turnedPairs, withStop } from '../../draw/upright-numbers.js';
import { boxContour } from '../../geometry/contour.js';
import type { Box } from '../../geometry/types.js';
import type { MapPlacement } from './face.js';

/** Sizes of a placement's number, mm em: as large as there is room for. */
const NUMBER_EM_MM = { least: 2.2, most: 5 } as const;
/** The name below it is so much smaller. */
const NAME_SHARE = 0.62;
const NAME_LEAST_MM = 1.6;
/** Of a line's em: its height, and what the plate keeps free around the words. */
const LINE = 1.15;
const PAD_MM = 0.5;
/** Numbers take at most this share of a placement, so that its hatching still shows. */
const SHARE = { width: 0.72, height: 0.62 } as const;

/** `2-14`: the 14th of pass 2. */
export function placementNumber({ pass, order }: Pick<MapPlacement, 'pass' | 'order'>): string {
  return `${pass}-${order}`;
}

/** How long the longest number and the longest name are, in em of the number: all are set alike. */
export interface LongestLabel {
  readonly number: number;
  readonly name: number;
  /** Numbers that read as another one's upside down: they have a full stop at their foot. */
  readonly stopped: ReadonlySet<string>;
}

/** The longest of a plan's numbers and names. */
export function longestLabel(placements: readonly MapPlacement[], font: FontMetrics): LongestLabel {
  let [pass, order, column, row] = [1, 1, 1, 1];
  for (const placement of placements) {
    pass = Math.max(pass, placement.pass);
    order = Math.max(order, placement.order);
    column = Math.max(column, placement.column);
    row = Math.max(row, placement.row);
  }
  const stopped = turnedPairs(placements.map(placementNumber));
  const width = (text: string, bold: boolean): number =>
    textWidthMm(text.replace(/\d/g, '0'), { sizeMm: 1, bold }, font);
  return {
    number: width(`${placementNumber({ pass, order })}${stopped.size > 0 ? '.' : ''}`, true),
    name: NAME_SHARE * width(`c${column}r${row}`, false),
    stopped,
  };
}

/** The least a field may measure on the page so that half of it still holds the longest number. */
export function leastField({ number }: LongestLabel): { width: number; height: number } {
  return {
    width: NUMBER_EM_MM.least * number + 4 * PAD_MM,
    height: 2 * (NUMBER_EM_MM.least * LINE + 2 * PAD_MM),
  };
}

/** A placement's number and its name on a plate in the middle of a box of the page; the number alone where both do not fit; null where it does not. */
export function placementLabel(
  placement: MapPlacement,
  box: Box,
  { longest, font }: { readonly longest: LongestLabel; readonly font: FontMetrics },
): Item[] | null {
  const number = withStop(placementNumber(placement), longest.stopped);
  const [width, height] = [box.x1 - box.x0, box.y1 - box.y0];
  const numberWidth = textWidthMm(number, { sizeMm: 1, bold: true }, font);
  const nameWidth = NAME_SHARE * textWidthMm(placement.id, { sizeMm: 1 }, font);
  const both = Math.min(
    NUMBER_EM_MM.most,
    (SHARE.width * width) / Math.max(longest.number, longest.name),
    (SHARE.height * height) / (LINE * (1 + NAME_SHARE)),
  );
  if (both >= NUMBER_EM_MM.least && both * NAME_SHARE >= NAME_LEAST_MM) {
    return set(box, [
      { text: number, em: both, bold: true, width: both * numberWidth },
      { text: placement.id, em: both * NAME_SHARE, bold: false, width: both * nameWidth },
    ]);
  }
  const alone = Math.min(
    NUMBER_EM_MM.most,
    (width - 2 * PAD_MM) / longest.number,
    (height - 2 * PAD_MM) / LINE,
    Math.max(NUMBER_EM_MM.least, both),
  );
  if (alone < NUMBER_EM_MM.least - 1e-9) return null;
  return set(box, [{ text: number, em: alone, bold: true, width: alone * numberWidth }]);
}

interface Line {
  readonly text: string;
  readonly em: number;
  readonly bold: boolean;
  readonly width: number;
}

function set(box: Box, lines: readonly Line[]): Item[] {
  const [x, y] = [(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2];
  const height = lines.reduce((sum, { em }) => sum + em * LINE, 0);
  const width = Math.max(...lines.map((line) => line.width));
  const plate = {
    x0: x - width / 2 - PAD_MM,
    y0: y - height / 2 - PAD_MM / 2,
    x1: x + width / 2 + PAD_MM,
    y1: y + height / 2 + PAD_MM / 2,
  };
  let top = y - height / 2;
  const items: Item[] = [{ kind: 'path', contours: [boxContour(plate)], fill: PAPER }];
  for (const { text, em, bold } of lines) {
    items.push({
      kind: 'text',
      text,
      x,
      y: top + em * (LINE / 2 + 0.35),
      sizeMm: em,
      colour: COLOURS.black,
      anchor: 'middle',
      ...(bold && { bold }),
    });
    top += em * LINE;
  }
  return items;
}
