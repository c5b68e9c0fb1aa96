import { numbersText } from '../job-file/number-list.js';
import { tieNumber } from '../ties/tie-names.js';
import { InputError } from '../units/input-error.js';
import { quote } from '../units/quote.js';
import { said } from '../units/voice.js';

/**
 * Reads names of ties and ranges of them as a person writes them, such as `T1 T3-T5, R9`, out of the `known` ones; the word `all` stands for `all`. In the order of
 * `known`, each once. A tie goes by its number: the letter only says of which kind it is, and may be that of the other kind. Both ends of a range have to be there; of what lies between, what is there is taken. What can't be read or is not there throws
 * an `InputError`; `where` says in it what is searched, such as `among the suggested ties`.
 */
export function parseTieIds(
  text: string,
  known: readonly string[],
  where: string,
  all: readonly string[] = known,
): string[] {
  const named = new Set<string>();
  const there = new Map(known.map((id) => [tieNumber(id), id]));
  const items = text
    .replaceAll(/\s*[-–]\s*/g, '-')
    .split(/[\s,;]+/)
    .filter((item) => item !== '');
  if (items.length === 0) throw new InputError('No tie is named: write their ids, such as T1 T3-T5, or all.');
  const numberOf = (item: string, letter: string): number => {
    const id = /^[tr]/i.test(item) ? item.toUpperCase() : `${letter}${item}`;
    const number = tieNumber(id);
    if (number === 0) throw new InputError(`${quote(item)} is no id of a tie: write T1 or T3-T5, or all.`);
    if (!there.has(number))
      throw new InputError(
        said(
          (voice) =>
            `There is no tie ${id} ${where}: ${voice === 'command' ? 'okuri ties lists them' : 'look at the list of ties'}.`,
        ),
      );
    return number;
  };
  for (const item of items) {
    if (item.toLowerCase() === 'all') {
      for (const id of all) named.add(id);
      continue;
    }
    const ends = item.split('-');
    if (ends.length > 2 || !/^[tr]/i.test(item)) {
      throw new InputError(`${quote(item)} is no id of a tie: write T1 or T3-T5, or all.`);
    }
    const [first, last] = [ends[0], ends[ends.length - 1]].map((end) => numberOf(end, item[0].toUpperCase()));
    if (last < first)
      throw new InputError(`${quote(item)} runs backwards: write ${there.get(last)}-${there.get(first)}.`);
    for (const [n, id] of there) if (n >= first && n <= last) named.add(id);
  }
  return known.filter((id) => named.has(id));
}

/** Names in as few words as can be: `T1, T3-T5, R2`. Two in a row stay two. */
export function tieIdsText(ids: readonly string[]): string {
  const texts = ['T', 'R'].map((letter) => {
    const numbers = ids.filter((id) => id.startsWith(letter)).map(tieNumber);
    const own = numbers.filter((n) => n > 0).sort((a, b) => a - b);
    return numbersText(own).replaceAll(/\d+/g, `${letter}$&`);
  });
  return texts.filter((text) => text !== '').join(', ');
}
