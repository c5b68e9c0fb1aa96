import { stencilKey } from '../job-file/practice.js';
import type { Job } from '../job-file/types.js';
import { endNamed, endNamesRange } from '../proof/end-names.js';
import { proofMap } from '../proof/proof-map.js';
import type { ProofMap, ProofOffset, SheetEnds } from '../proof/types.js';
import { sheetRepeat } from '../register/dots.js';
import { makeLattice } from '../repeat/lattice.js';
import type { Sheet } from '../stencil/types.js';
import { InputError } from '../units/input-error.js';
import { parseLength } from '../units/length.js';
import { quote } from '../units/quote.js';
import { offsetsOf } from './proof-offsets.js';
import { oneColumn } from './registration.js';
import type { JobResult } from './result.js';

/** A sheet of a job as its proof is measured. */
export interface ProofSheet {
  readonly title: string;
  readonly sheet: Sheet;
  /** Its place in the job's `proof`. */
  readonly key: string;
  readonly ends: SheetEnds;
  /** What the job keeps of earlier proofs of it, as far as that still belongs to it. */
  readonly kept: readonly ProofOffset[];
  readonly map: ProofMap;
}

/** The sheet of a stencil by its number, from 1; null for the only one. Throws an `InputError` where there is none, or several to choose from. */
export function proofSheet(result: Pick<JobResult, 'job' | 'lattice' | 'sheets'>, stencil: number | null): ProofSheet {
  const { job, lattice, sheets } = result;
  if (sheets.length === 0) throw new InputError('The job has nothing to cut, so it has no proof.');
  if (stencil === null && sheets.length > 1) {
    const names = sheets.map((sheet, k) => `${k + 1} (${stencilKey(sheet)})`).join(', ');
    throw new InputError(
      `The job has ${sheets.length} stencils, each with a proof of its own: say --stencil and its number, ${names}.`,
    );
  }
  const sheet = sheets[(stencil ?? 1) - 1];
  if (sheet === undefined) {
    throw new InputError(`There is no stencil ${stencil}: the job has ${sheets.length === 1 ? 'one' : sheets.length}.`);
  }
  const { field } = sheet;
  const [widthMm, heightMm] = [field.x1 - field.x0, field.y1 - field.y0];
  const own = makeLattice(sheetRepeat(lattice.repeat, sheet.across, sheet.down), widthMm, heightMm);
  return {
    title: job.title,
    sheet,
    key: stencilKey(sheet),
    ends: sheet.ends,
    kept: offsetsOf(result, sheet),
    map: proofMap(own, sheet.dots, { sideMeetsNothing: oneColumn(job.cloth, widthMm) }),
  };
}

/** An offset typed by hand; null takes the job's own away. */
export interface TypedOffset {
  readonly name: string;
  readonly offsetMm: number | null;
}

const TYPED = /^\s*([a-z]\d+)\s*=\s*(.*)$/is;

/**
 * Reads offsets as a person types them: `J3=0.4mm`, `J12=-1/64in`, `J5=none`. Throws an `InputError` for what can't be read, is named twice, or
 * belongs to no end of the sheet.
 */
export function parseOffsets(texts: readonly string[], ends: SheetEnds): TypedOffset[] {
  const seen = new Set<string>();
  return texts.map((text) => {
    const [, given, amount] = TYPED.exec(text) ?? [];
    if (given === undefined) {
      throw new InputError(
        `--offset is ${quote(text)}: write the name of an end and how far it is off, such as J3=0.4mm or J3=none.`,
      );
    }
    const end = endNamed(ends, given.toUpperCase());
    if (end === undefined) {
      throw new InputError(
        `There is no ${given.toUpperCase()} on this sheet, which has ${endNamesRange(ends)}: okuri proof JOB lists them.`,
      );
    }
    const { name } = end;
    if ('leadCut' in end && end.leadCut === 'second') {
      throw new InputError(
        `The lead edge that comes to ${name} waits in the held margin itself and is cut as planned: no proof shows it, so leave it out.`,
      );
    }
    if (seen.has(name)) throw new InputError(`${name} is given twice: leave one of them out.`);
    seen.add(name);
    return { name, offsetMm: /^none$/i.test(amount.trim()) ? null : signedLength(name, amount) };
  });
}

function signedLength(name: string, text: string): number {
  const [, sign, amount] = /^\s*([+\-\u2212]?)\s*(.*)$/s.exec(text) as RegExpExecArray;
  try {
    const mm = parseLength(amount);
    return sign === '' || sign === '+' ? mm : -mm + 0;
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    throw new InputError(`--offset ${name}: ${error.message[0].toLowerCase()}${error.message.slice(1)}`);
  }
}

/**
 * The job's proofs with new offsets of a sheet. What a scan measured replaces all that was measured before, and what was typed before at the same ends; what was
 * typed stays where the scan shows nothing. What is typed now counts most. In the order of the sheet's ends.
 */
export function withOffsets(
  proof: Job['proof'],
  { key, ends, kept }: Pick<ProofSheet, 'key' | 'ends' | 'kept'>,
  { measured, typed }: { readonly measured: readonly ProofOffset[] | null; readonly typed: readonly TypedOffset[] },
): Job['proof'] {
  const offsets = new Map<string, ProofOffset>();
  for (const one of kept) if (measured === null || one.place === null) offsets.set(one.name, one);
  for (const one of measured ?? []) offsets.set(one.name, one);
  for (const { name, offsetMm } of typed) {
    if (offsetMm === null) offsets.delete(name);
    else offsets.set(name, { name, offsetMm, turnDeg: 0, place: null });
  }
  const list = [...ends.joins, ...ends.firstCutEnds].flatMap(({ name }) => offsets.get(name) ?? []);
  const { [key]: _, ...others } = proof;
  return list.length === 0 ? others : { ...others, [key]: list };
}
