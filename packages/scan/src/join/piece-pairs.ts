import type { Matrix } from '@okuri/core';
import { distance, IDENTITY } from '@okuri/core/inside';
import { type FeatureMotion, featureMotions } from './feature-motions.js';
import { cornersOf, sharedAreaMm2 } from './overlap-area.js';
import type { PieceFeatures } from './piece-features.js';
import { MATCH_STRIDE, movedTogether, type PairMatches, pairMatches } from './piece-fit.js';
import type { PieceSheet } from './piece-sheet.js';
import { symmetricAxes } from './principal-axes.js';

/** Of the motions that features tell for a pair, so many are tried. */
const TRIED_MAX = 10;

/** How far outlines are looked for, round by round, mm: from what features leave to what the small picture can tell. */
const SMALL_REACHES_MM = [2, 2, 1.5, 1, 0.8, 0.6] as const;
const FINE_REACHES_MM = [0.7, 0.5, 0.4] as const;

/** After so many rounds less than this share of outlines near each other is chance. */
const HOPELESS_ROUND = 3;
const HOPELESS_AGREEMENT = 0.35;

/** Points of each piece that are looked at while a motion is tried. */
const TRIED_POINTS = 350;

/** Points of each piece in the full pictures. */
const FINE_POINTS = 1200;

/** Outlines nearer to each other than this are the same one: several times what a flatbed is uneven, mm. */
export const SAME_LINE_MM = 0.3;

/** Chance brings some quarter of the outlines of two busy pieces so near together; the same drawing most of them. */
const SMALL_AGREEMENT = 0.6;
export const LEAST_AGREEMENT = 0.7;

/** Fewer outline points than this, some half a mm apart, prove nothing. */
export const LEAST_POINTS = 40;

/** Outlines that hold a piece less than this in some direction (share of the points; 1/3 is even) let it slide. */
const LEAST_HOLD = 0.012;

/** How far outlines may be apart to be told of as a misfit, mm. */
const MISFIT_REACH_MM = 0.6;

/** How two pieces lie on each other: b's motion onto a, and what speaks for it. */
export interface PairFit {
  readonly a: number;
  readonly b: number;
  readonly motion: Matrix;
  /** Outline points that agree, and the share they are of all in the overlap. */
  readonly points: number;
  readonly agreement: number;
}

/** What two pieces that lie over each other show alike. */
export interface PairMeasure {
  readonly areaMm2: number;
  readonly looked: number;
  readonly points: number;
  readonly agreement: number;
  readonly meanMm: number;
  readonly largestMm: number;
}

/** All ways in which two pieces can be laid on each other so that their outlines agree, the one with most agreeing outline first. */
export function pairFits(
  sheets: readonly PieceSheet[],
  features: readonly PieceFeatures[],
  [a, b]: readonly [number, number],
): PairFit[] {
  const told = featureMotions(features[a], features[b], { most: TRIED_MAX });
  return told
    .flatMap((one) => tried([sheets[a], sheets[b]], one) ?? [])
    .sort((p, q) => q.points * q.agreement - p.points * p.agreement)
    .filter((fit, k, all) => !all.slice(0, k).some((better) => nearlySame(fit.motion, better.motion, sheets[b])))
    .map((fit) => ({ ...fit, a, b }));
}

function tried(
  pair: readonly [PieceSheet, PieceSheet],
  { motion }: FeatureMotion,
): { motion: Matrix; points: number; agreement: number } | null {
  let motions: Matrix[] = [IDENTITY, motion];
  const both: readonly [number, number] = [0, 1];
  for (const [round, reachMm] of SMALL_REACHES_MM.entries()) {
    const matches = pairMatches(pair, motions, both, { grain: 'small', reachMm, pointsMax: TRIED_POINTS });
    if (matches.found.length < (LEAST_POINTS * MATCH_STRIDE) / 2) return null;
    if (round === HOPELESS_ROUND && nearShare(matches) < HOPELESS_AGREEMENT) return null;
    motions = movedTogether(pair, motions, [matches], 0);
  }
  const small = pairMatches(pair, motions, both, { grain: 'small', reachMm: SAME_LINE_MM, pointsMax: TRIED_POINTS });
  if (small.found.length / MATCH_STRIDE < SMALL_AGREEMENT * small.looked) return null;
  for (const reachMm of FINE_REACHES_MM) {
    const matches = pairMatches(pair, motions, both, { grain: 'fine', reachMm, pointsMax: FINE_POINTS });
    motions = movedTogether(pair, motions, [matches], 0);
  }
  const fine = pairMatches(pair, motions, both, { grain: 'fine', reachMm: SAME_LINE_MM, pointsMax: FINE_POINTS });
  const points = fine.found.length / MATCH_STRIDE;
  if (points < LEAST_POINTS || points < LEAST_AGREEMENT * fine.looked || holdOf(fine) < LEAST_HOLD) return null;
  return { motion: motions[1], points, agreement: points / fine.looked };
}

/** Share of the points looked at that have their outline near. */
function nearShare({ looked, found }: PairMatches): number {
  let near = 0;
  for (let k = 4; k < found.length; k += MATCH_STRIDE) if (Math.abs(found[k]) <= SAME_LINE_MM) near++;
  return looked === 0 ? 1 : near / looked;
}

/** How firmly matched outlines hold a piece in its least held direction: 1/3 where all directions and the turn are held alike, 0 where it can slide. */
function holdOf({ found }: PairMatches): number {
  const n = found.length / MATCH_STRIDE;
  let mx = 0;
  let my = 0;
  for (let k = 0; k < found.length; k += MATCH_STRIDE) {
    mx += found[k] / n;
    my += found[k + 1] / n;
  }
  let spread = 0;
  for (let k = 0; k < found.length; k += MATCH_STRIDE) spread += (found[k] - mx) ** 2 + (found[k + 1] - my) ** 2;
  const lever = Math.sqrt(spread / n) || 1;
  // Sums of products of (nx, ny, turning), over n: their least eigenvalue.
  let [xx, yy, tt, xy, xt, yt] = [0, 0, 0, 0, 0, 0];
  for (let k = 0; k < found.length; k += MATCH_STRIDE) {
    const nx = found[k + 2];
    const ny = found[k + 3];
    const turn = ((found[k] - mx) * ny - (found[k + 1] - my) * nx) / lever;
    xx += (nx * nx) / n;
    yy += (ny * ny) / n;
    tt += (turn * turn) / n;
    xy += (nx * ny) / n;
    xt += (nx * turn) / n;
    yt += (ny * turn) / n;
  }
  return symmetricAxes(Float64Array.from([xx, xy, xt, xy, yy, yt, xt, yt, tt]), 3).values[2];
}

/** Whether two motions bring a piece's middle to places nearer than this, mm. */
const NEARLY_SAME_MM = 1.5;

function nearlySame(p: Matrix, q: Matrix, { widthMm, heightMm }: PieceSheet): boolean {
  return cornersOf({ widthMm, heightMm }, p).every((corner, k) => {
    const other = cornersOf({ widthMm, heightMm }, q)[k];
    return distance(corner, other) < NEARLY_SAME_MM;
  });
}

/** Measures two pieces where they lie. */
export function pairMeasure(
  sheets: readonly PieceSheet[],
  motions: readonly Matrix[],
  pair: readonly [number, number],
): PairMeasure {
  const [a, b] = pair;
  const areaMm2 = sharedAreaMm2(cornersOf(sheets[a], motions[a]), cornersOf(sheets[b], motions[b]));
  if (!(areaMm2 > 0)) return { areaMm2: 0, looked: 0, points: 0, agreement: 1, meanMm: 0, largestMm: 0 };
  const matches = pairMatches(sheets, motions, pair, {
    grain: 'fine',
    reachMm: MISFIT_REACH_MM,
    pointsMax: FINE_POINTS,
  });
  const { looked, found } = matches;
  let sum = 0;
  let largestMm = 0;
  for (let k = 4; k < found.length; k += MATCH_STRIDE) {
    sum += Math.abs(found[k]);
    largestMm = Math.max(largestMm, Math.abs(found[k]));
  }
  const points = found.length / MATCH_STRIDE;
  return {
    areaMm2,
    looked,
    points,
    agreement: nearShare(matches),
    meanMm: points === 0 ? 0 : sum / points,
    largestMm,
  };
}
