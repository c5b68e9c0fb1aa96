import { fractionText, parseFraction } from '../repeat/fraction.js';
import type { Repeat } from '../repeat/types.js';
import { InputError } from '../units/input-error.js';
import { findPaper } from '../units/paper-sizes.js';
import { explainIssue, type JobPath, pathName } from './explain.js';
import { LIMITS } from './limits.js';
import { mirroredFor } from './practice.js';
import { readMovement } from './read-movement.js';
import { readDone, readNumbers } from './read-numbers.js';
import { readDouble, readPace, readPaper } from './read-paper.js';
import { readPlan, readPlanCloth } from './read-plan.js';
import { readProof } from './read-proof.js';
import { readTies } from './read-ties.js';
import { type FilledJobFile, JOB_VERSION, jobFileSchema } from './schema.js';
import { readTakenAt } from './taken-at.js';
import type { Job } from './types.js';
import { Values } from './values.js';

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
}

/** Stands for a date that nobody gave: engines without a clock still make the same file twice. */
const NO_DATE = '1970-01-01';

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
  const fail = (sentence: string): never => {
    throw new InputError(`${options.file}: ${sentence}`);
  };
  if (!isGroup(merged)) return fail('a job file is a group of keys in braces, beginning with "okuri": 1.');
  const parsed = jobFileSchema.safeParse(merged);
  if (!parsed.success) {
    const issues = parsed.error.issues;
    const more = issues.length > 1 ? ` (and ${issues.length - 1} more like it)` : '';
    return fail(asSentence(explainIssue(issues[0], merged, nameOf, knownKeys) + more));
  }
  return fillJob(parsed.data, options, new Values(nameOf, fail));
}

function fillJob(raw: FilledJobFile, options: ReadJobOptions, values: Values): JobReading {
  const remarks: string[] = [];
  const repeat = readRepeat(raw, values, remarks);
  const across = values.number('across', raw.across, { min: 1, max: LIMITS.units });
  const down = values.number('down', raw.down, { min: 1, max: LIMITS.units });
  if (across * down > LIMITS.units) {
    values.at('across', `times "down" is ${across * down}: at most ${LIMITS.units} units go on one sheet.`);
  }
  const { joins, sheet, pages, cloth } = raw;
  const gapMinMm = values.length('joins.gapMin', joins.gapMin, LIMITS.gapMm);
  const gapMaxMm = values.length('joins.gapMax', joins.gapMax, LIMITS.gapMm);
  if (gapMinMm > gapMaxMm) values.at('joins.gapMin', 'is larger than "joins.gapMax": change one of them.');
  if (raw.motif.trim() === '') values.at('motif', 'is empty: name the drawing, such as "leaves.svg".');
  const paper = readPaper(raw, values);
  const ties = readTies(raw, values);
  const job: Job = {
    title: raw.title ?? baseName(raw.motif),
    motif: raw.motif,
    fonts: raw.fonts,
    date: readDate(raw.date, options.date, values),
    revision: raw.revision,
    size: {
      widthMm: values.lengthOrAuto('width', raw.width, LIMITS.unitMm),
      heightMm: values.lengthOrAuto('height', raw.height, LIMITS.unitMm),
    },
    repeat,
    across,
    down,
    spill: raw.spill,
    drawn: raw.drawn,
    method: raw.method,
    hairlines: raw.hairlines,
    paperColour: values.colour('paperColour', raw.paperColour),
    cut: raw.cut === 'all' ? null : [...new Set(raw.cut.map((one) => values.colour('cut', one)))],
    joins: {
      reachMm: values.length('joins.reach', joins.reach, LIMITS.reachMm),
      gapShare: values.number('joins.gapShare', joins.gapShare, { min: 0, max: 1 }),
      gapMinMm,
      gapMaxMm,
      kinkFineDeg: values.number('joins.kinkFineDeg', joins.kinkFineDeg, { min: 0, max: 90 }, '°'),
      kinkBroadDeg: values.number('joins.kinkBroadDeg', joins.kinkBroadDeg, { min: 0, max: 90 }, '°'),
      broadMm: values.length('joins.broad', joins.broad, LIMITS.broadMm),
    },
    practice: {
      hand: raw.hand,
      transfer: raw.transfer,
      grain: raw.grain === 'unknown' ? null : raw.grain,
      gauze: raw.gauze,
      soak: raw.soak,
    },
    punch: raw.punch,
    punchesMm: readPunches(raw.punches, values),
    movement: readMovement(raw.movement, values),
    paper,
    double: readDouble(raw, { ties, tieWidthMm: paper.tie.widthMm }, values),
    pace: readPace(raw.pace, values),
    takenAt: readTakenAt(raw.takenAt, values),
    ties,
    numbers: readNumbers(raw.numbers, values),
    done: readDone(raw.done, values),
    proof: readProof(raw.proof, values),
    hold: { mode: raw.hold.mode, widthMm: values.lengthOrAuto('hold.width', raw.hold.width, LIMITS.holdMm) },
    lapMm: values.lengthOrAuto('lap', raw.lap, LIMITS.lapMm),
    sheet: {
      borderMm: values.length('sheet.border', sheet.border, LIMITS.borderMm),
      trailingMm: values.length('sheet.trailing', sheet.trailing, LIMITS.borderMm),
      dotMm: values.length('sheet.dot', sheet.dot, LIMITS.dotMm),
      sightDotMm: values.length('sheet.sightDot', sheet.sightDot, LIMITS.dotMm),
      seat: sheet.seat,
    },
    pages: {
      paper: values.parsed('pages.paper', pages.paper, paperName),
      orientation: pages.orientation,
      marginMm: values.length('pages.margin', pages.margin, LIMITS.marginMm),
      overlapMm: values.length('pages.overlap', pages.overlap, LIMITS.overlapMm),
      mirror: pages.mirror === 'auto' ? mirroredFor(raw.transfer) : pages.mirror,
      skipBlank: pages.skipBlank,
      scaleAcross: values.number('pages.scaleAcross', pages.scaleAcross, LIMITS.scale),
      scaleAlong: values.number('pages.scaleAlong', pages.scaleAlong, LIMITS.scale),
    },
    cloth: {
      widthMm: values.length('cloth.width', cloth.width, LIMITS.clothWidthMm),
      lengthMm: values.length('cloth.length', cloth.length, LIMITS.clothLengthMm),
      colour: values.colour('cloth.colour', cloth.colour),
      dye: values.colour('cloth.dye', cloth.dye),
      seams: cloth.seams,
      dots: cloth.dots,
      findings: cloth.findings,
      ...readPlanCloth(cloth, values),
    },
    plan: readPlan(raw.plan, values),
  };
  return { job, remarks };
}

/** Punches from the smallest on, each once. */
function readPunches(raw: readonly string[], values: Values): number[] {
  const sizes = raw.map((one, k) => values.length(`punches.${k}`, one, LIMITS.punchMm));
  return [...new Set(sizes)].sort((a, b) => a - b);
}

/** The step has to suit the repeat; a fraction outside 0 to 1 is brought into range, which is said. */
function readRepeat(raw: FilledJobFile, values: Values, remarks: string[]): Repeat {
  const straight: Repeat = { kind: 'straight', step: { p: 0, q: 1 } };
  const half = { p: 1, q: 2 };
  if (raw.step === undefined) {
    if (raw.repeat === 'straight') return straight;
    return { kind: raw.repeat === 'brick' ? 'brick' : 'drop', step: half };
  }
  const { fraction: step, changedFrom } = values.parsed('step', raw.step, parseFraction);
  if (changedFrom !== null)
    remarks.push(`The step ${changedFrom} is the same as ${fractionText(step)}, and is read as that.`);
  if (raw.repeat === 'straight') {
    if (step.p === 0) return straight;
    return values.at(
      'step',
      `is ${raw.step}, but the repeat is straight: say drop or brick for a step, or leave it out.`,
    );
  }
  if (raw.repeat === 'half-drop') {
    if (step.p === 1 && step.q === 2) return { kind: 'drop', step };
    return values.at('step', `is ${raw.step}, but a half-drop steps by 1/2: say drop for another step.`);
  }
  if (step.p === 0) {
    remarks.push(`A ${raw.repeat} by ${raw.step} is a straight repeat, and is read as one.`);
    return straight;
  }
  return { kind: raw.repeat, step };
}

function readDate(own: string | undefined, given: string | undefined, values: Values): string {
  const date = own ?? given ?? NO_DATE;
  const [year, month, day] = /^(\d{4})-(\d{2})-(\d{2})$/.exec(date)?.slice(1).map(Number) ?? [];
  const real = new Date(Date.UTC(year, month - 1, day));
  if (year >= 1900 && real.getUTCMonth() === month - 1 && real.getUTCDate() === day) return date;
  return values.at('date', `is ${JSON.stringify(date)}: write a day of the calendar as YYYY-MM-DD.`);
}

function baseName(path: string): string {
  const name = path.split(/[\\/]/).pop() ?? path;
  return name.replace(/\.[^.]+$/, '') || path;
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

/** The paper as it was written, once it is sure that it is one. */
function paperName(text: string): string {
  findPaper(text);
  return text;
}
