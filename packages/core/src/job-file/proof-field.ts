import { z } from 'zod';
import { isEndName } from '../proof/end-names.js';
import type { ProofOffset } from '../proof/types.js';
import { parseLength } from '../units/length.js';
import { quote } from '../units/quote.js';
import { rounded } from '../units/round.js';
import { byInk, readSheetName } from './by-ink.js';
import { type Bounds, type Field, own, TEXT_MAX } from './field.js';
import type { FieldReader } from './field-reader.js';
import type { Job } from './types.js';

/** Most ends of one sheet that a job may keep offsets of: a guard. */
const ENDS_MAX = 100_000;
/** Longest name or length: a guard. */
const SHORT_MAX = 100;
/** Farther off, an edge is another one than that of the plan. */
const OFFSET_MM: Bounds = { min: -10, max: 10 };
const TURN_DEG: Bounds = { min: -45, max: 45 };
/** On the field of a sheet of many units. */
const PLACE_MM: Bounds = { min: -100, max: 200_000 };
/** Digits behind the point of a turn: far finer than a scan shows. */
const TURN_DIGITS = 3;

interface WrittenEnd {
  at: string;
  offset: string;
  turn?: number | undefined;
  place?: [number, number] | undefined;
}
export type WrittenProof = Record<string, WrittenEnd[]>;

/** What a proof tells of one end of one sheet. */
const endShape: z.ZodType<WrittenEnd, unknown> = z.strictObject({
  at: z
    .string()
    .max(SHORT_MAX)
    .describe(
      'The join that was measured: J and a number, such as "J3". Older files say X for a join at a seam and Y for a stop.',
    ),
  offset: z
    .string()
    .max(SHORT_MAX)
    .describe(
      'How far it really is from its planned place: along the seam (or the stop), above zero down or to the right. A length with its unit and sign, such as "0.4mm" or "-0.4mm".',
    ),
  turn: z
    .number()
    .describe('How far the lead edge is turned from the plan, degrees clockwise; nothing when left out.')
    .optional(),
  place: z
    .tuple([z.number(), z.number()])
    .describe(
      'Where the end was planned when it was measured, [x, y] in mm on the field: tells whether the drawing was changed since.',
    )
    .optional(),
});

/** What printed proofs tell, by stencil. Whether a sheet has an end of that name shows when the job runs. */
export function offsetsBySheet(about: string): Field<WrittenProof | undefined, Job['proof']> {
  return own(z.record(z.string().max(TEXT_MAX), z.array(endShape).max(ENDS_MAX)).optional(), about, {
    read: (written, path, reader) =>
      byInk(
        written ?? {},
        path,
        reader,
        (list, sheet) => {
          const seen = new Set<string>();
          return list.map((end, k) => {
            const offset = readEnd(end, `${sheet}.${k}`, reader);
            if (seen.has(offset.name)) reader.at(sheet, `has ${offset.name} twice: take one of them out.`);
            seen.add(offset.name);
            return offset;
          });
        },
        readSheetName,
      ),
    write: (proof) => (Object.keys(proof).length === 0 ? undefined : writtenProof(proof)),
  });
}

function readEnd({ at, offset, turn = 0, place }: WrittenEnd, path: string, reader: FieldReader): ProofOffset {
  const name = at.trim().toUpperCase();
  if (!isEndName(name)) {
    reader.at(`${path}.at`, `is ${quote(at)}: write J and a number, such as "J3".`);
  }
  const coordinate = (v: number): number => reader.number(`${path}.place`, v, PLACE_MM, ' mm');
  return {
    name,
    offsetMm: readOffset(`${path}.offset`, offset, reader),
    turnDeg: reader.number(`${path}.turn`, turn, TURN_DEG, '°'),
    place: place === undefined ? null : { x: coordinate(place[0]), y: coordinate(place[1]) },
  };
}

/** A length with a sign before it. */
function readOffset(path: string, text: string, reader: FieldReader): number {
  const [, sign, amount] = /^\s*([+\-\u2212]?)\s*(.*)$/s.exec(text) as RegExpExecArray;
  const mm = reader.parsed(path, amount, parseLength);
  return reader.number(path, sign === '' || sign === '+' ? mm : -mm + 0, OFFSET_MM, ' mm');
}

/** What proofs tell as the job file keeps it. */
export function writtenProof(proof: Job['proof']): WrittenProof {
  return Object.fromEntries(
    Object.entries(proof).map(([key, list]) => [
      key,
      list.map(({ name, offsetMm, turnDeg, place }): WrittenEnd => {
        const turn = rounded(turnDeg, TURN_DIGITS);
        return {
          at: name,
          offset: `${rounded(offsetMm)}mm`,
          ...(turn === 0 ? {} : { turn }),
          ...(place === null ? {} : { place: [rounded(place.x), rounded(place.y)] }),
        };
      }),
    ]),
  );
}
