import { z } from 'zod';
import { PLAN_DEFAULTS } from '../cloth/plan-options.js';
import { type Bounds, choice, colour, length, lengthShape, number, numberOr, own, tick } from './field.js';
import { at, type JobKey, within } from './job-key.js';
import { lengthText } from './length-text.js';
import type { Job } from './types.js';

const SELVEDGE_MM: Bounds = { min: 0, max: 5_000 };
const END_MM: Bounds = { min: 0, max: 100_000 };
/** Below zero the cloth grows. Beyond this it is no cloth, or the lengths were swapped. */
const SHRINK_PERCENT: Bounds = { min: -50, max: 90 };
const PLACEMENTS: Bounds = { min: 1, max: 1_000_000 };
const FINISHED_MM: Bounds = { min: 50, max: 1_000_000 };
const PANELS: Bounds = { min: 1, max: 10_000 };

const { time, paste } = PLAN_DEFAULTS;
const unknown = (): null => null;

function shrinkage(about: string) {
  const said = `${about} Per cent of the length before: 100 · (before − after) / before; measured on a swatch.`;
  const expects = '"unknown" or a number of per cent';
  return numberOr('unknown', SHRINK_PERCENT, said, { expects, usual: unknown, unit: ' %' });
}

type WrittenSelvedge = string | { left: string; right: string };

/** One width for both sides, or each its own: two values of a job under one key. */
function selvedge(): JobKey<WrittenSelvedge> {
  const sides = z.strictObject({
    left: lengthShape('The left one.').default('0mm'),
    right: lengthShape('The right one.').default('0mm'),
  });
  const about = 'What stays unprinted along the sides, on the table: one width, or {"left": "20mm", "right": "15mm"}.';
  type Sides = Pick<Job['cloth'], 'selvedgeLeftMm' | 'selvedgeRightMm'>;
  const field = own<WrittenSelvedge, Sides>(z.union([lengthShape('Both of them.'), sides]).default('0mm'), about, {
    expects: 'a length such as "20mm", or {"left": "20mm", "right": "15mm"}',
    read: (written, path, reader) => {
      const side = (which: 'left' | 'right'): number =>
        typeof written === 'string'
          ? reader.length(path, written, SELVEDGE_MM)
          : reader.length(`${path}.${which}`, written[which], SELVEDGE_MM);
      return { selvedgeLeftMm: side('left'), selvedgeRightMm: side('right') };
    },
    write: ({ selvedgeLeftMm: left, selvedgeRightMm: right }) =>
      left === right ? lengthText(left) : { left: lengthText(left), right: lengthText(right) },
    typed: (line) => {
      const [left, right, ...rest] = line.split(',').map((part) => part.trim());
      return right === undefined || rest.length > 0 ? line : { left, right };
    },
  });
  return within('cloth', field);
}

/** A finished length to order for, or none. */
function orderedLength(about: string) {
  type Written = 'none' | { finished: string; wholeRepeats: boolean };
  const known = z.strictObject({
    finished: lengthShape('The finished length that is wanted.'),
    wholeRepeats: z.boolean().describe('In whole repeats only.').default(false),
  });
  return own<Written, Job['plan']['order']>(z.union([z.literal('none'), known]).default('none'), about, {
    expects: '"none", or a length and whether in whole repeats: {"finished": "12m", "wholeRepeats": true}',
    read: (written, path, reader) =>
      written === 'none'
        ? null
        : {
            finishedMm: reader.length(`${path}.finished`, written.finished, FINISHED_MM),
            wholeRepeats: written.wholeRepeats,
          },
    write: (order) =>
      order === null ? 'none' : { finished: lengthText(order.finishedMm), wholeRepeats: order.wholeRepeats },
    typed: (line) => (line === 'none' ? line : { finished: line }),
  });
}

/** Lengths joined side by side: how many, and how long each is when finished; or none. */
function joinedPanels(about: string) {
  type Written = 'none' | { count: number; finished: string };
  const known = z.strictObject({
    count: z.int().describe('How many.'),
    finished: lengthShape('How long each is when finished.'),
  });
  return own<Written, Job['plan']['panels']>(z.union([z.literal('none'), known]).default('none'), about, {
    expects: '"none", or a count and a length: {"count": 3, "finished": "2.4m"}',
    read: (written, path, reader) =>
      written === 'none'
        ? null
        : {
            count: reader.number(`${path}.count`, written.count, PANELS),
            finishedMm: reader.length(`${path}.finished`, written.finished, FINISHED_MM),
          },
    write: (panels) => (panels === null ? 'none' : { count: panels.count, finished: lengthText(panels.finishedMm) }),
    // `3x2.4m`
    typed: (line) => {
      const [, count, finished] = /^\s*(\d+)\s*[x×*]\s*(.+)$/i.exec(line) ?? [];
      return finished === undefined ? line : { count: Number(count), finished };
    },
  });
}

/** Keys of the cloth and of the plan of the run along it. */
export const CLOTH_KEYS = {
  'cloth.width': at('cloth.widthMm', length({ min: 50, max: 10_000 }, '2m', 'Width of the cloth.')),
  'cloth.length': at('cloth.lengthMm', length({ min: 50, max: 1_000_000 }, '2m', 'Length of the cloth.')),
  'cloth.colour': at('cloth.colour', colour('#f4efe3', 'The colour of the cloth.')),
  'cloth.dye': at('cloth.dye', colour('#1f3a5f', 'The colour of the dye.')),
  'cloth.seams': at('cloth.seams', tick(false, 'Draw the seams on the picture of the cloth.')),
  'cloth.dots': at('cloth.dots', tick(false, 'Draw the dots.')),
  'cloth.findings': at('cloth.findings', tick(false, 'Draw where the findings are.')),
  'cloth.sizes': at(
    'cloth.sizes',
    choice(
      ['table', 'finished'],
      'table',
      'Whether width and length are those on the table or those wanted after finishing.',
    ),
  ),
  'cloth.shrinkAlong': at('cloth.shrinkAlongPercent', shrinkage('How far the cloth shrinks along its length.')),
  'cloth.shrinkAcross': at('cloth.shrinkAcrossPercent', shrinkage('How far it shrinks across.')),
  'cloth.direction': at(
    'cloth.direction',
    choice(
      ['along', 'across'],
      'along',
      "Whether the unit's height runs along the cloth, or the sheet lies turned clockwise by a quarter.",
    ),
  ),
  'cloth.selvedge': selvedge(),
  'cloth.start': at(
    'cloth.startMm',
    length(END_MM, '0mm', 'What stays unprinted at the start of the cloth, on the table.'),
  ),
  'cloth.end': at('cloth.endMm', length(END_MM, '0mm', 'What stays unprinted at its end.')),

  'plan.start': at(
    'plan.start',
    choice(
      ['above', 'in'],
      PLAN_DEFAULTS.start,
      'How columns that a drop shifts (rows of a brick) begin: "above" before the start of the cloth, on waste; "in" a part of a step in, with a gap that is trimmed off.',
    ),
  ),
  'plan.fill': at(
    'plan.fill',
    choice(
      ['cover', 'whole'],
      PLAN_DEFAULTS.fill,
      'Print over the edges so that all cloth is covered, or only what lies on it whole.',
    ),
  ),
  'plan.align': at(
    'plan.align',
    choice(
      ['left', 'centre'],
      PLAN_DEFAULTS.align,
      'Whole columns begin at the left selvedge, or stand in the middle of the width.',
    ),
  ),
  'plan.stepping': at(
    'plan.stepping',
    choice(
      ['every-other', 'on'],
      PLAN_DEFAULTS.stepping,
      '"every-other": what touches is not printed wet; "on": each placement lands on the one before.',
    ),
  ),
  'plan.wipeEvery': at(
    'plan.wipeEvery',
    number(
      PLACEMENTS,
      PLAN_DEFAULTS.wipeEvery,
      'For stepping "on": placements between two wipings of the back of the sheet.',
      { whole: true },
    ),
  ),
  'plan.checkEvery': at(
    'plan.checkEvery',
    number(PLACEMENTS, PLAN_DEFAULTS.checkEvery, 'Placements between two check marks.', { whole: true }),
  ),
  'plan.faces': at(
    'plan.faces',
    choice(['one', 'both'], PLAN_DEFAULTS.faces, 'Print one face of the cloth, or both in register.'),
  ),
  'plan.secondsAPlacement': at(
    'plan.time.secondsAPlacement',
    number(
      { min: 1, max: 86_400 },
      time.secondsAPlacement,
      'Time a placement takes, seconds: lay the sheet, spread, lift.',
    ),
  ),
  'plan.dryingMinutes': at(
    'plan.time.dryingMinutes',
    number({ min: 0, max: 43_200 }, time.dryingMinutes, 'How long a pass dries before the next, minutes.'),
  ),
  'plan.hoursADay': at('plan.time.hoursADay', number({ min: 0.25, max: 24 }, time.hoursADay, 'Hours of work a day.')),
  'plan.film': at(
    'plan.paste.filmMm',
    length({ min: 0.01, max: 20 }, `${paste.filmMm}mm`, 'Thickness of the film of paste or colour.'),
  ),
  'plan.loss': at(
    'plan.paste.extraPercent',
    number(
      { min: 0, max: 1_000 },
      paste.extraPercent,
      'Paste added for what stays on the tool and in the bowl, per cent of what is printed: 40 mixes 140 ml where 100 ml are printed.',
      { unit: ' %' },
    ),
  ),
  'plan.density': at(
    'plan.paste.densityGPerMl',
    number({ min: 0.1, max: 10 }, paste.densityGPerMl, 'Density of the paste, g/ml.', { unit: ' g/ml' }),
  ),
  'plan.sheetLasts': at(
    'plan.wear.placementsASheet',
    numberOr('auto', PLACEMENTS, 'Placements that a cut sheet lasts; "auto" goes by whether it is gauzed.', {
      expects: '"auto" or a whole number of placements',
      usual: unknown,
      whole: true,
    }),
  ),
  'plan.sheetDays': at(
    'plan.wear.daysASheet',
    numberOr(
      'auto',
      { min: 1, max: 10_000 },
      'Days of use that a cut sheet lasts; "auto" goes by whether it is gauzed.',
      { expects: '"auto" or a whole number of days', usual: unknown, whole: true },
    ),
  ),
  'plan.order': at('plan.order', orderedLength('The finished length for which the length to order is worked out.')),
  'plan.panels': at(
    'plan.panels',
    joinedPanels('Lengths of the cloth that are joined side by side, so that their repeats have to match.'),
  ),
};
