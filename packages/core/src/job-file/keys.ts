import { at, type JobKey } from './job-key.js';
import { doneBySheet, numbersBySheet, takenSize, tiesByInk } from './kept-fields.js';
import { CLOTH_KEYS } from './keys-cloth.js';
import { PATTERN_KEYS } from './keys-pattern.js';
import { SHEET_KEYS } from './keys-sheet.js';
import { offsetsBySheet } from './proof-field.js';

/** What the program itself keeps in the job file. */
const KEPT_KEYS = {
  'takenAt.ties': at('takenAt.ties', takenSize('ties')),
  'takenAt.numbers': at('takenAt.numbers', takenSize('numbers')),
  'takenAt.done': at('takenAt.done', takenSize('done')),
  'takenAt.proof': at('takenAt.proof', takenSize('proof')),
  ties: at('ties', tiesByInk('Ties that stand across openings, by ink. The command `okuri ties` writes them.')),
  numbers: at(
    'numbers',
    numbersBySheet(
      'Numbers that openings keep from run to run, by ink ("#000000 B" for the second of two sheets): number, place (mm from the upper left of the field) and area (mm²), at the size of "takenAt". The command writes them.',
    ),
  ),
  proof: at(
    'proof',
    offsetsBySheet(
      'How far edges were really cut from the plan, as a printed proof shows, by ink ("#000000 B" for the second of two sheets): the second cut follows them. The command `okuri proof` writes them.',
    ),
  ),
  done: at(
    'done',
    doneBySheet(
      'What is cut already and drawn as done: "1-20, 24", or such a list for each ink ("#000000 B" for the second of two sheets).',
    ),
  ),
};

const KEYS = { ...PATTERN_KEYS, ...SHEET_KEYS, ...CLOTH_KEYS, ...KEPT_KEYS };

/** The name of a key of the job file; keys of a group have its name before theirs. */
export type JobKeyName = keyof typeof KEYS;

type Written<K extends JobKeyName> = (typeof KEYS)[K] extends JobKey<infer W> ? W : never;
type GroupOf<K> = K extends `${infer G}.${string}` ? G : never;
type PartOf<K, G extends string> = K extends `${G}.${infer P}` ? P : never;

/** A job file's content as a person writes it: what is left out takes its default. */
export type JobFile = { readonly okuri: 1; readonly motif: string; readonly $schema?: string } & {
  readonly [K in Exclude<JobKeyName, `${string}.${string}`>]?: Written<K>;
} & {
  readonly [G in GroupOf<JobKeyName>]?: { readonly [K in JobKeyName as PartOf<K, G>]?: Written<K> };
};

/**
 * Every key of the job file, in the order in which it is written: where it stands in a job, its words, bounds and default. Reader, writer, the published
 * schema, the command's options and the fields of the studio come from this list.
 */
export const JOB_KEYS: Readonly<Record<JobKeyName, JobKey>> = KEYS;

/** Descriptions of groups of keys. */
export const GROUPS: Readonly<Record<string, string>> = {
  paper: 'The stencil paper, what is asked of it, and of ties.',
  double: 'Two sheets that print one after the other, where no tie may show.',
  pace: "The cutter's own pace, by which minutes and blades are estimated. The defaults are a usual pace, common practice with no published source, and the guide says so: time yourself and put your own.",
  plan: 'How the run along the cloth is planned. Times, film, paste for tool and bowl, density and what a sheet lasts are common practice with no published source: put your own.',
  takenAt:
    "The unit's size when each of these was taken. Where the unit has another size now, ties and numbers go along with the drawing; what was cut and proofed is of a sheet of the old size, and does not count. Left out: the present size. Written along with them.",
};
