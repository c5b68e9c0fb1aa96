import { formatMm } from '../units/format.js';
import { InputError } from '../units/input-error.js';
import { rounded } from '../units/round.js';
import type { Direction, Stepping } from './plan-types.js';

/** The cloth of a plan. Lengths in mm. */
export interface PlanClothOptions {
  readonly widthMm: number;
  readonly lengthMm: number;
  /** Whether these are the sizes on the table or after finishing. Default: on the table. */
  readonly sizes?: 'table' | 'finished';
  /** 100 · (before − after) / before; above zero shrinks. Default null: not measured. */
  readonly shrinkAcrossPercent?: number | null;
  readonly shrinkAlongPercent?: number | null;
  /** Unprinted sides, on the table. Default 0. */
  readonly selvedgeLeftMm?: number;
  readonly selvedgeRightMm?: number;
  /** Unprinted ends, on the table. Default 0. */
  readonly startMm?: number;
  readonly endMm?: number;
}

/** What a plan is made to. */
export interface PlanOptions {
  readonly cloth: PlanClothOptions;
  readonly direction?: Direction;
  /** Whole columns begin at the left selvedge, or stand in the middle of the usable width. Default: left. */
  readonly align?: 'left' | 'centre';
  /** Print over the edges so that all usable cloth is covered, or only what lies on it whole. Default: cover. */
  readonly fill?: 'cover' | 'whole';
  /**
   * How columns (rows of a brick) that the repeat shifts begin. `above`: before the start of the cloth (beside it), the part beyond it onto waste.
   * `in`: a part of a step in, so that nothing prints beyond the edge; the gap stays plain and is trimmed. Default: above.
   */
  readonly start?: 'above' | 'in';
  readonly stepping?: Stepping;
  /** For `stepping: 'on'`: placements between two wipings of the back. */
  readonly wipeEvery?: number;
  /** Placements between two check marks. */
  readonly checkEvery?: number;
  /** The finished length that is wanted, mm. */
  readonly order?: { readonly finishedMm: number; readonly wholeRepeats: boolean } | null;
  /** Lengths to be joined side by side: how many, and how long each is when finished, mm. */
  readonly panels?: { readonly count: number; readonly finishedMm: number } | null;
  readonly time?: { readonly secondsAPlacement?: number; readonly dryingMinutes?: number; readonly hoursADay?: number };
  readonly paste?: { readonly filmMm?: number; readonly extraPercent?: number; readonly densityGPerMl?: number };
  /** What a sheet lasts; null: by whether it is gauzed. */
  readonly wear?: { readonly placementsASheet?: number | null; readonly daysASheet?: number | null };
  readonly faces?: 'one' | 'both';
}

/** Plan options with every default filled in. */
export interface FullPlanOptions {
  readonly cloth: Required<PlanClothOptions>;
  readonly direction: Direction;
  readonly align: 'left' | 'centre';
  readonly fill: 'cover' | 'whole';
  readonly start: 'above' | 'in';
  readonly stepping: Stepping;
  readonly wipeEvery: number;
  readonly checkEvery: number;
  readonly order: { readonly finishedMm: number; readonly wholeRepeats: boolean } | null;
  readonly panels: { readonly count: number; readonly finishedMm: number } | null;
  readonly time: { readonly secondsAPlacement: number; readonly dryingMinutes: number; readonly hoursADay: number };
  readonly paste: { readonly filmMm: number; readonly extraPercent: number; readonly densityGPerMl: number };
  readonly wear: { readonly placementsASheet: number | null; readonly daysASheet: number | null };
  readonly faces: 'one' | 'both';
}

/**
 * The defaults. Film, paste for tool and bowl, density, times, wiping and what a sheet lasts are common practice without a published source: they are inputs,
 * and estimates made from them say so.
 */
export const PLAN_DEFAULTS: Omit<FullPlanOptions, 'cloth'> = {
  direction: 'along',
  align: 'left',
  fill: 'cover',
  start: 'above',
  stepping: 'every-other',
  wipeEvery: 4,
  checkEvery: 5,
  order: null,
  panels: null,
  time: { secondsAPlacement: 90, dryingMinutes: 120, hoursADay: 8 },
  paste: { filmMm: 0.7, extraPercent: 40, densityGPerMl: 1.1 },
  wear: { placementsASheet: null, daysASheet: null },
  faces: 'one',
};

/** Longest cloth that is planned, mm: 10 km. A longer one is a slip of the unit. */
const MAX_CLOTH_MM = 1e7;
/** Most panels in one plan. */
const MAX_PANELS = 10_000;

/** Fills in the defaults and refuses what can't be: throws an `InputError` with one sentence. */
export function fullPlanOptions(options: PlanOptions): FullPlanOptions {
  const full: FullPlanOptions = {
    ...PLAN_DEFAULTS,
    ...options,
    cloth: {
      sizes: 'table',
      shrinkAcrossPercent: null,
      shrinkAlongPercent: null,
      selvedgeLeftMm: 0,
      selvedgeRightMm: 0,
      startMm: 0,
      endMm: 0,
      ...options.cloth,
    },
    time: { ...PLAN_DEFAULTS.time, ...options.time },
    paste: { ...PLAN_DEFAULTS.paste, ...options.paste },
    wear: { ...PLAN_DEFAULTS.wear, ...options.wear },
  };
  checkCloth(full.cloth);
  checkCount(full.wipeEvery, 'number of placements between two wipings');
  checkCount(full.checkEvery, 'number of placements between two check marks');
  const { order, panels, time, paste, wear } = full;
  if (order) checkAbove(order.finishedMm, 'finished length that is wanted');
  if (panels) {
    checkAbove(panels.finishedMm, 'finished length of a panel');
    checkCount(panels.count, 'number of panels');
    if (panels.count > MAX_PANELS) {
      throw new InputError(`The plan asks for ${panels.count} panels: at most ${MAX_PANELS} can be planned at once.`);
    }
  }
  checkAbove(time.secondsAPlacement, 'time a placement');
  checkFrom(time.dryingMinutes, 0, 'drying time');
  if (!(time.hoursADay > 0 && time.hoursADay <= 24)) {
    throw new InputError(`The hours of work a day are ${shown(time.hoursADay)}: they must be above 0 and at most 24.`);
  }
  checkAbove(paste.filmMm, 'thickness of the film');
  checkFrom(paste.extraPercent, 0, 'paste for tool and bowl');
  checkAbove(paste.densityGPerMl, 'density of the paste');
  if (wear.placementsASheet !== null) checkCount(wear.placementsASheet, 'number of placements that a sheet lasts');
  if (wear.daysASheet !== null) checkCount(wear.daysASheet, 'number of days that a sheet lasts');
  return full;
}

/** Throws an `InputError` unless the shrinkage can be: above −50 %, below 100 %. */
export function checkShrinkage(percent: number, what: string): void {
  if (percent > -50 && percent < 100) return;
  throw new InputError(
    `The shrinkage ${what} the cloth is ${shown(percent)} %: it must be above -50 % and below 100 %; wash a swatch and measure it before and after.`,
  );
}

function checkCloth(cloth: Required<PlanClothOptions>): void {
  for (const [what, mm] of [
    ['width', cloth.widthMm],
    ['length', cloth.lengthMm],
  ] as const) {
    if (mm > 0 && mm <= MAX_CLOTH_MM) continue;
    throw new InputError(
      `The ${what} of the cloth is ${Number.isFinite(mm) ? formatMm(mm) : 'no number'}: it must be above zero and at most ${MAX_CLOTH_MM / 1e6} km.`,
    );
  }
  for (const [what, percent] of [
    ['across', cloth.shrinkAcrossPercent],
    ['along', cloth.shrinkAlongPercent],
  ] as const) {
    if (percent !== null) checkShrinkage(percent, what);
  }
  for (const [what, mm] of [
    ['left selvedge', cloth.selvedgeLeftMm],
    ['right selvedge', cloth.selvedgeRightMm],
    ['unprinted start', cloth.startMm],
    ['unprinted end', cloth.endMm],
  ] as const) {
    checkFrom(mm, 0, what);
  }
}

function checkAbove(value: number, what: string): void {
  if (value > 0 && Number.isFinite(value)) return;
  throw new InputError(`The ${what} is ${shown(value)}: it must be above zero.`);
}

function checkFrom(value: number, least: number, what: string): void {
  if (value >= least && Number.isFinite(value)) return;
  throw new InputError(`The ${what} is ${shown(value)}: it must be ${least} or more.`);
}

function checkCount(value: number, what: string): void {
  if (Number.isInteger(value) && value >= 1) return;
  throw new InputError(`The ${what} is ${shown(value)}: it must be a whole number, 1 or more.`);
}

function shown(value: number): string {
  return Number.isFinite(value) ? `${rounded(value, 3)}` : 'no number';
}
