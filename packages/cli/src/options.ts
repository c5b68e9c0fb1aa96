import { type FieldKind, formatMm, JOB_KEYS, type JobKeyName, type JobOverride } from '@okuri/core';
import { parseColour } from '@okuri/reader';
import { type Command, Option } from 'commander';

/** An option that stands for a key of the job; its words, kind and choices are the key's own. */
interface JobOption {
  /** Without dashes; a key that is on or off has a second one, with `no-` before it. */
  readonly name: string;
  readonly key: JobKeyName;
  /** In place of the key's own words. */
  readonly about?: string;
  /** Text from the command line → what a job file would hold; by default as the key takes it on one line. */
  readonly typed?: (text: string) => unknown;
}

const option = (name: string, key: JobKeyName): JobOption => ({ name, key });

const MOTIF_OPTIONS: readonly JobOption[] = [
  ...(['title', 'date', 'revision', 'repeat', 'step', 'width', 'height', 'across', 'down'] as const).map((key) =>
    option(key, key),
  ),
  ...(['spill', 'drawn', 'method', 'cut', 'hairlines', 'lap'] as const).map((key) => option(key, key)),
  option('paper-colour', 'paperColour'),
  option('hold', 'hold.mode'),
  option('hold-width', 'hold.width'),
  option('seat', 'sheet.seat'),
];

const PRACTICE_OPTIONS: readonly JobOption[] = (
  ['hand', 'transfer', 'grain', 'gauze', 'soak', 'punch', 'punches', 'movement'] as const
).map((key) => option(key, key));

const PAGE_OPTIONS: readonly JobOption[] = [
  option('paper', 'pages.paper'),
  option('orientation', 'pages.orientation'),
  option('margin', 'pages.margin'),
  option('overlap', 'pages.overlap'),
  option('mirror', 'pages.mirror'),
  option('skip-blank', 'pages.skipBlank'),
  option('scale-across', 'pages.scaleAcross'),
  option('scale-along', 'pages.scaleAlong'),
];

const CLOTH_SIZE_OPTIONS: readonly JobOption[] = [
  option('cloth-width', 'cloth.width'),
  option('cloth-length', 'cloth.length'),
];

const CLOTH_OPTIONS: readonly JobOption[] = [
  ...CLOTH_SIZE_OPTIONS,
  option('cloth-colour', 'cloth.colour'),
  option('dye', 'cloth.dye'),
  option('seams', 'cloth.seams'),
  option('dots', 'cloth.dots'),
  option('findings', 'cloth.findings'),
];

const PLAN_OPTIONS: readonly JobOption[] = [
  ...CLOTH_SIZE_OPTIONS,
  { ...option('length', 'cloth.length'), about: 'The same as --cloth-length.' },
  option('sizes', 'cloth.sizes'),
  option('shrink-along', 'cloth.shrinkAlong'),
  option('shrink-across', 'cloth.shrinkAcross'),
  option('direction', 'cloth.direction'),
  option('selvedge', 'cloth.selvedge'),
  option('cloth-start', 'cloth.start'),
  option('cloth-end', 'cloth.end'),
  option('start', 'plan.start'),
  option('fill', 'plan.fill'),
  option('align', 'plan.align'),
  option('stepping', 'plan.stepping'),
  option('wipe-every', 'plan.wipeEvery'),
  option('check-every', 'plan.checkEvery'),
  option('faces', 'plan.faces'),
  option('seconds', 'plan.secondsAPlacement'),
  option('drying', 'plan.dryingMinutes'),
  option('hours', 'plan.hoursADay'),
  option('film', 'plan.film'),
  option('loss', 'plan.loss'),
  option('density', 'plan.density'),
  option('sheet-lasts', 'plan.sheetLasts'),
  option('sheet-days', 'plan.sheetDays'),
  option('order', 'plan.order'),
  {
    ...option('order-whole', 'plan.order'),
    about: 'The same as --order, in whole repeats.',
    typed: (text) => (text === 'none' ? text : { finished: text, wholeRepeats: true }),
  },
  option('panels', 'plan.panels'),
];

/** Families of options; each command takes those that bear on what it makes. `plan` and `cloth` share the size of the cloth. */
export type OptionFamily = 'motif' | 'practice' | 'pages' | 'cloth' | 'plan';

const FAMILIES: Record<OptionFamily, readonly JobOption[]> = {
  motif: MOTIF_OPTIONS,
  practice: PRACTICE_OPTIONS,
  pages: PAGE_OPTIONS,
  cloth: CLOTH_OPTIONS,
  plan: PLAN_OPTIONS,
};

/** What stands for the value of an option in the help, by its kind. */
const PLACEHOLDERS: Record<FieldKind, string> = {
  length: '<length>',
  number: '<number>',
  whole: '<number>',
  choice: '<which>',
  tick: '',
  colour: '<colour>',
  text: '<text>',
  other: '<value>',
};

/** How an option is written: `--width <length>`; a list of colours takes several. */
function flagsOf({ name, key }: JobOption): string {
  const { kind } = JOB_KEYS[key].facts;
  return `--${name} ${key === 'cut' ? '<colour...>' : PLACEHOLDERS[kind]}`.trim();
}

function aboutOf({ key, about }: JobOption): string {
  const { facts } = JOB_KEYS[key];
  const { choices, bounds, kind, unit } = facts;
  const parts = [about ?? facts.about];
  if (choices.length > 0) parts.push(`One of ${choices.join(', ')}.`);
  if (bounds !== null && kind !== 'length') parts.push(`From ${bounds.min} to ${bounds.max}${unit}.`);
  if (bounds !== null && kind === 'length') parts.push(`From ${formatMm(bounds.min)} to ${formatMm(bounds.max)}.`);
  return parts.join(' ');
}

/** The value that an option gives to its key. */
function writtenBy({ key, typed }: JobOption, given: unknown): unknown {
  const colour = (text: string): unknown => parseColour(text) ?? text;
  if (key === 'cut') return (given as readonly string[]).map(colour);
  if (typeof given !== 'string') return given;
  return JOB_KEYS[key].facts.kind === 'colour' ? colour(given) : (typed ?? JOB_KEYS[key].typed)(given);
}

/** Says on standard error which stages were worked out. */
export const STAGES_OPTION = '--stages';

/** Adds families of options to a command, and the font files that every reading of a motif may need. */
export function addJobOptions(command: Command, families: readonly OptionFamily[]): Command {
  command.addOption(listable(new Option('--font <file...>', 'font files for the text in the drawing')));
  // Families share options: each is added once.
  for (const one of new Set(families.flatMap((family) => FAMILIES[family]))) {
    command.addOption(listable(new Option(flagsOf(one), aboutOf(one))));
    if (JOB_KEYS[one.key].facts.kind === 'tick') {
      command.addOption(new Option(`--no-${one.name}`, `The contrary of --${one.name}.`));
    }
  }
  command.addOption(new Option(STAGES_OPTION, 'name the stages that were worked out, as JSON on standard error'));
  return command;
}

/** Readings between two dots: `A-F=155mm`. */
export const EXTRA = /^\s*([A-Za-z]+)\s*[-–]\s*([A-Za-z]+)\s*=(.*)$/s;

/** An offset at an end of a sheet: `J3=0.4mm`. */
const OFFSET = /^\s*[jxy]\d+\s*=/i;

/** Options that take several values at once, and what a further value looks like. */
const LISTS: Readonly<Record<string, (value: string) => boolean>> = {
  '--cut': (value) => parseColour(value) !== null,
  '--accept': isTieIds,
  '--drop': isTieIds,
  '--extra': (value) => EXTRA.test(value),
  '--offset': (value) => OFFSET.test(value),
  '--font': (value) => /\.(?:ttf|otf|woff2?|ttc)$/i.test(value),
};

/** Ids of ties and ranges of them, as much of such a list as one argument may hold: `T1`, `T3-T5,`, `all`, or a dash between two. */
function isTieIds(value: string): boolean {
  return /^(?:all|[-–]|t\d[t\d,;\s–-]*)$/i.test(value);
}

/**
 * The arguments with every list written as one option a value. A list would swallow a drawing's name that follows it; this way it ends where
 * a value is no colour, or no font file.
 */
export function spreadLists(args: readonly string[]): string[] {
  const spread: string[] = [];
  let list: string | null = null;
  args.forEach((arg, k) => {
    if (list !== null && args[k - 1] !== list && LISTS[list](arg)) spread.push(list);
    else if (args[k - 1] !== list) list = null;
    spread.push(arg);
    if (Object.hasOwn(LISTS, arg)) list = arg;
  });
  return spread;
}

/** An option that takes a list, as `spreadLists` gives it. */
export function listOption(flags: string, about: string): Option {
  return listable(new Option(flags, about));
}

/** An option for several values takes one at a time, as `spreadLists` gives them, and gathers them. */
function listable(option: Option): Option {
  if (!option.variadic) return option;
  option.variadic = false;
  return option.argParser((value: string, before: readonly string[] | undefined) => [...(before ?? []), value]);
}

/** The values that were given on the command line, to stand in place of the job's own. */
export function jobOverrides(command: Command): JobOverride[] {
  return [...new Set(Object.values(FAMILIES).flat())].flatMap((one) => {
    const option = command.options.find(({ flags }) => flags === flagsOf(one));
    // A positive and a negative option share one value under one name.
    const key = option?.attributeName();
    if (option === undefined || key === undefined || command.getOptionValueSource(key) !== 'cli') return [];
    const value = writtenBy(one, command.getOptionValue(key));
    return [{ path: one.key.split('.'), value, name: `--${one.name}` }];
  });
}
