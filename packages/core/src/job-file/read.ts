import { formatMm } from '../units/format.js';
import { InputError } from '../units/input-error.js';
import { said } from '../units/voice.js';
import { explainIssue, type JobPath, pathName } from './explain.js';
import { FieldReader } from './field-reader.js';
import { JOB_KEYS } from './keys.js';
import { UNITS_MOST } from './keys-pattern.js';
import { JOB_VERSION, jobFileSchema } from './schema.js';
import type { Job } from './types.js';
import { writtenAt } from './written-at.js';

/** A value that stands in place of the job file's own; `name` is what a sentence calls it (`--width`). */
export interface JobOverride {
  readonly path: readonly string[];
  readonly value: unknown;
  readonly name: string;
}

export interface ReadJobOptions {
  /** Named in every error. */
  readonly file: string;
  /** Used where the file gives no date, `YYYY-MM-DD`. */
  readonly date?: string;
  readonly overrides?: readonly JobOverride[];
}

/** A job, and what has to be said about how it was read. */
export interface JobReading {
  readonly job: Job;
  readonly remarks: readonly string[];
  /** What is written, before any default: what a person wrote in units of their own can be written again as it was. */
  readonly written: Readonly<Record<string, unknown>>;
}

/**
 * Reads a job file: checks it against the schema, fills every default, turns lengths into mm. Unknown keys, values of the
 * wrong kind and absurd sizes throw an `InputError` of one sentence that names the file, the path to the key and the remedy.
 */
export function readJob(text: string, options: ReadJobOptions): JobReading {
  return readJobData(parseJson(text, options.file), options);
}

/** The job of a bare motif: every default, and what `overrides` say. `options.file` is the motif. */
export function jobForMotif(options: ReadJobOptions): JobReading {
  return readJobData({ okuri: JOB_VERSION, motif: options.file }, options);
}

function readJobData(data: unknown, options: ReadJobOptions): JobReading {
  const overrides = options.overrides ?? [];
  const merged = isGroup(data) ? applyOverrides(data, overrides) : data;
  const nameOf = (path: JobPath): string =>
    overrides.find((one) => one.path.every((step, i) => step === path[i]))?.name ?? pathName(path);
  const fail = (sentence: string, elsewhere?: string): never => {
    const message = `${options.file}: ${sentence}`;
    throw new InputError(
      elsewhere === undefined ? message : said((voice) => (voice === 'command' ? message : elsewhere)),
    );
  };
  if (!isGroup(merged)) return fail('a job file is a group of keys in braces, beginning with "okuri": 1.');
  const parsed = jobFileSchema.safeParse(merged);
  if (!parsed.success) {
    const issues = parsed.error.issues;
    const more = issues.length > 1 ? ` (and ${issues.length - 1} more like it)` : '';
    return fail(asSentence(explainIssue(issues[0], merged, nameOf, { knownKeys, expects }) + more));
  }
  const filled: Record<string, unknown> = parsed.data;
  const written = (name: string): unknown => writtenAt(filled, name);
  const reader = new FieldReader({ nameOf, fail, written, today: options.date });
  return { job: fillJob(filled, reader), remarks: reader.remarks, written: merged };
}

/** Fills a job key by key; keys whose default follows from others come after those. */
function fillJob(filled: Record<string, unknown>, reader: FieldReader): Job {
  const job = {} as Job;
  const keys = Object.entries(JOB_KEYS);
  for (const late of [false, true]) {
    for (const [name, key] of keys) if (key.late === late) key.read(writtenAt(filled, name), name, reader, job);
  }
  checkTogether(job, reader);
  return job;
}

/** What no key alone can tell: the first thing that does not go together is refused. */
function checkTogether({ across, down, joins, paper, double, ties }: Job, reader: FieldReader): void {
  if (across * down > UNITS_MOST) {
    reader.at(
      'across',
      `times "down" is ${across * down}: at most ${UNITS_MOST} units go on one sheet.`,
      `${across} units across and ${down} down are ${across * down}: at most ${UNITS_MOST} go on one sheet.`,
    );
  }
  if (joins.gapMinMm > joins.gapMaxMm) {
    reader.at(
      'joins.gapMin',
      'is larger than "joins.gapMax": change one of them.',
      'The gap that is never worth a look is larger than the one that always has to be mended: change one of them.',
    );
  }
  const { neckMm } = paper.rules;
  const { widthMm } = paper.tie;
  if (widthMm < neckMm) {
    reader.at(
      'paper.tieWidth',
      `is ${formatMm(widthMm)}, narrower than the ${formatMm(neckMm)} below which this paper tears ("paper.neck"): make the ties wider, or say "auto".`,
      `Ties ${formatMm(widthMm)} wide are narrower than the ${formatMm(neckMm)} below which this paper tears: make them wider.`,
    );
  }
  if (!double.on) return;
  if (double.overlapMm > widthMm) {
    reader.at(
      'double.overlap',
      `is ${formatMm(double.overlapMm)}, more than the width of a tie, ${formatMm(widthMm)}: make it smaller, or "paper.tieWidth" larger.`,
      `The second of two sheets laps over by ${formatMm(double.overlapMm)}, more than the width of a tie, ${formatMm(widthMm)}: make the lap smaller, or the ties wider.`,
    );
  }
  for (const [ink, list] of Object.entries(ties)) {
    const release = list.find(({ kind }) => kind === 'release');
    if (release !== undefined) {
      reader.at(
        'double.on',
        `is true, but ${release.id} of "ties.${ink}" is a release tie: with two sheets ties stay, so make it "printed" or take it out.`,
        `With two sheets ties stay, but ${release.id} is a release tie: make it a printed one, or take it out.`,
      );
    }
  }
}

function asSentence(clause: string): string {
  return /[.?!]$/.test(clause) ? clause : `${clause}.`;
}

/** The engine of the time says where JSON breaks by a count of characters; a person looks for a line. */
function parseJson(text: string, file: string): unknown {
  try {
    return JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch (error) {
    const message = error instanceof Error ? error.message : String(error);
    const position = /position (\d+)/.exec(message)?.[1];
    const at = position === undefined ? text.length : Number(position);
    const before = text.slice(0, at).split('\n');
    const where = `line ${before.length}, column ${before[before.length - 1].length + 1}`;
    throw new InputError(`${file}: this is not JSON from ${where} on: look for a missing comma, quote or brace there.`);
  }
}

function isGroup(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** A new repeat without a new step takes the repeat's own step: the file's was meant for the file's repeat. */
function applyOverrides(data: Record<string, unknown>, overrides: readonly JobOverride[]): Record<string, unknown> {
  let merged = data;
  const has = (key: string) => overrides.some((one) => one.path.length === 1 && one.path[0] === key);
  if (has('repeat') && !has('step')) {
    const { step: _own, ...rest } = merged;
    merged = rest;
  }
  for (const { path, value } of overrides) merged = withValue(merged, path, value);
  return merged;
}

function withValue(group: Record<string, unknown>, [key, ...rest]: readonly string[], value: unknown) {
  const own = group[key];
  // What is no group in the file stays as it is, for the schema to refuse.
  if (rest.length > 0 && own !== undefined && !isGroup(own)) return group;
  const inner: unknown = rest.length === 0 ? value : withValue(isGroup(own) ? own : {}, rest, value);
  return { ...group, [key]: inner };
}

/** What a value of several kinds may be; null where its key does not say. */
function expects(path: JobPath): string | null {
  return Object.entries(JOB_KEYS).find(([name]) => name === path.join('.'))?.[1].facts.expects ?? null;
}

/** What a schema of this library may hold within it: what it wraps, its keys, the values of a record, the items of a list. */
interface Inner {
  readonly def?: { readonly innerType?: Inner; readonly valueType?: Inner; readonly element?: Inner };
  readonly shape?: Readonly<Record<string, Inner>>;
}

/** The keys that the schema knows at a place. */
function knownKeys(path: JobPath): readonly string[] {
  let schema = unwrapped(jobFileSchema as unknown as Inner);
  for (const step of path) {
    schema = unwrapped(schema?.shape?.[String(step)] ?? schema?.def?.valueType ?? schema?.def?.element);
  }
  return Object.keys(schema?.shape ?? {});
}

function unwrapped(schema: Inner | undefined): Inner | undefined {
  let inner = schema;
  while (inner?.def?.innerType !== undefined) inner = inner.def.innerType;
  return inner;
}
