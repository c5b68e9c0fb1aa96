import { z } from 'zod';
import { formatMm } from '../units/format.js';
import type { FieldReader } from './field-reader.js';
import { lengthText } from './length-text.js';
import type { Job } from './types.js';

/** Least and most that a key may say: mm for lengths, else in its own unit. Outside of them a slip of the pen is likelier than a wish. */
export interface Bounds {
  readonly min: number;
  readonly max: number;
}

export type FieldKind = 'length' | 'number' | 'whole' | 'choice' | 'tick' | 'colour' | 'text' | 'other';

/** What is said of one value of the job file, for whoever asks a person for it. */
export interface FieldFacts {
  readonly kind: FieldKind;
  readonly about: string;
  /** null where none are asked. */
  readonly bounds: Bounds | null;
  /** Written behind numbers: `°`, ` %`, or nothing. */
  readonly unit: string;
  readonly choices: readonly string[];
  /** What may stand there, where a sentence has to say it: `"auto" or a number of roots`. */
  readonly expects: string | null;
  /** A word that stands for a value worked out from the rest of the job, or for none. */
  readonly word: string | null;
}

/** One value of the job file, both ways: `W` as it is written, `V` as it is in a job. */
export interface Field<W, V> {
  readonly facts: FieldFacts;
  /** The shape of what is written, with its default; no bounds, for which `read` has its own sentences. */
  readonly shape: z.ZodType<W, unknown>;
  /** Throws the reader's refusal, which names `path`. */
  read(written: W, path: string, reader: FieldReader, job: Job): V;
  /** undefined leaves the key out. */
  write(value: V, job: Job): W | undefined;
  /** Whether `read` asks the job for other keys: it is read after those that don't. */
  readonly late: boolean;
  /** Typed on one line, such as on the command line; what can't be read stays text, for the shape to refuse. */
  readonly typed: (text: string) => unknown;
}

/** Longest text taken for any value of a job file: a guard, not a rule of the trade. */
export const TEXT_MAX = 2_000;

const FACTS = { bounds: null, unit: '', choices: [], expects: null, word: null } as const;
const asTyped = (text: string): unknown => text;

/** Text that is a number becomes one. */
export function typedNumber(text: string): unknown {
  const bare = text.replace(/%\s*$/, '').trim();
  return bare !== '' && Number.isFinite(Number(bare)) ? Number(bare) : text;
}

export const plainText = (about: string) => z.string().max(TEXT_MAX).describe(about);

/** What is written as it is kept, of any shape. */
export function plain<T>(shape: z.ZodType<T, unknown>, about: string, more: Partial<FieldFacts> = {}): Field<T, T> {
  return {
    facts: { ...FACTS, kind: 'text', about, ...more },
    shape: shape.describe(about),
    read: (value) => value,
    write: (value) => value,
    late: false,
    typed: asTyped,
  };
}

export function text(about: string, usual?: string): Field<string, string> {
  return plain(usual === undefined ? z.string().max(TEXT_MAX) : z.string().max(TEXT_MAX).default(usual), about);
}

export function choice<const C extends string>(choices: readonly C[], usual: C, about: string): Field<C, C> {
  const shape = z.enum(choices as unknown as [C, ...C[]]).default(usual as never) as unknown as z.ZodType<C, unknown>;
  return { ...plain(shape, about), facts: { ...FACTS, kind: 'choice', about, choices } };
}

/** A choice of which one word says that it is not known: null in a job. */
export function choiceOr<const C extends string, const N extends string>(
  choices: readonly C[],
  none: N,
  about: string,
): Field<C | N, C | null> {
  const all = choice([...choices, none], none, about);
  return {
    ...all,
    read: (written) => (written === none ? null : (written as C)),
    write: (value) => value ?? none,
  };
}

export function tick(usual: boolean, about: string): Field<boolean, boolean> {
  return plain(z.boolean().default(usual), about, { kind: 'tick' });
}

export function colour(usual: string, about: string): Field<string, string> {
  return {
    ...text(`${about} "#rrggbb" or "#rgb".`, usual),
    facts: { ...FACTS, kind: 'colour', about },
    read: (written, path, reader) => reader.colour(path, written),
  };
}

const lengthAbout = (about: string): string => `${about} A length with its unit, such as "250mm", "36cm" or "9 7/8in".`;

/** Shape and words of a length within a group that has a reader of its own. */
export const lengthShape = (about: string) => plainText(lengthAbout(about));

/** A length: text with a unit in the file, mm in a job. */
export function length(bounds: Bounds, usual: string, about: string): Field<string, number> {
  const said = `${lengthAbout(about)} From ${formatMm(bounds.min)} to ${formatMm(bounds.max)}.`;
  return {
    ...text(said, usual),
    facts: { ...FACTS, kind: 'length', about, bounds },
    read: (written, path, reader) => reader.length(path, written, bounds),
    write: (mm) => lengthText(mm),
  };
}

/** A length or "auto", which stands for what `usual` makes of the rest of the job (null: for nothing yet known). */
export function autoLength<V extends number | null>(
  bounds: Bounds,
  about: string,
  usual: (job: Job) => V,
): Field<string, V | number> {
  const own = length(bounds, 'auto', about);
  return {
    ...own,
    facts: { ...own.facts, word: 'auto' },
    late: true,
    read: (written, path, reader, job) =>
      written.trim().toLowerCase() === 'auto' ? usual(job) : reader.length(path, written, bounds),
    write: (value, job) => (value === null || value === usual(job) ? 'auto' : lengthText(value)),
  };
}

interface NumberWords {
  readonly unit?: string;
  readonly whole?: boolean;
}

function numberShape({ min, max }: Bounds, whole: boolean) {
  return (whole ? z.int() : z.number()).meta({ minimum: min, maximum: max });
}

export function number(
  bounds: Bounds,
  usual: number,
  about: string,
  { unit = '', whole = false }: NumberWords = {},
): Field<number, number> {
  return {
    ...plain(numberShape(bounds, whole).default(usual), about),
    facts: { ...FACTS, kind: whole ? 'whole' : 'number', about, bounds, unit },
    read: (written, path, reader) => reader.number(path, written, bounds, unit),
    typed: typedNumber,
  };
}

/** A number or a word, which stands for what `usual` makes of the rest of the job. */
export function numberOr<V extends number | null>(
  word: string,
  bounds: Bounds,
  about: string,
  {
    expects,
    usual,
    unit = '',
    whole = false,
  }: NumberWords & { readonly expects: string; readonly usual: (job: Job) => V },
): Field<string | number, V | number> {
  return {
    facts: { ...FACTS, kind: whole ? 'whole' : 'number', about, bounds, unit, word, expects },
    shape: z
      .union([z.literal(word), numberShape(bounds, whole)])
      .describe(about)
      .default(word),
    late: true,
    read: (written, path, reader, job) =>
      typeof written === 'string' ? usual(job) : reader.number(path, written, bounds, unit),
    write: (value, job) => (value === null || value === usual(job) ? word : value),
    typed: typedNumber,
  };
}

/** Anything with a shape and a reader of its own. */
export function own<W, V>(
  shape: z.ZodType<W, unknown>,
  about: string,
  ways: Pick<Field<W, V>, 'read' | 'write'> &
    Partial<Pick<Field<W, V>, 'typed' | 'late'>> & { readonly expects?: string },
): Field<W, V> {
  const { expects = null, late = false, typed = asTyped, read, write } = ways;
  return {
    facts: { ...FACTS, kind: 'other', about, expects },
    shape: shape.describe(about),
    read,
    write,
    late,
    typed,
  };
}
