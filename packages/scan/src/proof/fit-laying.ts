import type { Matrix, Point } from '@okuri/core';
import {
  addEquation,
  apply,
  type Dot,
  distance,
  type Homography,
  normalEquations,
  solveLinear,
} from '@okuri/core/inside';
import { homographyFrom, lineOf } from '../scale/fit-homography.js';
import { applyHomography, composeHomography, homographyOf, invertHomography } from '../scale/homography.js';
import { type PointPair, rigidFrom, similarityFrom } from '../scale/similarity.js';
import type { FoundDot, PictureScale } from '../types.js';
import { type DotMatch, hasDotSize } from './dot-matches.js';

/** Farther from their places than this, mm, printed dots tell of paper that moved, not of holes that were punched a little off. */
export const MOVED_MM = 1;

/** How far from where the others say a further dot is looked for, mm. */
const FURTHER_MM = 2.5;

/** How the print was carried over to the plan: turned and shifted only, stretched with its paper, or set right from a slanting view. */
export type LayingFrame = 'rigid' | 'stretched' | 'perspective';

/**
 * The map from sheet mm to px by the marks as they were found: perspective with four or more in general position, else a turn, a scale and a shift. Null where they fix none.
 */
export function mapOf(matches: readonly DotMatch[]): Homography | null {
  const pairs = matches.map(({ dot, mark }) => ({ from: dot.at, to: mark.dot.at }));
  if (pairs.length >= 4 && hasFour(pairs.map(({ from }) => from))) {
    const map = homographyFrom(pairs);
    if (map !== null) return map;
  }
  const similar = pairs.length < 2 ? null : similarityFrom(pairs);
  return similar === null ? null : homographyOf(similar.matrix);
}

/** All dots of the sheet with the marks nearest to where a way of laying the print has them. */
export function matchAll(
  dots: readonly Dot[],
  found: readonly FoundDot[],
  { matches, toPicture }: { readonly matches: readonly DotMatch[]; readonly toPicture: Homography },
): DotMatch[] {
  const known = matches.map(({ dot, mark }): DotMatch => ({ dot, mark: inPx(mark.dot) }));
  const toSheet = invertHomography(toPicture);
  if (toSheet === null) return known;
  for (const dot of dots) {
    if (known.some((match) => match.dot === dot)) continue;
    const near = found
      .map((mark) => ({ mark, at: applyHomography(toSheet, mark.at) }))
      .map(({ mark, at }) => ({ mark, away: distance(at, dot.at) }))
      .filter(({ mark, away }) => away <= FURTHER_MM && known.every((match) => match.mark.dot !== mark))
      .sort((a, b) => a.away - b.away)[0]?.mark;
    if (near === undefined || !hasDotSize(near, dot, pixelsAt(toPicture, dot.at))) continue;
    known.push({ dot, mark: inPx(near) });
  }
  return known.sort((a, b) => dots.indexOf(a.dot) - dots.indexOf(b.dot));
}

/**
 * Px → sheet mm by least squares over the matched dots. With a scale: turned and shifted, so that the print keeps its true size; where dots lie farther
 * than `MOVED_MM` from their places then, the paper moved, and the print is carried by an affine map of three dots or more: what is stepped dot on dot is
 * measured against the dots. Without a scale: by perspective, through four dots exactly.
 */
export function fitLaying(
  matches: readonly DotMatch[],
  scale: Pick<PictureScale, 'toMm'> | null,
): { readonly toSheet: Homography; readonly frame: LayingFrame } {
  if (scale === null) {
    const map = mapOf(matches);
    const toSheet = map === null ? null : invertHomography(map);
    if (toSheet === null)
      throw new RangeError(`got ${matches.length} dots that fix no view, expected four in general position`);
    return { toSheet, frame: 'perspective' };
  }
  const pairs = matches.map(
    ({ dot, mark }): PointPair => ({ from: applyHomography(scale.toMm, mark.dot.at), to: dot.at }),
  );
  const rigid = rigidFrom(pairs);
  if (rigid === null) throw new RangeError(`got ${matches.length} dots that fix no place, expected two or more`);
  const carry = (matrix: Matrix): Homography => composeHomography(homographyOf(matrix), scale.toMm);
  if (rigid.worst <= MOVED_MM || pairs.length < 3) return { toSheet: carry(rigid.matrix), frame: 'rigid' };
  const affine = affineFrom(pairs);
  return affine === null
    ? { toSheet: carry(rigid.matrix), frame: 'rigid' }
    : { toSheet: carry(affine), frame: 'stretched' };
}

/** The affine map nearest to the pairs by least squares; null where they lie on one line. */
export function affineFrom(pairs: readonly PointPair[]): Matrix | null {
  // About their middle and by their size, so that all numbers of the equations are alike.
  const start = similarityFrom(pairs);
  if (start === null) return null;
  const size = Math.max(...pairs.map(({ to }) => Math.hypot(to.x, to.y)), 1);
  const rest = pairs.map(({ from, to }) => ({ from: apply(start.matrix, from), to }));
  const solve = (value: (to: Point) => number): number[] | null => {
    const sums = normalEquations(3);
    for (const { from, to } of rest) addEquation(sums, [from.x / size, from.y / size, 1], value(to) / size);
    return solveLinear(sums.normal, sums.right);
  };
  const [x, y] = [solve((to) => to.x), solve((to) => to.y)];
  if (x === null || y === null) return null;
  const after = homographyOf([x[0], y[0], x[1], y[1], x[2] * size, y[2] * size]);
  const [a, c, e, b, d, f] = composeHomography(after, homographyOf(start.matrix));
  return [a, b, c, d, e, f];
}

function pixelsAt(toPicture: Homography, { x, y }: Point): number {
  const [p, q] = [applyHomography(toPicture, { x, y }), applyHomography(toPicture, { x: x + 1, y })];
  return distance(q, p);
}

/** Whether four of the places lie in general position. */
function hasFour(places: readonly Point[]): boolean {
  for (let a = 0; a < places.length; a++) {
    for (let b = a + 1; b < places.length; b++) {
      for (let c = b + 1; c < places.length; c++) {
        for (let d = c + 1; d < places.length; d++) {
          if (lineOf([places[a], places[b], places[c], places[d]]) === null) return true;
        }
      }
    }
  }
  return false;
}

function inPx(dot: FoundDot): DotMatch['mark'] {
  return { dot, at: dot.at, diameter: dot.diameter };
}
