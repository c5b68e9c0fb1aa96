import { doneText, type WrittenDone } from '../job-file/kept-fields.js';
import { parseNumbers } from '../job-file/number-list.js';
import { ONE_STENCIL, stencilKey } from '../job-file/practice.js';
import { isSameSize, type UnitSize } from '../job-file/taken-at.js';
import { InputError } from '../units/input-error.js';
import { counted } from '../units/words.js';
import { marksOfSheet } from './follow-size.js';
import type { JobResult } from './result.js';

/** What `markDone` makes: the value for the job file's key `done`, and the numbers that are done now. */
export interface MarkedDone {
  readonly value: WrittenDone;
  readonly numbers: readonly number[];
  /** The size of the unit of the sheet whose marks these are still, where that is not the present one. */
  readonly stillOf?: UnitSize;
  /** The size of the unit of an older sheet whose marks have gone out for these. */
  readonly insteadOf?: UnitSize;
}

/**
 * Marks openings of one stencil as done, or with `not` takes that back. `text` names them: `14 15 20-30`. With several stencils `sheet` says which (1-based). A
 * number that the sheet does not have throws an `InputError`, except that marks of openings that are gone may be taken back. Marks of a sheet of another
 * size go out when the first of this one is set; taking marks back leaves them those of the sheet that they are of.
 */
export function markDone(
  { job: whole, sheets, lattice }: Pick<JobResult, 'job' | 'sheets' | 'lattice'>,
  text: string,
  { not = false, sheet: which = null }: { not?: boolean; sheet?: number | null } = {},
): MarkedDone {
  if (which === null && sheets.length > 1) {
    throw new InputError(
      `The job has ${sheets.length} stencils: say which with --stencil, from 1 to ${sheets.length}.`,
    );
  }
  const sheet = sheets[(which ?? 1) - 1];
  if (sheet === undefined) {
    const have = sheets.length === 0 ? 'no stencil' : counted(sheets.length, 'stencil');
    throw new InputError(`There is no stencil ${which ?? 1}: the job has ${have}.`);
  }
  const named = parseNumbers(text);
  if (named.length === 0) throw new InputError('No opening is named: write their numbers, such as 14 15 20-30.');
  const older = olderSheet(whole, lattice);
  const job = not ? whole : marksOfSheet(whole, lattice);
  const key = stencilKey(sheet);
  const plain = job.done[ONE_STENCIL];
  const done = new Set(plain ?? job.done[key] ?? []);
  const known = new Set(sheet.openings.map(({ number }) => number));
  const strange = named.find((n) => !known.has(n) && !(not && done.has(n)));
  if (strange !== undefined) {
    throw new InputError(`There is no opening ${strange} on the sheet: look at the numbers on its guide.`);
  }
  for (const n of named) {
    if (not) done.delete(n);
    else done.add(n);
  }
  const numbers = [...done].sort((a, b) => a - b);
  // One stencil needs no ink, unless the file gives it one.
  const value =
    sheets.length === 1 && job.done[key] === undefined
      ? doneText({ [ONE_STENCIL]: numbers })
      : doneText({ ...job.done, [key]: numbers });
  return { value, numbers, ...(older === null ? {} : not ? { stillOf: older } : { insteadOf: older }) };
}

/** The size of the unit at which the job's marks were made, where there are any and that is another. */
function olderSheet({ done, takenAt }: JobResult['job'], now: UnitSize): UnitSize | null {
  if (takenAt.done === null || Object.keys(done).length === 0 || isSameSize(takenAt.done, now)) return null;
  return takenAt.done;
}
