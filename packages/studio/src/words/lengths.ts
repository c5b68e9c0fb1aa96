import { formatMm, parseLength } from '@okuri/core';
import { inchFigure, MM_PER_INCH } from '@okuri/core/inside';

/** What the window counts in. */
export type Units = 'mm' | 'in';

/** A length this near to a mark of the ruler is shown as that mark, mm; else in decimals. */
const ON_MARK_MM = 0.005;

/** A length that is told, in the units of the window: `250 mm`, `9 27/32 in`, the same figure as on paper. */
export function lengthWords(mm: number, units: Units): string {
  return units === 'mm' ? formatMm(mm) : `${inchFigure(mm).text} in`;
}

/** A length in a field, exact enough to be read back: `250 mm`, `9 7/8 in`, `9.843 in`. */
export function lengthText(mm: number, units: Units): string {
  if (units === 'mm') return formatMm(mm);
  const { text, errorMm } = inchFigure(mm);
  return Math.abs(errorMm) <= ON_MARK_MM ? `${text} in` : `${Number((mm / MM_PER_INCH).toFixed(3))} in`;
}

/** What a person typed, with a unit to it: a bare number is in the units of the window. Throws an `InputError` for what is no length. */
export function lengthValue(text: string, units: Units): string {
  parseLength(text, { defaultUnit: units });
  const clean = text.trim();
  return /[^\d\s./+½¼¾⅛⅜⅝⅞⅓⅔-]/u.test(clean) ? clean : `${clean}${units}`;
}

/** Lengths with commas between them, each as `lengthValue` gives it; nothing typed is an empty list. Throws an `InputError` for what is no length. */
export function lengthList(text: string, units: Units): string[] {
  const parts = text.split(/[,;]/).map((part) => part.trim());
  return parts.filter((part) => part !== '').map((part) => lengthValue(part, units));
}
