import type { JobOverride } from '@okuri/core';
import { parseColour } from '@okuri/reader';
import { type Command, Option } from 'commander';

/** One option that stands for a value of the job: its flags, its words, and where in the job it goes. */
interface JobOption {
  readonly flags: string;
  readonly about: string;
  readonly path: readonly string[];
  /** Text from the command line → what a job file would hold. */
  readonly read?: (value: never) => unknown;
}

/** Text that is a number becomes one; other text stays, for the job's schema to refuse by name. */
function number(value: string): unknown {
  return value.trim() !== '' && Number.isFinite(Number(value)) ? Number(value) : value;
}

/** A colour by its CSS name or in any other CSS notation becomes `#rrggbb`. */
function colour(value: string): unknown {
  return parseColour(value) ?? value;
}

function colours(values: readonly string[]): unknown {
  return values.map(colour);
}

/** Two numbers of per cent; other text stays, for the job's schema to refuse by name. */
function movement(value: string): unknown {
  const [along, across, ...rest] = value.split(',').map((part) => number(part.replace(/%\s*$/, '')));
  return typeof along === 'number' && typeof across === 'number' && rest.length === 0 ? { along, across } : value;
}

/** Sizes with commas between them; none for no punch at all. */
function punches(value: string): unknown {
  return /^\s*none\s*$/i.test(value) ? [] : value.split(',').map((part) => part.trim());
}

/** A number of per cent, with its sign or without. */
function percent(value: string): unknown {
  return number(value.replace(/%\s*$/, ''));
}

/** One width for both sides, or the left and the right one. */
function selvedge(value: string): unknown {
  const [left, right, ...rest] = value.split(',').map((part) => part.trim());
  return right === undefined || rest.length > 0 ? value : { left, right };
}

function order(value: string): unknown {
  return value === 'none' ? value : { finished: value };
}

function wholeOrder(value: string): unknown {
  return value === 'none' ? value : { finished: value, wholeRepeats: true };
}

/** `3x2.4m`; other text stays, for the job's schema to refuse by name. */
function panels(value: string): unknown {
  const [, count, finished] = /^\s*(\d+)\s*[x×*]\s*(.+)$/i.exec(value) ?? [];
  return finished === undefined ? value : { count: Number(count), finished };
}

const MOTIF_OPTIONS: readonly JobOption[] = [
  { flags: '--title <text>', about: 'what the sheets and the guide are headed with', path: ['title'] },
  { flags: '--date <day>', about: 'the day printed on every page, YYYY-MM-DD', path: ['date'] },
  { flags: '--revision <text>', about: 'printed beside the date', path: ['revision'] },
  { flags: '--repeat <kind>', about: 'straight, half-drop, drop or brick', path: ['repeat'] },
  { flags: '--step <p/q>', about: 'the step of a drop or a brick, as a fraction of the unit', path: ['step'] },
  { flags: '--width <length>', about: 'width of the unit: scales the artwork evenly', path: ['width'] },
  { flags: '--height <length>', about: 'height of the unit: re-frames without stretching', path: ['height'] },
  { flags: '--across <n>', about: 'units side by side on one sheet', path: ['across'], read: number },
  { flags: '--down <n>', about: 'units below one another on one sheet', path: ['down'], read: number },
  { flags: '--spill <how>', about: 'shapes that poke out of the unit: auto, carry or trim', path: ['spill'] },
  { flags: '--drawn <what>', about: 'what the dark of the drawing means: cut or cloth', path: ['drawn'] },
  { flags: '--method <how>', about: 'how it is printed: resist or direct', path: ['method'] },
  {
    flags: '--cut <colour...>',
    about: 'the inks to cut; all but the paper colour by default',
    path: ['cut'],
    read: colours,
  },
  {
    flags: '--paper-colour <colour>',
    about: 'the colour of the drawing that is paper, not ink',
    path: ['paperColour'],
    read: colour,
  },
  {
    flags: '--hairlines <how>',
    about: 'closed hairlines are read as area or as line',
    path: ['hairlines'],
  },
  { flags: '--hold <how>', about: 'what waits for the proof: band or crossing', path: ['hold', 'mode'] },
  { flags: '--hold-width <length>', about: 'width of the held margin', path: ['hold', 'width'] },
  { flags: '--seat', about: 'dots where they show least, instead of on the corners', path: ['sheet', 'seat'] },
  { flags: '--no-seat', about: 'dots on the corners', path: ['sheet', 'seat'] },
  { flags: '--lap <length>', about: 'how far lead cuts run past the seam', path: ['lap'] },
];

const PRACTICE_OPTIONS: readonly JobOption[] = [
  { flags: '--hand <which>', about: 'the hand that holds the knife: right or left', path: ['hand'] },
  {
    flags: '--transfer <how>',
    about: 'how the cartoon gets onto the paper: cut-through, carbon or lightbox',
    path: ['transfer'],
  },
  { flags: '--grain <way>', about: "the paper's grain on the sheet: upright, level or unknown", path: ['grain'] },
  { flags: '--gauze', about: 'gauze is stuck over the cut sheet', path: ['gauze'] },
  { flags: '--no-gauze', about: 'no gauze', path: ['gauze'] },
  { flags: '--soak', about: 'the sheet is soaked before it prints', path: ['soak'] },
  { flags: '--no-soak', about: 'no soaking', path: ['soak'] },
  {
    flags: '--punch <when>',
    about: 'how dots are punched: dry through the cartoon, or wet by measure',
    path: ['punch'],
  },
  {
    flags: '--punches <sizes>',
    about: 'the punches that you own, such as "2mm, 2.5mm, 1/8in"; or none',
    path: ['punches'],
    read: punches,
  },
  {
    flags: '--movement <along,across>',
    about: 'per cent that soaked paper moves along and across its grain, such as 0.2,1.5; or unknown',
    path: ['movement'],
    read: movement,
  },
];

const PAGE_OPTIONS: readonly JobOption[] = [
  { flags: '--paper <size>', about: 'printer paper: A4, Letter, … or "329mm x 483mm"', path: ['pages', 'paper'] },
  { flags: '--orientation <how>', about: 'auto, portrait or landscape', path: ['pages', 'orientation'] },
  { flags: '--margin <length>', about: 'what the printer leaves blank along every edge', path: ['pages', 'margin'] },
  { flags: '--overlap <length>', about: 'how far neighbouring pages overlap', path: ['pages', 'overlap'] },
  { flags: '--mirror', about: 'mirror the artwork, not the text', path: ['pages', 'mirror'] },
  { flags: '--no-mirror', about: 'do not mirror', path: ['pages', 'mirror'] },
  { flags: '--skip-blank', about: 'leave out pages with no artwork on them', path: ['pages', 'skipBlank'] },
  { flags: '--no-skip-blank', about: 'print blank pages too', path: ['pages', 'skipBlank'] },
  {
    flags: '--scale-across <factor>',
    about: 'printer correction across the page',
    path: ['pages', 'scaleAcross'],
    read: number,
  },
  {
    flags: '--scale-along <factor>',
    about: 'printer correction along the page',
    path: ['pages', 'scaleAlong'],
    read: number,
  },
];

const CLOTH_SIZE_OPTIONS: readonly JobOption[] = [
  { flags: '--cloth-width <length>', about: 'width of the cloth', path: ['cloth', 'width'] },
  { flags: '--cloth-length <length>', about: 'length of the cloth', path: ['cloth', 'length'] },
];

const CLOTH_OPTIONS: readonly JobOption[] = [
  ...CLOTH_SIZE_OPTIONS,
  { flags: '--cloth-colour <colour>', about: 'the colour of the cloth', path: ['cloth', 'colour'], read: colour },
  { flags: '--dye <colour>', about: 'the colour of the dye', path: ['cloth', 'dye'], read: colour },
  { flags: '--seams', about: 'show the seams on the cloth', path: ['cloth', 'seams'] },
  { flags: '--no-seams', about: 'hide the seams', path: ['cloth', 'seams'] },
  { flags: '--dots', about: 'show the dots', path: ['cloth', 'dots'] },
  { flags: '--no-dots', about: 'hide the dots', path: ['cloth', 'dots'] },
  { flags: '--findings', about: 'show where the findings are', path: ['cloth', 'findings'] },
  { flags: '--no-findings', about: 'hide the findings', path: ['cloth', 'findings'] },
];

const PLAN_OPTIONS: readonly JobOption[] = [
  ...CLOTH_SIZE_OPTIONS,
  { flags: '--length <length>', about: 'the same as --cloth-length', path: ['cloth', 'length'] },
  { flags: '--sizes <which>', about: 'what width and length are: table or finished', path: ['cloth', 'sizes'] },
  {
    flags: '--shrink-along <percent>',
    about: 'how far the cloth shrinks along its length, or unknown',
    path: ['cloth', 'shrinkAlong'],
    read: percent,
  },
  {
    flags: '--shrink-across <percent>',
    about: 'how far the cloth shrinks across, or unknown',
    path: ['cloth', 'shrinkAcross'],
    read: percent,
  },
  { flags: '--direction <way>', about: "the unit's height lies along or across", path: ['cloth', 'direction'] },
  {
    flags: '--selvedge <width>',
    about: 'unprinted sides, both alike or left,right',
    path: ['cloth', 'selvedge'],
    read: selvedge,
  },
  { flags: '--cloth-start <length>', about: 'unprinted start of the cloth', path: ['cloth', 'start'] },
  { flags: '--cloth-end <length>', about: 'unprinted end of the cloth', path: ['cloth', 'end'] },
  { flags: '--start <how>', about: 'shifted columns begin above the cloth, or in', path: ['plan', 'start'] },
  { flags: '--fill <how>', about: 'cover all cloth, or print whole placements only', path: ['plan', 'fill'] },
  { flags: '--align <where>', about: 'whole columns from the left, or in the centre', path: ['plan', 'align'] },
  { flags: '--stepping <how>', about: 'every-other, or on', path: ['plan', 'stepping'] },
  { flags: '--wipe-every <n>', about: 'placements between wipings', path: ['plan', 'wipeEvery'], read: number },
  { flags: '--check-every <n>', about: 'placements between check marks', path: ['plan', 'checkEvery'], read: number },
  { flags: '--faces <which>', about: 'print one face of the cloth, or both', path: ['plan', 'faces'] },
  { flags: '--seconds <n>', about: 'time a placement takes', path: ['plan', 'secondsAPlacement'], read: number },
  { flags: '--drying <minutes>', about: 'how long a pass dries', path: ['plan', 'dryingMinutes'], read: number },
  { flags: '--hours <n>', about: 'hours of work a day', path: ['plan', 'hoursADay'], read: number },
  { flags: '--film <length>', about: 'thickness of the film of paste', path: ['plan', 'film'] },
  {
    flags: '--loss <percent>',
    about: 'paste added for tool and bowl, per cent of what is printed',
    path: ['plan', 'loss'],
    read: percent,
  },
  { flags: '--density <g/ml>', about: 'density of the paste', path: ['plan', 'density'], read: number },
  {
    flags: '--sheet-lasts <n>',
    about: 'placements that a cut sheet lasts, or auto',
    path: ['plan', 'sheetLasts'],
    read: number,
  },
  {
    flags: '--sheet-days <n>',
    about: 'days of use that a cut sheet lasts, or auto',
    path: ['plan', 'sheetDays'],
    read: number,
  },
  {
    flags: '--order <length>',
    about: 'tell the length to order for this finished length',
    path: ['plan', 'order'],
    read: order,
  },
  {
    flags: '--order-whole <length>',
    about: 'the same, in whole repeats',
    path: ['plan', 'order'],
    read: wholeOrder,
  },
  {
    flags: '--panels <count x length>',
    about: 'lengths joined side by side, such as 3x2.4m when finished',
    path: ['plan', 'panels'],
    read: panels,
  },
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

/** Adds families of options to a command, and the font files that every reading of a motif may need. */
/** Says on standard error which stages were worked out. */
export const STAGES_OPTION = '--stages';

export function addJobOptions(command: Command, families: readonly OptionFamily[]): Command {
  command.addOption(listable(new Option('--font <file...>', 'font files for the text in the drawing')));
  // Families share options: each is added once.
  for (const { flags, about } of new Set(families.flatMap((family) => FAMILIES[family]))) {
    command.addOption(listable(new Option(flags, about)));
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
  const overrides: JobOverride[] = [];
  for (const { flags, path, read } of new Set(Object.values(FAMILIES).flat())) {
    const option = command.options.find((one) => one.flags === flags);
    // A positive and a negative option share one value: the first of the two stands for both.
    if (option === undefined || (option.negate && hasPositive(command, option))) continue;
    const key = option.attributeName();
    if (command.getOptionValueSource(key) !== 'cli') continue;
    const value = command.getOptionValue(key);
    overrides.push({ path, value: read ? read(value as never) : value, name: option.long ?? flags });
  }
  return overrides;
}

function hasPositive(command: Command, option: Option): boolean {
  return command.options.some((one) => !one.negate && one.attributeName() === option.attributeName());
}
