import { formatMm, nearestInches, parseLength } from '@okuri/core';

/** What the window counts in. */
export type Units = 'mm' | 'in';

/** Parts of an inch in which lengths are shown: the finest marks of a ruler. */
const RULER_PARTS = 64;
/** A length this near to a mark of the ruler is shown as that mark, mm; else in decimals. */
const ON_MARK_MM = 0.005;

/** A length for a person in the units of the window: `250 mm`, `9 7/8 in`, `9.843 in`. */
export function lengthText(mm: number, units: Units): string {
  if (units === 'mm') return formatMm(mm);
  const { text, errorMm } = nearestInches(mm, RULER_PARTS);
  return Math.abs(errorMm) <= ON_MARK_MM ? `${text} in` : `${Number((mm / 25.4).toFixed(3))} in`;
}

/** What a person typed, with a unit to it: a bare number is in the units of the window. Throws an `InputError` for what is no length. */
export function lengthValue(text: string, units: Units): string {
  parseLength(text, { defaultUnit: units });
  const clean = text.trim();
  return /[^\d\s./+½¼¾⅛⅜⅝⅞⅓⅔-]/u.test(clean) ? clean : `${clean}${units}`;
}
