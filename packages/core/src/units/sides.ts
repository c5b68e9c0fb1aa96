import { parseLength } from './length.js';

/**
 * Reads the two sides of a rectangle as a person writes them, width first: `329mm x 483mm`, `13 x 19 in` (a unit after the second side alone counts for
 * both), in mm. Null where there are not two sides. Throws an `InputError` for a side that can't be read.
 */
export function parseSides(text: string): readonly [widthMm: number, heightMm: number] | null {
  // The x of "px" is part of a unit.
  const sides = text.split(/(?<!p)x|[×*]/i).map((side) => side.trim());
  if (sides.length !== 2) return null;
  const unit = /[^\d\s./]+$/.exec(sides[1])?.[0] ?? '';
  const first = /\d$/.test(sides[0]) ? sides[0] + unit : sides[0];
  return [parseLength(first), parseLength(sides[1])];
}
