import { MM_PER_INCH, PIXELS_PER_INCH, POINTS_PER_INCH } from './constants.js';
import { InputError } from './input-error.js';
import { quote } from './quote.js';

/** The units a length may be written in. */
export type LengthUnit = 'mm' | 'cm' | 'm' | 'in' | 'ft' | 'yd' | 'pt' | 'px';

export interface ParseLengthOptions {
  /** What a bare number means; without it a bare number is refused. */
  readonly defaultUnit?: LengthUnit;
}

/** Longer than any bolt of cloth by far: a slip of the pen. */
export const MAX_LENGTH_MM = 1e7;

/** A text longer than this is no length. */
const TEXT_MAX = 100;

const MM_PER_UNIT: Readonly<Record<LengthUnit, number>> = {
  mm: 1,
  cm: 10,
  m: 1000,
  in: MM_PER_INCH,
  ft: 12 * MM_PER_INCH,
  yd: 36 * MM_PER_INCH,
  pt: MM_PER_INCH / POINTS_PER_INCH,
  px: MM_PER_INCH / PIXELS_PER_INCH,
};

/** How people write the units, in lower case. Single signs of quotation stand for feet, double ones for inches. */
const UNIT_NAMES: ReadonlyMap<string, LengthUnit> = new Map<string, LengthUnit>([
  ...(['mm', 'cm', 'm', 'in', 'ft', 'yd', 'pt', 'px'] as const).map((unit): [string, LengthUnit] => [unit, unit]),
  ...(['millimetre', 'millimetres', 'millimeter', 'millimeters'] as const).map((n): [string, LengthUnit] => [n, 'mm']),
  ...(['centimetre', 'centimetres', 'centimeter', 'centimeters'] as const).map((n): [string, LengthUnit] => [n, 'cm']),
  ...(['metre', 'metres', 'meter', 'meters'] as const).map((n): [string, LengthUnit] => [n, 'm']),
  ...(['inch', 'inches', '"', '″', '”', "''", '′′'] as const).map((n): [string, LengthUnit] => [n, 'in']),
  ...(['foot', 'feet', "'", '′', '’'] as const).map((n): [string, LengthUnit] => [n, 'ft']),
  ...(['yard', 'yards', 'yds'] as const).map((n): [string, LengthUnit] => [n, 'yd']),
]);

/** One sign that stands for a fraction, and the same written out. */
const FRACTION_SIGNS: Readonly<Record<string, string>> = {
  '½': '1/2',
  '⅓': '1/3',
  '⅔': '2/3',
  '¼': '1/4',
  '¾': '3/4',
  '⅛': '1/8',
  '⅜': '3/8',
  '⅝': '5/8',
  '⅞': '7/8',
};

const AMOUNT_AND_UNIT = /^([+-]?)(.*?)\s*([^\d\s./+-]*)\.?$/su;
const DECIMAL = /^(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?$/i;
const FRACTION = /^(?:(\d+)(?:\s+|-))?(\d+)\s*\/\s*(\d+)$/;

/**
 * A length as a person writes it, in mm: `250mm`, `9 7/8in`, `36 cm`, `9 7/8"`, `1 1/2 yd`, `2.5m`, `12pt`, `300px` (96 to the
 * inch). Zero is a length. Throws an `InputError` for anything else: no unit, an unknown one, a decimal comma, a length below
 * zero, one beyond `MAX_LENGTH_MM`.
 */
export function parseLength(text: string, options: ParseLengthOptions = {}): number {
  const written = quote(text);
  const clean = text.length > TEXT_MAX ? '' : spellFractions(text.trim().replaceAll('\u2212', '-'));
  if (text.trim() === '') throw new InputError('The length is empty: write a number and a unit, such as "250mm".');
  if (clean === '')
    throw new InputError(`${written} is too long for a length: write a number and a unit, such as "250mm".`);
  if (/\d\s*,\s*\d/.test(clean)) {
    throw new InputError(
      `The length ${written} has a comma: write a point before the decimals, such as "2.5cm", and nothing between thousands.`,
    );
  }
  const [, sign, amountText, unitText] = splitUnit(clean);
  const amount = readAmount(amountText);
  if (amount === null) {
    throw new InputError(
      `The length ${written} can't be read: write a number and a unit, such as "250mm", "36cm" or "9 7/8in".`,
    );
  }
  const unit = unitText === '' ? options.defaultUnit : UNIT_NAMES.get(unitText.toLowerCase());
  if (unit === undefined) {
    throw new InputError(
      unitText === ''
        ? `The length ${written} has no unit: write one after the number, such as "${amountText}mm" or "${amountText}in".`
        : `The length ${written} has the unknown unit ${quote(unitText)}: use mm, cm, m, in, ft, yd, pt or px.`,
    );
  }
  // The units that are a whole part of an inch are divided last, so that 9 7/8 in is 250.825 mm exactly.
  const mm = (amount.numerator * MM_PER_UNIT[unit]) / amount.denominator;
  if (sign === '-' && mm !== 0) {
    throw new InputError(`The length ${written} is below zero: write it without the minus sign.`);
  }
  if (!(mm <= MAX_LENGTH_MM)) {
    throw new InputError(
      `The length ${written} is longer than ${MAX_LENGTH_MM / 1e6} km: check the number and its unit.`,
    );
  }
  return mm;
}

function spellFractions(text: string): string {
  return text.replaceAll('⁄', '/').replaceAll(/[½⅓⅔¼¾⅛⅜⅝⅞]/g, (sign) => ` ${FRACTION_SIGNS[sign]}`);
}

function splitUnit(text: string): readonly string[] {
  // "e" of an exponent belongs to the number: only signs of a unit's own follow the last digit.
  return (AMOUNT_AND_UNIT.exec(text) ?? ['', '', text, '']).map((part) => part.trim());
}

function readAmount(text: string): { numerator: number; denominator: number } | null {
  if (DECIMAL.test(text)) return { numerator: Number(text), denominator: 1 };
  const [, whole, numerator, denominator] = FRACTION.exec(text) ?? [];
  if (denominator === undefined || Number(denominator) === 0) return null;
  return { numerator: Number(whole ?? 0) * Number(denominator) + Number(numerator), denominator: Number(denominator) };
}
