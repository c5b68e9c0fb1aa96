import { formatMm } from '../units/format.js';
import { InputError } from '../units/input-error.js';
import { percentText } from '../units/words.js';
import { READING_ERROR_MM } from './readings.js';
import type { PaperMovement, SheetMovement, SquareTargets } from './types.js';

/** Soaked paper moves by 2 to 3 % across its grain at most; more than this is a slip, per cent. */
export const MOVEMENT_MAX_PERCENT = 10;

/** What an unmeasured movement is told by: a little of what soaked paper does. */
export const TOLD_PERCENT = 0.3;

/** A distance on one strip or sheet, dry and then soaked, mm. */
export interface SoakedDistance {
  readonly dryMm: number;
  readonly wetMm: number;
}

/** What a soaked strip says. */
export interface MeasuredMovement {
  /** 100 · (wet − dry) / dry: above zero grows, below zero shrinks. */
  readonly percent: number;
  /** How far that may be off by the errors of two readings: long strips tell more. */
  readonly errorPercent: number;
}

/** What a movement does to a sheet. */
export interface MovementEffect {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly diagonalMm: number;
}

/**
 * The movement from a dry and a wet distance, by the formula of dimensional change (100 · (after − before) / before, AATCC TM135).
 * Throws an `InputError` for distances that are none, or a movement beyond `MOVEMENT_MAX_PERCENT`.
 */
export function measuredMovement(
  { dryMm, wetMm }: SoakedDistance,
  { readingErrorMm = READING_ERROR_MM }: { readonly readingErrorMm?: number } = {},
): MeasuredMovement {
  for (const [state, mm] of [
    ['dry', dryMm],
    ['wet', wetMm],
  ] as const) {
    if (mm > 0 && Number.isFinite(mm)) continue;
    throw new InputError(
      `The ${state} distance is ${Number.isFinite(mm) ? formatMm(mm) : 'no number'}: measure between two marks on the paper, ${state}; it must be above zero.`,
    );
  }
  const percent = checkPercent((100 * (wetMm - dryMm)) / dryMm, 'movement of the paper');
  return { percent, errorPercent: (100 * Math.SQRT2 * readingErrorMm) / dryMm };
}

/** The movement along and across the grain from the distances of soaked strips. */
export function paperMovement(soaked: {
  readonly along: SoakedDistance;
  readonly across: SoakedDistance;
}): PaperMovement {
  return {
    alongPercent: measuredMovement(soaked.along).percent,
    acrossPercent: measuredMovement(soaked.across).percent,
  };
}

/** The movement of a sheet's width and height: the grain runs `level` (along the width) or `upright`. */
export function sheetMovement(
  { alongPercent, acrossPercent }: PaperMovement,
  grain: 'level' | 'upright',
): SheetMovement {
  return grain === 'level'
    ? { widthPercent: alongPercent, heightPercent: acrossPercent }
    : { widthPercent: acrossPercent, heightPercent: alongPercent };
}

/**
 * A distance before or after the paper moves. To `dry`: what to draw so that `mm` is there on the soaked paper, mm / (1 + p): not
 * mm · (1 − p), which misses by p². To `wet`: what `mm` drawn dry becomes, mm · (1 + p). Throws an `InputError` for a movement beyond
 * `MOVEMENT_MAX_PERCENT`.
 */
export function movedDistance(mm: number, percent: number, { to }: { readonly to: 'dry' | 'wet' }): number {
  const share = 1 + checkPercent(percent, 'movement of the paper') / 100;
  return to === 'wet' ? mm * share : mm / share;
}

/** How much a sheet grows when its paper moves, mm. */
export function movementEffect({ widthMm, heightMm }: SquareTargets, movement: SheetMovement): MovementEffect {
  const [wide, high] = [
    movedDistance(widthMm, movement.widthPercent, { to: 'wet' }),
    movedDistance(heightMm, movement.heightPercent, { to: 'wet' }),
  ];
  return {
    widthMm: wide - widthMm,
    heightMm: high - heightMm,
    diagonalMm: Math.hypot(wide, high) - Math.hypot(widthMm, heightMm),
  };
}

function checkPercent(percent: number, what: string): number {
  if (Math.abs(percent) <= MOVEMENT_MAX_PERCENT) return percent;
  const got = Number.isFinite(percent) ? percentText(percent) : 'no number';
  throw new InputError(
    `The ${what} is ${got}: it must be from -${MOVEMENT_MAX_PERCENT} % to ${MOVEMENT_MAX_PERCENT} %; check the dry and the wet distance.`,
  );
}
