import { InputError, parseLength } from '@okuri/core';
import { lengthText, lengthValue, type Units } from './lengths';

/** Farther a knife does not go astray, mm: a typed offset beyond is a slip. As the job file has it. */
const OFFSET_MAX_MM = 10;

/** A length with its sign: `+0.40 mm`, `−1/64 in`. */
export function offsetText(mm: number, units: Units): string {
  const text = units === 'mm' ? `${Math.abs(mm).toFixed(2)} mm` : lengthText(Math.abs(mm), units);
  if (Math.abs(mm) < LEAST_MM) return text;
  return `${mm < 0 ? '−' : '+'}${text}`;
}

const LEAST_MM = 0.005;

/**
 * An offset as a person types it: `0.4`, `-0.2mm`, `+1/64in`; a bare number is in the units of the window. Null for nothing (or `none`), which takes it
 * back. Throws an `InputError` for what can't be read.
 */
export function readOffset(text: string, units: Units): number | null {
  const clean = text.trim();
  if (clean === '' || /^none$/i.test(clean)) return null;
  const [, sign, amount] = /^([+\-\u2212]?)\s*(.*)$/s.exec(clean) as RegExpExecArray;
  const mm = parseLength(lengthValue(amount, units));
  if (mm > OFFSET_MAX_MM) {
    throw new InputError(`An offset of ${text} is a slip: at most ${lengthText(OFFSET_MAX_MM, units)} are taken.`);
  }
  return sign === '' || sign === '+' ? mm : -mm + 0;
}
