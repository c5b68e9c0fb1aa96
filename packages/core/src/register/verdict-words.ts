import { formatMm } from '../units/format.js';
import { worseSides } from './shape.js';
import type { KnownSquareCheck, NotSquareCheck, SquareCheck } from './types.js';

/** The verdict for a headline, in the middle of a sentence. */
export function verdictWords(check: SquareCheck): string {
  switch (check.verdict) {
    case 'square':
      return 'square within the error of reading';
    case 'not-square':
      return check.shape === null ? `not square (${measuredWords(check)})` : notSquareWords(check);
    case 'unsettled':
      return 'not settled: as read, opposite sides differ by more than joins stand, and the readings may be off by as much';
    case 'misreading':
      return 'the readings can not all be right';
    case 'not-flat':
      return 'the readings can not all be right, or the sheet did not lie flat';
    case 'out-of-order':
      return check.order.inOrder
        ? 'named with width and height exchanged, so nothing is said of its shape'
        : 'holes named out of order, so nothing is said of its shape';
    case 'not-enough':
      return `not proved (${measuredWords(check)})`;
  }
}

/** What there is to do before the sheet prints, as a sentence without its stop. */
export function mendWords(check: SquareCheck): string {
  switch (check.mend) {
    case 'nothing':
      return 'nothing to mend';
    case 'punch-again':
      return `punch ${check.repunch.length === 1 ? 'one hole' : `${check.repunch.length} holes`} again`;
    case 'measure-again':
      return check.verdict === 'not-flat' ? 'press the sheet flat and measure again' : 'measure again before you punch';
    case 'name-again':
      return 'give the holes their right names and check again';
    case 'measure-rest':
      return check.missing.length === 1 ? 'measure the one that is missing' : 'measure the rest';
  }
}

/** Whether joins are off for certain when the sheet is stepped, and not only as read: an error within that of reading proves nothing. */
export function provesMisjoins(check: KnownSquareCheck): boolean {
  return check.effect === 'misjoins' || check.extra.some(({ ok }) => !ok);
}

function notSquareWords({ effect, shape }: NotSquareCheck): string {
  switch (effect) {
    case 'misjoins':
      return `not square: opposite sides differ by ${formatMm(Math.abs(worseSides(shape).differenceMm))}, and joins spoil`;
    case 'leans':
      return `not square: it leans by ${formatMm(Math.abs(shape.leanMm))}, ${formatMm(Math.abs(shape.leanMmPerM), 1)} a metre`;
    case 'steps':
      return `not square, by too little to show: ${formatMm(shape.outOfSquareMm)} out of square`;
  }
}

function measuredWords({ missing }: SquareCheck): string {
  return `${6 - missing.length} of six distances measured`;
}
