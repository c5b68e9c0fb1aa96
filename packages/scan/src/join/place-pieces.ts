import type { Matrix } from '@okuri/core';
import { IDENTITY, multiply } from '@okuri/core/inside';
import { inverse, movedTogether, pairMatches } from './piece-fit.js';
import { LEAST_AGREEMENT, LEAST_POINTS, type PairFit, type PairMeasure, pairMeasure } from './piece-pairs.js';
import type { PieceSheet } from './piece-sheet.js';

/** Pieces over each other whose outlines agree less than this show different drawings: one of them lies wrong. */
const CONTRADICTION = 0.4;

/** How far outlines are looked for while all pieces are settled together, round by round, mm. */
const REACHES_MM = [1.2, 0.8, 0.5, 0.4, 0.4] as const;

/** Points of each piece, for each pair. */
const POINTS_MAX = 1200;

/** Two pieces that were found to lie over each other, and what they show alike. */
export interface PlacedPair extends PairMeasure {
  readonly a: number;
  readonly b: number;
}

/** Where all pieces lie. */
export interface PiecePlaces {
  /** Sets of pieces that hang together, by index, the first piece's first. */
  readonly groups: readonly (readonly number[])[];
  /** Piece mm → mm in the frame of the first piece of its group. */
  readonly motions: readonly Matrix[];
  readonly pairs: readonly PlacedPair[];
  /** Fits that were not taken because other pieces spoke against them. */
  readonly refused: readonly PairFit[];
}

/**
 * Puts pieces together, the surest pairs first; a fit that would lay pieces over others that show something else is refused. Then all motions are settled
 * at once over all pairs that lie over each other, so that errors don't pile up along a row of pieces.
 */
export function placePieces(sheets: readonly PieceSheet[], fits: readonly PairFit[]): PiecePlaces {
  const groupOf = sheets.map((_, k) => k);
  let motions: Matrix[] = sheets.map(() => IDENTITY);
  const refused: PairFit[] = [];
  for (const fit of [...fits].sort((p, q) => q.points * q.agreement - p.points * p.agreement)) {
    const { a, b } = fit;
    if (groupOf[a] === groupOf[b]) continue;
    const moved = groupOf[b];
    const carry = multiply(multiply(motions[a], fit.motion), inverse(motions[b]));
    const next = motions.map((motion, k) => (groupOf[k] === moved ? multiply(carry, motion) : motion));
    if (contradicted(sheets, next, groupOf, groupOf[a], moved)) {
      refused.push(fit);
      continue;
    }
    motions = next;
    for (let k = 0; k < groupOf.length; k++) if (groupOf[k] === moved) groupOf[k] = groupOf[a];
  }
  const groups = [...new Set(groupOf)].map((group) => sheets.flatMap((_, k) => (groupOf[k] === group ? [k] : [])));
  motions = settled(sheets, motions, groupOf);
  for (const [first, ...others] of groups) {
    const back = inverse(motions[first]);
    for (const k of [first, ...others]) motions[k] = multiply(back, motions[k]);
  }
  return { groups, motions, pairs: pairsOf(sheets, motions, groupOf), refused };
}

function contradicted(
  sheets: readonly PieceSheet[],
  motions: readonly Matrix[],
  groupOf: readonly number[],
  one: number,
  other: number,
): boolean {
  for (let a = 0; a < sheets.length; a++) {
    for (let b = 0; b < sheets.length; b++) {
      if (groupOf[a] !== one || groupOf[b] !== other) continue;
      const { looked, agreement } = pairMeasure(sheets, motions, [a, b]);
      if (looked >= LEAST_POINTS && agreement < CONTRADICTION) return true;
    }
  }
  return false;
}

function settled(sheets: readonly PieceSheet[], placed: readonly Matrix[], groupOf: readonly number[]): Matrix[] {
  let motions = [...placed];
  const over = pairsOf(sheets, motions, groupOf);
  for (const reachMm of REACHES_MM) {
    const matches = over.map(({ a, b }) =>
      pairMatches(sheets, motions, [a, b], { grain: 'fine', reachMm, pointsMax: POINTS_MAX }),
    );
    motions = movedTogether(sheets, motions, matches, 0);
  }
  return motions;
}

/** Pairs of a group that share enough outline to be told of. */
function pairsOf(sheets: readonly PieceSheet[], motions: readonly Matrix[], groupOf: readonly number[]): PlacedPair[] {
  const pairs: PlacedPair[] = [];
  for (let a = 0; a < sheets.length; a++) {
    for (let b = a + 1; b < sheets.length; b++) {
      if (groupOf[a] !== groupOf[b]) continue;
      const measure = pairMeasure(sheets, motions, [a, b]);
      if (measure.points >= LEAST_POINTS / 2 && measure.agreement >= LEAST_AGREEMENT) pairs.push({ a, b, ...measure });
    }
  }
  return pairs;
}
