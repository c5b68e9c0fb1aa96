import type { Matrix } from '@okuri/core';
import { rigidFrom } from '../scale/similarity.js';
import { FEATURE_NUMBERS, type PieceFeatures } from './piece-features.js';

/** Squared distance of looks below which two features may be the same: two unlike ones are some 2 × 18 apart. */
const LIKE = 6;

/** For each feature of one piece the nearest few of the other. */
const NEAREST = 2;

/**
 * Of all matches so many, the most telling ones: those of unusual looks (squared distance from the middle of all looks), less this times their
 * unlikeness. For normally spread looks the chance of an equal one by accident falls with just the former.
 */
const MATCHES_MAX = 350;
const UNLIKE_COST = 4;

/** Two matches tell a motion if their features lie at least so far apart, mm, and equally far in both pieces. */
const BASE_MM = 8;
const BASE_ERROR_MM = 1.2;

/** A match agrees with a motion that brings its features so near together, mm, and their outlines' directions (cosine of some 15°). */
const AGREE_MM = 1.8;
const AGREE_COS = 0.965;

/** Motions that bring the middle of the matches nearer than this are one and the same, mm; and turned less (cosine of some 2°). */
const SAME_MM = 4;
const SAME_COS = 0.9994;

/** A rigid motion of one piece onto another (mm), and the matches that agree with it. */
export interface FeatureMotion {
  readonly motion: Matrix;
  readonly votes: number;
}

interface Match {
  /** Index of the feature of piece a. */
  readonly feature: number;
  readonly ax: number;
  readonly ay: number;
  readonly bx: number;
  readonly by: number;
  /** The turn from b to a that the outlines' directions tell. */
  readonly cos: number;
  readonly sin: number;
  /** Squared distance of its look from the usual one, a share of what is to be expected: its vote. */
  readonly unusual: number;
  readonly telling: number;
}

/** Motions from piece b onto piece a that several features agree on, most votes first: two matches tell a motion, all others vote (Fischler & Bolles 1981). */
export function featureMotions(a: PieceFeatures, b: PieceFeatures, { most }: { most: number }): FeatureMotion[] {
  const matches = likeFeatures(a, b);
  const told: { motion: Matrix; votes: number; x: number; y: number }[] = [];
  const lastRound = new Int32Array(a.count);
  let rounds = 0;
  for (let i = 0; i < matches.length; i++) {
    for (let j = i + 1; j < matches.length; j++) {
      const motion = motionOfTwo(matches[i], matches[j]);
      if (motion === null) continue;
      const tally = votesFor(motion, matches, lastRound, ++rounds);
      if (tally.voters >= 2) told.push({ motion, ...tally });
    }
  }
  told.sort((p, q) => q.votes - p.votes);
  const kept: typeof told = [];
  for (const one of told) {
    if (kept.length >= most) break;
    if (kept.some((other) => areSame(one, other))) continue;
    const evenedOne = { ...one, motion: evened(one.motion, matches) };
    if (!kept.some((other) => areSame(evenedOne, other))) kept.push(evenedOne);
  }
  return kept.map(({ motion, votes }) => ({ motion, votes }));
}

function likeFeatures(a: PieceFeatures, b: PieceFeatures): Match[] {
  const matches: Match[] = [];
  const { looks } = b;
  const best = new Float64Array(NEAREST);
  const which = new Int32Array(NEAREST);
  for (let i = 0; i < a.count; i++) {
    best.fill(LIKE);
    which.fill(-1);
    const look = Float32Array.from(a.looks.subarray(i * FEATURE_NUMBERS, (i + 1) * FEATURE_NUMBERS));
    for (let j = 0; j < b.count; j++) {
      const limit = best[NEAREST - 1];
      const to = j * FEATURE_NUMBERS;
      const d0 = look[0] - looks[to];
      const d1 = look[1] - looks[to + 1];
      const d2 = look[2] - looks[to + 2];
      let sum = d0 * d0 + d1 * d1 + d2 * d2;
      // Most are unlike in their first numbers already.
      if (sum >= limit) continue;
      for (let k = 3; k < FEATURE_NUMBERS && sum < limit; k++) {
        const d = look[k] - looks[to + k];
        sum += d * d;
      }
      if (sum >= limit) continue;
      let at = NEAREST - 1;
      for (; at > 0 && best[at - 1] > sum; at--) {
        best[at] = best[at - 1];
        which[at] = which[at - 1];
      }
      best[at] = sum;
      which[at] = j;
    }
    let unusual = 0;
    for (let k = 0; k < FEATURE_NUMBERS; k++) unusual += look[k] ** 2;
    for (let k = 0; k < NEAREST && which[k] >= 0; k++) {
      const [ax, ay, anx, any] = a.places.subarray(4 * i, 4 * i + 4);
      const [bx, by, bnx, bny] = b.places.subarray(4 * which[k], 4 * which[k] + 4);
      matches.push({
        feature: i,
        ax,
        ay,
        bx,
        by,
        cos: anx * bnx + any * bny,
        sin: any * bnx - anx * bny,
        unusual: unusual / FEATURE_NUMBERS,
        telling: unusual - UNLIKE_COST * best[k],
      });
    }
  }
  return matches.sort((p, q) => q.telling - p.telling).slice(0, MATCHES_MAX);
}

function motionOfTwo(p: Match, q: Match): Matrix | null {
  const bx = q.bx - p.bx;
  const by = q.by - p.by;
  const ax = q.ax - p.ax;
  const ay = q.ay - p.ay;
  const bLength = Math.hypot(bx, by);
  const aLength = Math.hypot(ax, ay);
  if (bLength < BASE_MM || Math.abs(aLength - bLength) > BASE_ERROR_MM) return null;
  const c = (ax * bx + ay * by) / (aLength * bLength);
  const s = (ay * bx - ax * by) / (aLength * bLength);
  if (c * p.cos + s * p.sin < AGREE_COS || c * q.cos + s * q.sin < AGREE_COS) return null;
  const mx = (p.bx + q.bx) / 2;
  const my = (p.by + q.by) / 2;
  return [c, s, -s, c, (p.ax + q.ax) / 2 - c * mx + s * my, (p.ay + q.ay) / 2 - s * mx - c * my];
}

/** The rigid motion that suits all agreeing matches best. */
function evened(motion: Matrix, matches: readonly Match[]): Matrix {
  const pairs = matches
    .filter((match) => agrees(motion, match))
    .map(({ ax, ay, bx, by }) => ({ from: { x: bx, y: by }, to: { x: ax, y: ay } }));
  return (pairs.length < 2 ? null : rigidFrom(pairs))?.matrix ?? motion;
}

function agrees(motion: Matrix, { ax, ay, bx, by, cos, sin }: Match): boolean {
  const c = motion[0];
  const s = motion[1];
  const dx = c * bx - s * by + motion[4] - ax;
  const dy = s * bx + c * by + motion[5] - ay;
  return dx * dx + dy * dy <= AGREE_MM * AGREE_MM && c * cos + s * sin >= AGREE_COS;
}

/**
 * The votes of matches that agree, and the middle of their places in piece b. Several matches of one feature are one vote: `lastRound` holds for
 * each feature the last `round` in which it voted.
 */
function votesFor(
  motion: Matrix,
  matches: readonly Match[],
  lastRound: Int32Array,
  round: number,
): { votes: number; voters: number; x: number; y: number } {
  let [votes, voters, x, y, count] = [0, 0, 0, 0, 0];
  for (const match of matches) {
    if (!agrees(motion, match)) continue;
    x += match.bx;
    y += match.by;
    count++;
    if (lastRound[match.feature] === round) continue;
    lastRound[match.feature] = round;
    votes += match.unusual;
    voters++;
  }
  return { votes, voters, x: x / count, y: y / count };
}

function areSame(p: { motion: Matrix; x: number; y: number }, q: { motion: Matrix }): boolean {
  const [c, s, , , e, f] = p.motion;
  const [d, t, , , g, h] = q.motion;
  if (c * d + s * t < SAME_COS) return false;
  const dx = (c - d) * p.x - (s - t) * p.y + e - g;
  const dy = (s - t) * p.x + (c - d) * p.y + f - h;
  return dx * dx + dy * dy < SAME_MM * SAME_MM;
}
