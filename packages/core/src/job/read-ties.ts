import { tieName, tieNumber } from '../paper/tie-names.js';
import type { Tie } from '../paper/types.js';
import { formatMm } from '../units/format.js';
import { quote } from '../units/quote.js';
import { LIMITS } from './limits.js';
import { byInk } from './read-numbers.js';
import type { FilledJobFile } from './schema.js';
import type { Job } from './types.js';
import type { Values } from './values.js';

type RawTie = NonNullable<FilledJobFile['ties']>[string][number];

/** Ties by ink, mm on the unit. What is cut away when the gauze holds needs gauze. */
export function readTies({ ties, gauze }: Pick<FilledJobFile, 'ties' | 'gauze'>, values: Values): Job['ties'] {
  return byInk(ties ?? {}, 'ties', values, (list, path) => {
    const seen = new Set<number>();
    return list.map((raw, k) => {
      const tie = readTie(raw, `${path}.${k}`, values);
      const number = tieNumber(tie.id);
      if (seen.has(number)) values.at(path, `has the tie ${tie.id} twice: take one of them out.`);
      seen.add(number);
      if (tie.kind === 'release' && !gauze) {
        values.at(
          path,
          `has the release tie ${tie.id}, but the job has no gauze: release ties need gauze, so make it "printed", or "gauze" true.`,
        );
      }
      return tie;
    });
  });
}

function readTie({ id, kind, from, to }: RawTie, path: string, values: Values): Tie {
  const number = tieNumber(id);
  if (number === 0) values.at(`${path}.id`, `is ${quote(id)}: write T and a number, such as "T1".`);
  const place = ([x, y]: readonly [number, number], key: string) => ({
    x: values.number(`${path}.${key}`, x, LIMITS.tiePlaceMm, ' mm'),
    y: values.number(`${path}.${key}`, y, LIMITS.tiePlaceMm, ' mm'),
  });
  // Older files call ties of both kinds T.
  const tie: Tie = { id: tieName(number, kind), kind, from: place(from, 'from'), to: place(to, 'to') };
  const lengthMm = Math.hypot(tie.to.x - tie.from.x, tie.to.y - tie.from.y);
  const { min, max } = LIMITS.tieLengthMm;
  if (lengthMm < min)
    values.at(path, `is the tie ${tie.id} that begins and ends in one place: give it two banks, or take it out.`);
  if (lengthMm > max) {
    values.at(path, `is the tie ${tie.id}, ${formatMm(lengthMm)} long: a tie is at most ${formatMm(max)} long.`);
  }
  return tie;
}
