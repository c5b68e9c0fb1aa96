import type { Matrix } from '@okuri/core';
import { apply, IDENTITY, invert, multiply, normalEquations, solveLinear } from '@okuri/core/inside';
import { edgeAlong } from '../trace/edge-along.js';
import { EDGE_SHARE, type EdgePlaces, FINE_SHARE } from '../trace/edge-places.js';
import type { InkRaster } from '../trace/sample-grey.js';
import { cornersOf, sharedAreaMm2 } from './overlap-area.js';
import type { PieceSheet } from './piece-sheet.js';

/** Outlines nearer than this to the border of a scan are left alone: shadows of the lid and of the paper's edge lie there, mm. */
const BORDER_MM = 1;

/** Points whose distance is beyond this many standard deviations (taken from the middle distance) don't count. */
const TRIM = 3;

/** Nothing nearer than this is trimmed, mm: a tenth of a pixel at 100 dpi. */
const TRIM_LEAST_MM = 0.025;

/** From the median of distances to a standard deviation, for the normal distribution. */
const MEDIAN_TO_DEVIATION = 1.4826;

/** Turns are solved for as shifts at this distance from a piece's middle, so that all unknowns are of a size, mm. */
const LEVER_MM = 100;

/** Added to the diagonal, as a share of its greatest value: what no outline holds stays where it is. */
const DAMPING = 1e-6;

/** Outline points of two pieces that lie on each other. Frame of the joined drawing, mm. */
export interface PairMatches {
  /** Indices of the pieces. */
  readonly a: number;
  readonly b: number;
  /** Points of either piece that lie inside of the other. */
  readonly looked: number;
  /** `x y nx ny gap` of those that were found there: place, normal, and how far b must move against a along the normal. */
  readonly found: Float64Array;
}

export const MATCH_STRIDE = 5;

/** How outlines are compared: in the small pictures or the full ones, how far is looked, and at about how many points of each piece at most. */
export interface MatchOptions {
  readonly grain: 'small' | 'fine';
  readonly reachMm: number;
  readonly pointsMax: number;
}

/** The points that the outlines of two pieces share, where `motions` lay them (piece mm → drawing mm). */
export function pairMatches(
  sheets: readonly PieceSheet[],
  motions: readonly Matrix[],
  [a, b]: readonly [number, number],
  options: MatchOptions,
): PairMatches {
  const found: number[] = [];
  const forth = lookFor(sheets[b], sheets[a], motions[b], motions[a], 1, options, found);
  const back = lookFor(sheets[a], sheets[b], motions[a], motions[b], -1, options, found);
  return { a, b, looked: forth + back, found: Float64Array.from(found) };
}

function lookFor(
  from: PieceSheet,
  to: PieceSheet,
  fromMotion: Matrix,
  toMotion: Matrix,
  sign: 1 | -1,
  { grain, reachMm, pointsMax }: MatchOptions,
  found: number[],
): number {
  const { count, places, normals }: EdgePlaces = grain === 'small' ? from.edges : from.fineEdges;
  const target: InkRaster = grain === 'small' ? to.small : to.fine;
  const share = grain === 'small' ? EDGE_SHARE : FINE_SHARE;
  const across = multiply(inverse(toMotion), fromMotion);
  const [c, s, , , e, f] = across;
  const margin = Math.max(BORDER_MM, reachMm);
  // Points lie evenly along the outlines, so every n-th of them will do; how many lie in the overlap is judged by its area.
  const area = sharedAreaMm2(cornersOf(from, across), cornersOf(to, IDENTITY));
  const expected = (count * area) / (from.widthMm * from.heightMm);
  const stride = Math.max(1, Math.floor(expected / pointsMax));
  let looked = 0;
  for (let k = 0; k < count; k += stride) {
    const x = places[2 * k];
    const y = places[2 * k + 1];
    const u = c * x - s * y + e;
    const v = s * x + c * y + f;
    if (u < margin || v < margin || u > to.widthMm - margin || v > to.heightMm - margin) continue;
    if (x < BORDER_MM || y < BORDER_MM || x > from.widthMm - BORDER_MM || y > from.heightMm - BORDER_MM) continue;
    const nx = normals[2 * k];
    const ny = normals[2 * k + 1];
    looked++;
    const gap = edgeAlong(target, u, v, c * nx - s * ny, s * nx + c * ny, {
      share,
      reachMm,
    });
    if (Number.isNaN(gap)) continue;
    const [p, q, , , g, h] = fromMotion;
    found.push(p * x - q * y + g, q * x + p * y + h, p * nx - q * ny, q * nx + p * ny, sign * gap);
  }
  return looked;
}

/**
 * One round of laying pieces over each other: the rigid motions that bring matched outline points together best, by least squares of the distances across
 * the outline (Chen & Medioni 1992, after Besl & McKay 1992), over all pairs at once, far ones trimmed. `held` stays where it is.
 */
export function movedTogether(
  sheets: readonly PieceSheet[],
  motions: readonly Matrix[],
  pairs: readonly PairMatches[],
  held: number,
): Matrix[] {
  const n = 3 * sheets.length;
  const { normal, right } = normalEquations(n);
  const middles = sheets.map(({ widthMm, heightMm }, k) => apply(motions[k], { x: widthMm / 2, y: heightMm / 2 }));
  const row = new Float64Array(6);
  const columns = new Int32Array(6);
  for (const { a, b, found } of pairs) {
    const cut = trimAt(found);
    for (let k = 0; k < 3; k++) {
      columns[k] = 3 * a + k;
      columns[3 + k] = 3 * b + k;
    }
    for (let k = 0; k < found.length; k += MATCH_STRIDE) {
      const gap = found[k + 4];
      if (Math.abs(gap) > cut) continue;
      const [x, y, nx, ny] = [found[k], found[k + 1], found[k + 2], found[k + 3]];
      row[0] = -nx;
      row[1] = -ny;
      row[2] = -((x - middles[a].x) * ny - (y - middles[a].y) * nx) / LEVER_MM;
      row[3] = nx;
      row[4] = ny;
      row[5] = ((x - middles[b].x) * ny - (y - middles[b].y) * nx) / LEVER_MM;
      for (let i = 0; i < 6; i++) {
        right[columns[i]] += row[i] * gap;
        for (let j = 0; j < 6; j++) normal[columns[i]][columns[j]] += row[i] * row[j];
      }
    }
  }
  hold(normal, right, held);
  const step = solveLinear(normal, right);
  if (step === null) return [...motions];
  return motions.map((motion, k) => {
    const turn = step[3 * k + 2] / LEVER_MM;
    const c = Math.cos(turn);
    const s = Math.sin(turn);
    const { x, y } = middles[k];
    const about: Matrix = [c, s, -s, c, x - c * x + s * y + step[3 * k], y - s * x - c * y + step[3 * k + 1]];
    return multiply(about, motion);
  });
}

/** The distance beyond which matches are left out, mm. */
export function trimAt(found: Float64Array): number {
  const gaps = new Float64Array(found.length / MATCH_STRIDE);
  for (let k = 0; k < gaps.length; k++) gaps[k] = Math.abs(found[k * MATCH_STRIDE + 4]);
  gaps.sort();
  const median = gaps.length === 0 ? 0 : gaps[gaps.length >> 1];
  return Math.max(TRIM * MEDIAN_TO_DEVIATION * median, TRIM_LEAST_MM);
}

/** Keeps one piece where it is, and all others in the directions in which nothing holds them. */
function hold(normal: number[][], right: number[], held: number): void {
  const largest = Math.max(...normal.map((row, i) => row[i]), Number.MIN_VALUE);
  for (const [i, row] of normal.entries()) row[i] += DAMPING * largest;
  for (let i = 3 * held; i < 3 * held + 3; i++) {
    for (let j = 0; j < right.length; j++) normal[i][j] = normal[j][i] = 0;
    normal[i][i] = largest;
    right[i] = 0;
  }
}

/** The inverse of a rigid motion. */
export function inverse(motion: Matrix): Matrix {
  const back = invert(motion);
  if (back === null) throw new RangeError(`a motion must be rigid, got [${motion.join(', ')}]`);
  return back;
}
