import type { Tie } from '../paper/types.js';
import { formatMm } from '../units/format.js';
import { quote } from '../units/quote.js';
import { LIMITS } from './limits.js';
import { byInk } from './read-numbers.js';
import type { FilledJobFile } from './schema.js';
import { tieNumber } from './tie-ids.js';
import type { Job } from './types.js';
import type { Values } from './values.js';

type RawTie = NonNullable<FilledJobFile['ties']>[string][number];

/** Ties by ink, mm on the unit. What is cut away when the gauze holds needs gauze. */
export function readTies({ ties, gauze }: Pick<FilledJobFile, 'ties' | 'gauze'>, values: Values): Job['ties'] {
  return byInk(ties ?? {}, 'ties', values, (list, path) => {
    const seen = new Set<string>();
    return list.map((raw, k) => {
      const tie = readTie(raw, `${path}.${k}`, values);
      if (seen.has(tie.id)) values.at(path, `has the tie ${tie.id} twice: take one of them out.`);
      seen.add(tie.id);
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
  if (tieNumber(id) === 0) values.at(`${path}.id`, `is ${quote(id)}: write T and a number, such as "T1".`);
  const place = ([x, y]: readonly [number, number], key: string) => ({
    x: values.number(`${path}.${key}`, x, LIMITS.tiePlaceMm, ' mm'),
    y: values.number(`${path}.${key}`, y, LIMITS.tiePlaceMm, ' mm'),
  });
  const tie: Tie = { id, kind, from: place(from, 'from'), to: place(to, 'to') };
  const lengthMm = Math.hypot(tie.to.x - tie.from.x, tie.to.y - tie.from.y);
  const { min, max } = LIMITS.tieLengthMm;
  if (lengthMm < min)
    values.at(path, `is the tie ${id} that begins and ends in one place: give it two banks, or take it out.`);
  if (lengthMm > max) {
    values.at(path, `is the tie ${id}, ${formatMm(lengthMm)} long: a tie is at most ${formatMm(max)} long.`);
  }
  return tie;
}
