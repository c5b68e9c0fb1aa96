import { z } from 'zod';
import type { Tie } from '../strength/types.js';
import { tieName, tieNumber } from '../ties/tie-names.js';
import { formatMm } from '../units/format.js';
import { quote } from '../units/quote.js';
import { rounded } from '../units/round.js';
import { parseSides } from '../units/sides.js';
import { byInk, readSheetName } from './by-ink.js';
import { type Bounds, type Field, own, plainText, TEXT_MAX } from './field.js';
import type { FieldReader } from './field-reader.js';
import { NUMBER_MAX, numbersText, parseNumbers } from './number-list.js';
import { ONE_STENCIL } from './practice.js';
import { sizeWritten, type TakenGroup, type UnitSize } from './taken-at.js';
import type { Job } from './types.js';

/** Most openings that a sheet may have numbers for: a guard. */
const OPENINGS_MAX = 200_000;
/** Most ties that one stencil may have: a guard. */
const TIES_MAX = 100_000;
/** Shorter is a slip of the pen, longer bridges no opening that a knife cuts. */
const TIE_LENGTH_MM: Bounds = { min: 0.05, max: 500 };
/** A tie over a seam may begin a whole unit away on either side. */
const TIE_PLACE_MM: Bounds = { min: -6_000, max: 6_000 };
/** A unit at which something was taken may be as drawn: a guard only. */
const TAKEN_SIDE_MM: Bounds = { min: 0.01, max: 1_000_000 };

const inkName = z.string().max(TEXT_MAX);
const isEmpty = (group: object): boolean => Object.keys(group).length === 0;

/** The unit's size when a group of the job was taken; null for the present one. Written only where there is something of the group. */
export function takenSize(group: TakenGroup): Field<string | undefined, UnitSize | null> {
  const about = `Of "${group}": width and height with a unit, such as "300x420mm".`;
  return own(z.string().max(TEXT_MAX).optional(), about, {
    read: (written, path, reader) => {
      if (written === undefined) return null;
      const sides = reader.parsed(path, written, parseSides);
      if (sides === null) {
        return reader.at(
          path,
          `is ${JSON.stringify(written)}: write the unit's width and height, such as "300x420mm".`,
        );
      }
      const [widthMm, heightMm] = sides.map((mm) => reader.number(path, mm, TAKEN_SIDE_MM, ' mm'));
      return { widthMm, heightMm };
    },
    write: (size, job) => (size === null || isEmpty(job[group]) ? undefined : sizeWritten(size)),
  });
}

interface WrittenTie {
  id: string;
  kind: 'printed' | 'release';
  from: [number, number];
  to: [number, number];
}
export type WrittenTies = Record<string, WrittenTie[]>;

/** Ties by ink, mm on the unit. What is cut away when the gauze holds needs gauze. */
export function tiesByInk(about: string): Field<WrittenTies | undefined, Job['ties']> {
  const place = (of: string) =>
    z.tuple([z.number(), z.number()]).describe(`${of} [x, y] in mm on the unit, at the size that "takenAt" says.`);
  const tie = z.strictObject({
    id: plainText('Its name, such as "T1".'),
    kind: z
      .enum(['printed', 'release'])
      .describe('"printed" stays and shows on the cloth; "release" is cut away when the gauze holds.'),
    from: place('Its end on one bank of the opening.'),
    to: place('Its end on the other bank.'),
  });
  return own(z.record(inkName, z.array(tie).max(TIES_MAX)).optional(), about, {
    late: true,
    read: (written, path, reader, { practice }) =>
      byInk(written ?? {}, path, reader, (list, ink) => readTies(list, ink, reader, practice.gauze)),
    write: (ties) => (isEmpty(ties) ? undefined : writtenTies(ties)),
  });
}

function readTies(list: readonly WrittenTie[], path: string, reader: FieldReader, gauze: boolean): Tie[] {
  const seen = new Set<number>();
  return list.map((written, k) => {
    const tie = readTie(written, `${path}.${k}`, reader);
    const number = tieNumber(tie.id);
    if (seen.has(number)) reader.at(path, `has the tie ${tie.id} twice: take one of them out.`);
    seen.add(number);
    if (tie.kind === 'release' && !gauze) {
      reader.at(
        path,
        `has the release tie ${tie.id}, but the job has no gauze: release ties need gauze, so make it "printed", or "gauze" true.`,
        `${tie.id} is a release tie, and there is no gauze to hold the paper when it is cut away: make it a printed one, or stick gauze over the sheet.`,
      );
    }
    return tie;
  });
}

function readTie({ id, kind, from, to }: WrittenTie, path: string, reader: FieldReader): Tie {
  const number = tieNumber(id);
  if (number === 0) reader.at(`${path}.id`, `is ${quote(id)}: write T and a number, such as "T1".`);
  const place = ([x, y]: readonly [number, number], key: string) => ({
    x: reader.number(`${path}.${key}`, x, TIE_PLACE_MM, ' mm'),
    y: reader.number(`${path}.${key}`, y, TIE_PLACE_MM, ' mm'),
  });
  // Older files call ties of both kinds T.
  const tie: Tie = { id: tieName(number, kind), kind, from: place(from, 'from'), to: place(to, 'to') };
  const lengthMm = Math.hypot(tie.to.x - tie.from.x, tie.to.y - tie.from.y);
  const { min, max } = TIE_LENGTH_MM;
  if (lengthMm < min)
    reader.at(path, `is the tie ${tie.id} that begins and ends in one place: give it two banks, or take it out.`);
  if (lengthMm > max) {
    reader.at(path, `is the tie ${tie.id}, ${formatMm(lengthMm)} long: a tie is at most ${formatMm(max)} long.`);
  }
  return tie;
}

/** Ties as the job file keeps them, by ink; places to 0.1 µm. */
export function writtenTies(ties: Job['ties']): WrittenTies {
  const place = ({ x, y }: Tie['from']): [number, number] => [rounded(x), rounded(y)];
  return Object.fromEntries(
    Object.entries(ties).map(([ink, list]) => [
      ink,
      list.map(({ id, kind, from, to }) => ({ id, kind, from: place(from), to: place(to) })),
    ]),
  );
}

export type WrittenNumbers = Record<string, [number, number, number, number][]>;

/** Numbers that openings keep, by sheet; the same number twice on one sheet would name two openings. */
export function numbersBySheet(about: string): Field<WrittenNumbers | undefined, Job['numbers']> {
  const entry = z.tuple([z.int().min(1).max(NUMBER_MAX), z.number(), z.number(), z.number().min(0)]);
  return own(z.record(inkName, z.array(entry).max(OPENINGS_MAX)).optional(), about, {
    read: (written, path, reader) =>
      byInk(
        written ?? {},
        path,
        reader,
        (list, sheet) => {
          const seen = new Set<number>();
          return list.map(([number, x, y, areaMm2]) => {
            if (seen.has(number))
              reader.at(sheet, `has the number ${number} twice: leave "numbers" out to number anew.`);
            seen.add(number);
            return { number, x, y, areaMm2 };
          });
        },
        readSheetName,
      ),
    write: (numbers) => (isEmpty(numbers) ? undefined : writtenNumbers(numbers)),
  });
}

/** Numbers as the job file keeps them, by ink: number, x, y, area. */
export function writtenNumbers(numbers: Job['numbers']): WrittenNumbers {
  return Object.fromEntries(
    Object.entries(numbers).map(([ink, list]) => [
      ink,
      list.map(({ number, x, y, areaMm2 }): [number, number, number, number] => [number, x, y, areaMm2]),
    ]),
  );
}

export type WrittenDone = string | Record<string, string>;

/** What is done, by sheet; written as one list it stands under `ONE_STENCIL`. */
export function doneBySheet(about: string): Field<WrittenDone | undefined, Job['done']> {
  const list = plainText('Numbers and ranges: "1-20, 24".');
  return own(z.union([list, z.record(inkName, list)]).optional(), about, {
    expects: 'numbers such as "1-20, 24", or such a text for each ink',
    read: (written, path, reader) => {
      if (written === undefined) return {};
      if (typeof written === 'string') {
        const numbers = reader.parsed(path, written, parseNumbers);
        return numbers.length > 0 ? { [ONE_STENCIL]: numbers } : {};
      }
      return byInk(written, path, reader, (own, sheet) => reader.parsed(sheet, own, parseNumbers), readSheetName);
    },
    write: (done) => (isEmpty(done) ? undefined : doneText(done)),
  });
}

/** What is done as the job file says it: one list of numbers where the job has one stencil, else a list for each ink. */
export function doneText(done: Job['done']): WrittenDone {
  const inks = Object.keys(done);
  if (inks.length === 0) return '';
  if (inks.length === 1 && inks[0] === ONE_STENCIL) return numbersText(done[ONE_STENCIL]);
  return Object.fromEntries(inks.map((ink) => [ink, numbersText(done[ink])]));
}
