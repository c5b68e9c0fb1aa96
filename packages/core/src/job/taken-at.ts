import { parseSides } from '../units/sides.js';
import { LIMITS } from './limits.js';
import type { FilledJobFile } from './schema.js';
import type { Values } from './values.js';

/** What a job keeps with places on the unit, or of a sheet of one size. */
export const TAKEN_GROUPS = ['ties', 'numbers', 'done', 'proof'] as const;
export type TakenGroup = (typeof TAKEN_GROUPS)[number];

/** Size of a unit, mm. */
export interface UnitSize {
  readonly widthMm: number;
  readonly heightMm: number;
}

/** At which size of the unit each group was taken; null for the present one, as in job files that do not say. */
export type TakenAt = Readonly<Record<TakenGroup, UnitSize | null>>;

/** Sides of units nearer to each other than this are the same, mm: the grid on which outlines lie. */
const SAME_SIDE_MM = 1e-4;

export function isSameSize(a: UnitSize, b: UnitSize): boolean {
  return Math.abs(a.widthMm - b.widthMm) <= SAME_SIDE_MM && Math.abs(a.heightMm - b.heightMm) <= SAME_SIDE_MM;
}

/** `300 × 420 mm`, for a sentence. */
export function sizeText({ widthMm, heightMm }: UnitSize): string {
  const mm = (v: number): number => Number(v.toFixed(2)) + 0;
  return `${mm(widthMm)} × ${mm(heightMm)} mm`;
}

export function readTakenAt(raw: FilledJobFile['takenAt'], values: Values): TakenAt {
  const size = (group: TakenGroup): UnitSize | null => {
    const text = raw?.[group];
    if (text === undefined) return null;
    const path = `takenAt.${group}`;
    const sides = values.parsed(path, text, parseSides);
    if (sides === null) {
      return values.at(path, `is ${JSON.stringify(text)}: write the unit's width and height, such as "300x420mm".`);
    }
    const [widthMm, heightMm] = sides.map((mm) => values.number(path, mm, LIMITS.takenSideMm, ' mm'));
    return { widthMm, heightMm };
  };
  return { ties: size('ties'), numbers: size('numbers'), done: size('done'), proof: size('proof') };
}

/** Digits of a side in a job file, as of all lengths there. */
const SIDE_DIGITS = 12;

/** The sizes as the job file keeps them; undefined where there is none to keep. */
export function writtenTakenAt(takenAt: TakenAt): FilledJobFile['takenAt'] {
  const side = (mm: number): number => Number(mm.toPrecision(SIDE_DIGITS));
  const known = TAKEN_GROUPS.flatMap((group) => {
    const size = takenAt[group];
    return size === null ? [] : [[group, `${side(size.widthMm)}x${side(size.heightMm)}mm`] as const];
  });
  return known.length === 0 ? undefined : Object.fromEntries(known);
}
