import {
  type DotErrors,
  type DriftSpread,
  driftSpread,
  type LastSpread,
  type Spread,
} from '../register/drift-spread.js';
import type { SquareSheet } from './square.js';

/** How far a true sheet may drift by errors of punching and laying that are known as standard deviations only. */
export interface SquareSpread {
  readonly errors: DotErrors;
  readonly placements: { readonly down: number; readonly across: number };
  readonly spread: DriftSpread;
}

/** The spread of a job's sheet over `down` placements (those of the cloth by default). Throws an `InputError` for errors below zero. */
export function squareSpread(sheet: SquareSheet, errors: DotErrors, down: number | null = null): SquareSpread {
  const { targets, repeat, steps, extra, names } = sheet;
  const { widthMm, heightMm } = targets;
  const dots = [
    { name: names.upperLeft, at: { x: 0, y: 0 } },
    { name: names.upperRight, at: { x: widthMm, y: 0 } },
    { name: names.lowerRight, at: { x: widthMm, y: heightMm } },
    { name: names.lowerLeft, at: { x: 0, y: heightMm } },
    ...extra,
  ];
  const placements = { down: down ?? sheet.placements.down, across: sheet.placements.across };
  const spread = driftSpread({ widthMm, heightMm, repeat, dots, steps }, { ...placements, ...errors });
  return { errors, placements, spread };
}

/** The spread in words, a line a kind of error. */
export function spreadReport({ errors, placements, spread }: SquareSpread): string {
  const { punching, laying } = spread.last;
  const lines = [
    `if the sheet is true and only dots are off (standard deviations), at the last of ${placements.down} down and ${placements.across} across:`,
    `  punched off by ${mm(errors.punchErrorMm)}, once for all: ${lastText(punching)}; it grows like N along the step and N² across it`,
    `  laid off by ${mm(errors.layingErrorMm)}, anew each time: ${lastText(laying)}; it grows like √N along the step and N^1.5 across it`,
  ];
  const { within } = spread;
  if (within !== null) {
    lines.push(
      `  over ${within.steps} steps of one line: punching ${lineText(within.punching)}; laying ${lineText(within.laying)}`,
    );
  }
  return `${lines.join('\n')}\n`;
}

function lastText({ xMm, yMm, turnDeg, joinMm }: LastSpread): string {
  const join = joinMm === null ? '' : `, its join off by ${mm(joinMm)}`;
  return `${mm(xMm)} in x, ${mm(yMm)} in y, turned by ${turnDeg.toFixed(3)}°${join}`;
}

function lineText({ alongMm, sidewaysMm }: Spread): string {
  return `${mm(alongMm)} along and ${mm(sidewaysMm)} sideways`;
}

function mm(value: number): string {
  return `${value.toFixed(2)} mm`;
}
