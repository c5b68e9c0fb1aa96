import { InputError } from '../units/input-error.js';
import { quote } from '../units/quote.js';
import { numbersText } from './number-list.js';

/** The number of a tie's id: 12 for `T12`; 0 for anything else. */
export function tieNumber(id: string): number {
  const digits = /^T([1-9]\d{0,5})$/.exec(id)?.[1];
  return digits === undefined ? 0 : Number(digits);
}

/**
 * Reads ids of ties and ranges of them as a person writes them, such as `T1 T3-T5, T9`, out of the `known` ones; the word `all` stands for `all`. In the order of
 * `known`, each once. Both ends of a range have to be there; of what lies between, what is there is taken. What can't be read or is not there throws
 * an `InputError`; `where` says in it what is searched, such as `among the suggested ties`.
 */
export function parseTieIds(
  text: string,
  known: readonly string[],
  where: string,
  all: readonly string[] = known,
): string[] {
  const named = new Set<string>();
  const there = new Set(known);
  const items = text
    .replaceAll(/\s*[-–]\s*/g, '-')
    .split(/[\s,;]+/)
    .filter((item) => item !== '');
  if (items.length === 0) throw new InputError('No tie is named: write their ids, such as T1 T3-T5, or all.');
  const idOf = (item: string): string => {
    const id = `T${item.replace(/^t/i, '')}`;
    if (tieNumber(id) === 0) throw new InputError(`${quote(item)} is no id of a tie: write T1 or T3-T5, or all.`);
    if (!there.has(id)) throw new InputError(`There is no tie ${id} ${where}: okuri ties lists them.`);
    return id;
  };
  for (const item of items) {
    if (item.toLowerCase() === 'all') {
      for (const id of all) named.add(id);
      continue;
    }
    const ends = item.split('-');
    if (ends.length > 2 || !/^t/i.test(item)) {
      throw new InputError(`${quote(item)} is no id of a tie: write T1 or T3-T5, or all.`);
    }
    const [from, to] = [idOf(ends[0]), idOf(ends[ends.length - 1])];
    const [first, last] = [Number(from.slice(1)), Number(to.slice(1))];
    if (last < first) throw new InputError(`${quote(item)} runs backwards: write ${to}-${from}.`);
    for (let n = first; n <= last; n++) if (there.has(`T${n}`)) named.add(`T${n}`);
  }
  return known.filter((id) => named.has(id));
}

/** Ids in as few words as can be: `T1, T3-T5`. Two in a row stay two. */
export function tieIdsText(ids: readonly string[]): string {
  const numbers = ids.map(tieNumber).filter((n) => n > 0);
  return numbersText(numbers.sort((a, b) => a - b)).replaceAll(/\d+/g, 'T$&');
}
