import { isEndName } from '../proof/end-names.js';
import type { ProofOffset } from '../proof/types.js';
import { parseLength } from '../units/length.js';
import { quote } from '../units/quote.js';
import { LIMITS } from './limits.js';
import { byInk, readSheetName } from './read-numbers.js';
import type { FilledJobFile } from './schema.js';
import type { Job } from './types.js';
import type { Values } from './values.js';

type RawEnd = NonNullable<FilledJobFile['proof']>[string][number];

/** What proofs tell, by stencil. Whether a sheet has an end of that name shows when the job runs. */
export function readProof(raw: FilledJobFile['proof'], values: Values): Job['proof'] {
  const read = (list: readonly RawEnd[], path: string): ProofOffset[] => {
    const seen = new Set<string>();
    return list.map((end, k) => {
      const offset = readEnd(end, `${path}.${k}`, values);
      if (seen.has(offset.name)) values.at(path, `has ${offset.name} twice: take one of them out.`);
      seen.add(offset.name);
      return offset;
    });
  };
  return byInk(raw ?? {}, 'proof', values, read, readSheetName);
}

function readEnd({ at, offset, turn = 0, place }: RawEnd, path: string, values: Values): ProofOffset {
  const name = at.trim().toUpperCase();
  if (!isEndName(name)) {
    values.at(`${path}.at`, `is ${quote(at)}: write J and a number, such as "J3".`);
  }
  const coordinate = (v: number): number => values.number(`${path}.place`, v, LIMITS.proofPlaceMm, ' mm');
  return {
    name,
    offsetMm: readOffset(`${path}.offset`, offset, values),
    turnDeg: values.number(`${path}.turn`, turn, LIMITS.proofTurnDeg, '°'),
    place: place === undefined ? null : { x: coordinate(place[0]), y: coordinate(place[1]) },
  };
}

/** A length with a sign before it. */
function readOffset(path: string, text: string, values: Values): number {
  const [, sign, amount] = /^\s*([+\-\u2212]?)\s*(.*)$/s.exec(text) as RegExpExecArray;
  const mm = values.parsed(path, amount, parseLength);
  return values.number(path, sign === '' || sign === '+' ? mm : -mm + 0, LIMITS.proofOffsetMm, ' mm');
}

/** Digits behind the point of an offset (0.1 µm), a turn and a place in the job file: far finer than a scan shows. */
const DIGITS = { mm: 4, degrees: 3 } as const;

/** What proofs tell as the job file keeps it. */
export function writtenProof(proof: Job['proof']): NonNullable<FilledJobFile['proof']> {
  const rounded = (value: number, digits: number): number => Number(value.toFixed(digits)) + 0;
  return Object.fromEntries(
    Object.entries(proof).map(([key, list]) => [
      key,
      list.map(({ name, offsetMm, turnDeg, place }): RawEnd => {
        const turn = rounded(turnDeg, DIGITS.degrees);
        return {
          at: name,
          offset: `${rounded(offsetMm, DIGITS.mm)}mm`,
          ...(turn === 0 ? {} : { turn }),
          ...(place === null ? {} : { place: [rounded(place.x, DIGITS.mm), rounded(place.y, DIGITS.mm)] }),
        };
      }),
    ]),
  );
}
