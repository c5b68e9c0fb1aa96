import { formatMm } from '../units/format.js';
import { InputError } from '../units/input-error.js';
import { checkShrinkage, type FullPlanOptions } from './plan-options.js';
import type { LengthOrder, PlanCloth } from './plan-types.js';

/** So much of a repeat is rounding, not a repeat: a length that is whole in another unit must stay whole. */
const REPEAT_SLACK = 1e-9;

/**
 * The length on the table that is `finishedMm` after a shrinkage (per cent of the length before): finished / (1 − s/100), not
 * finished · (1 + s/100). Throws an `InputError` for a shrinkage of 100 % or more, or of −50 % or less.
 */
export function tableLength(finishedMm: number, shrinkPercent: number): number {
  checkShrinkage(shrinkPercent, 'of');
  return finishedMm / (1 - shrinkPercent / 100);
}

/** What a length on the table is after a shrinkage. Throws as `tableLength` does. */
export function finishedLength(tableMm: number, shrinkPercent: number): number {
  checkShrinkage(shrinkPercent, 'of');
  return tableMm * (1 - shrinkPercent / 100);
}

/** The fewest whole repeats that are at least as long as `lengthMm`. */
export function wholeRepeats(lengthMm: number, repeatMm: number): number {
  return Math.max(1, Math.ceil(lengthMm / repeatMm - REPEAT_SLACK));
}

/**
 * The cloth in both sizes and what of it can be printed; what stays plain at its start is not known yet (0). Throws an `InputError` where nothing
 * is left to print on.
 */
export function planCloth({ cloth }: FullPlanOptions): PlanCloth {
  const { sizes, shrinkAcrossPercent, shrinkAlongPercent } = cloth;
  const [across, along] = [shrinkAcrossPercent ?? 0, shrinkAlongPercent ?? 0];
  const given = { widthMm: cloth.widthMm, lengthMm: cloth.lengthMm };
  const table =
    sizes === 'table'
      ? given
      : { widthMm: tableLength(given.widthMm, across), lengthMm: tableLength(given.lengthMm, along) };
  const finished =
    sizes === 'finished'
      ? given
      : { widthMm: finishedLength(given.widthMm, across), lengthMm: finishedLength(given.lengthMm, along) };
  const usable = {
    x0: cloth.selvedgeLeftMm,
    y0: cloth.startMm,
    x1: table.widthMm - cloth.selvedgeRightMm,
    y1: table.lengthMm - cloth.endMm,
  };
  if (!(usable.x1 > usable.x0)) {
    throw new InputError(
      `The selvedges (${formatMm(cloth.selvedgeLeftMm)} and ${formatMm(cloth.selvedgeRightMm)}) leave nothing of a cloth that is ${formatMm(table.widthMm)} wide: give a wider cloth or narrower selvedges.`,
    );
  }
  if (!(usable.y1 > usable.y0)) {
    throw new InputError(
      `The unprinted ends (${formatMm(cloth.startMm)} and ${formatMm(cloth.endMm)}) leave nothing of a cloth that is ${formatMm(table.lengthMm)} long: give a longer cloth or shorter ends.`,
    );
  }
  return {
    given,
    sizes,
    table,
    finished,
    shrinkAcrossPercent,
    shrinkAlongPercent,
    selvedgeLeftMm: cloth.selvedgeLeftMm,
    selvedgeRightMm: cloth.selvedgeRightMm,
    usable,
    headWasteMm: 0,
    sideWasteMm: 0,
  };
}

/** What to order so that `finishedMm` of printed cloth is there after finishing. `repeatMm` is the repeat along the cloth, on the table. */
export function lengthToOrder(
  wanted: { readonly finishedMm: number; readonly wholeRepeats: boolean },
  options: {
    readonly repeatMm: number;
    readonly shrinkAlongPercent: number;
    /** Unprinted or incomplete cloth at both ends together, on the table. */
    readonly endsMm: number;
  },
): LengthOrder {
  const { repeatMm, shrinkAlongPercent, endsMm } = options;
  const least = tableLength(wanted.finishedMm, shrinkAlongPercent);
  const repeats = wanted.wholeRepeats ? wholeRepeats(least, repeatMm) : null;
  const printedMm = repeats === null ? least : Math.max(least, repeats * repeatMm);
  return {
    finishedMm: wanted.finishedMm,
    wholeRepeats: wanted.wholeRepeats,
    repeats,
    printedMm,
    printedFinishedMm: finishedLength(printedMm, shrinkAlongPercent),
    orderMm: printedMm + endsMm,
  };
}
