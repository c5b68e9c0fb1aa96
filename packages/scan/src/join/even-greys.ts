import type { Matrix } from '@okuri/core';
import { multiply, normalEquations, solveLinear } from '@okuri/core/inside';
import { bilinearAt } from '../trace/sample-grey.js';
import { inverse } from './piece-fit.js';
import type { PieceSheet } from './piece-sheet.js';

/** Places of an overlap at which greys are compared lie this far apart, mm. */
const PITCH_MM = 1;

/** Nearer to the border the lid's shadow may lie, mm. */
const BORDER_MM = 2;

/** How much a piece's greys resist being changed: as so many places of paper and ink. Keeps a piece whose overlaps hold no ink from being stretched. */
const STIFFNESS = 5;

/** A straight line from a piece's greys to those of the joined picture: `gain · grey + offset`, greys as shares of white. */
export interface GreyLine {
  readonly gain: number;
  readonly offset: number;
}

/**
 * Straight lines that make the pieces' greys agree where they overlap, by least squares over all pairs at once. The first piece keeps its own (as in
 * the gain compensation of Brown & Lowe 2007, with an offset besides).
 */
export function evenGreys(
  sheets: readonly PieceSheet[],
  motions: readonly Matrix[],
  pairs: readonly { readonly a: number; readonly b: number }[],
  white: readonly number[],
): GreyLine[] {
  const { normal, right } = normalEquations(2 * sheets.length);
  for (const { a, b } of pairs) addPair(sheets, motions, [a, b], white, normal);
  for (let k = 0; k < sheets.length; k++) {
    const { paper, ink } = sheets[k].fine;
    const weight = k === 0 ? 1e9 : STIFFNESS;
    for (const grey of [paper / white[k], ink / white[k]]) {
      const row = [grey, 1];
      for (let i = 0; i < 2; i++) {
        right[2 * k + i] += weight * row[i] * grey;
        for (let j = 0; j < 2; j++) normal[2 * k + i][2 * k + j] += weight * row[i] * row[j];
      }
    }
  }
  const found = solveLinear(normal, right);
  return sheets.map((_, k) =>
    found === null || k === 0 ? { gain: 1, offset: 0 } : { gain: found[2 * k], offset: found[2 * k + 1] },
  );
}

function addPair(
  sheets: readonly PieceSheet[],
  motions: readonly Matrix[],
  [a, b]: readonly [number, number],
  white: readonly number[],
  normal: number[][],
): void {
  const [c, s, , , e, f] = multiply(inverse(motions[b]), motions[a]);
  const from = sheets[a];
  const to = sheets[b];
  for (let y = BORDER_MM; y < from.heightMm - BORDER_MM; y += PITCH_MM) {
    for (let x = BORDER_MM; x < from.widthMm - BORDER_MM; x += PITCH_MM) {
      const u = c * x - s * y + e;
      const v = s * x + c * y + f;
      if (u < BORDER_MM || v < BORDER_MM || u > to.widthMm - BORDER_MM || v > to.heightMm - BORDER_MM) continue;
      const row = [greyAt(from, x, y) / white[a], 1, -greyAt(to, u, v) / white[b], -1];
      const columns = [2 * a, 2 * a + 1, 2 * b, 2 * b + 1];
      for (let i = 0; i < 4; i++) for (let j = 0; j < 4; j++) normal[columns[i]][columns[j]] += row[i] * row[j];
    }
  }
}

/** The blurred grey: an error of the motions is of no account in it. */
function greyAt({ soft, fine }: PieceSheet, x: number, y: number): number {
  return fine.paper + (fine.ink - fine.paper) * bilinearAt(soft.raster, x * soft.perMm, y * soft.perMm);
}
