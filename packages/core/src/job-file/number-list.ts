import { InputError } from '../units/input-error.js';
import { quote } from '../units/quote.js';

/** The highest number of an opening: a guard. */
export const NUMBER_MAX = 1_000_000;

/** Most numbers that one list may name: a guard. */
const COUNT_MAX = 100_000;

/**
 * Reads numbers and ranges as a person writes them, such as `1-20, 24`; commas, spaces and semicolons part them. Sorted, each once. What can't be read
 * throws an `InputError`.
 */
export function parseNumbers(text: string): number[] {
  const numbers = new Set<number>();
  // A range may be written with spaces around its dash.
  for (const item of text.replaceAll(/\s*[-–]\s*/g, '-').split(/[\s,;]+/)) {
    if (item === '') continue;
    const match = /^(\d{1,7})(?:-(\d{1,7}))?$/.exec(item);
    if (match === null) throw new InputError(`${quote(item)} is no number of an opening: write "14" or "20-30".`);
    const from = Number(match[1]);
    const to = Number(match[2] ?? match[1]);
    if (from < 1 || to > NUMBER_MAX) {
      throw new InputError(`${quote(item)} is no number of an opening: they go from 1 to ${NUMBER_MAX}.`);
    }
    if (to < from) throw new InputError(`${quote(item)} runs backwards: write "${to}-${from}".`);
    if (numbers.size + to - from > COUNT_MAX)
      throw new InputError(`More than ${COUNT_MAX} numbers are named: name fewer.`);
    for (let n = from; n <= to; n++) numbers.add(n);
  }
  return [...numbers].sort((a, b) => a - b);
}

/** Sorted numbers in as few words as can be: `1-20, 24`. Two in a row stay two. */
export function numbersText(numbers: readonly number[]): string {
  const parts: string[] = [];
  for (let k = 0; k < numbers.length; ) {
    let end = k;
    while (end + 1 < numbers.length && numbers[end + 1] === numbers[end] + 1) end++;
    if (end - k < 2) {
      parts.push(String(numbers[k]));
      k++;
    } else {
      parts.push(`${numbers[k]}-${numbers[end]}`);
      k = end + 1;
    }
  }
  return parts.join(', ');
}
