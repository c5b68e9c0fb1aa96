import { apply, type Dot, distance, SquareIndex } from '@okuri/core/inside';
import { rigidFrom } from '../scale/similarity.js';
import { type DotMatch, hasDotSize, type Mark, nearestMark } from './dot-matches.js';

/** How far apart two printed dots may be off, as a share of their distance (soaked paper moves by one or two per cent) and mm besides. */
const STRETCH = 0.025;
const PUNCH_MM = 0.8;

/** Ways of taking marks for dots that are handed on, the likeliest first: what lies beyond is chance. */
const WAYS_MAX = 5000;

/**
 * The ways in which marks may be the print of a sheet's dots where the scale is known: every two marks as far apart as two dots say where the others
 * have to be. Marks lie in mm. The likeliest first: those that find most dots, nearest to their places.
 */
export function pairMatches(dots: readonly Dot[], marks: readonly Mark[]): DotMatch[][] {
  const reach = PUNCH_MM + STRETCH * Math.max(...dots.map((a) => Math.max(...dots.map((b) => distance(a.at, b.at)))));
  const grid = new SquareIndex<Mark>(reach);
  for (const mark of marks) grid.add(mark, mark.at);
  const ways: { matches: DotMatch[]; rank: number }[] = [];
  // Every pair of dots: of a sheet with few dots found it may be the one pair that was printed.
  for (const [i, a] of dots.entries()) {
    for (const b of dots.slice(i + 1)) {
      const far = distance(a.at, b.at);
      const slack = PUNCH_MM + STRETCH * far;
      for (const one of marks) {
        if (!hasDotSize(one, a, 1)) continue;
        for (const other of marks) {
          const [dx, dy] = [other.at.x - one.at.x, other.at.y - one.at.y];
          if (Math.abs(dx) > far + slack || Math.abs(dy) > far + slack) continue;
          if (other === one || Math.abs(Math.hypot(dx, dy) - far) > slack || !hasDotSize(other, b, 1)) continue;
          const way = wayOf(dots, grid, [
            { dot: a, mark: one },
            { dot: b, mark: other },
          ]);
          if (way !== null) ways.push(way);
        }
      }
    }
  }
  return ways
    .sort((a, b) => b.rank - a.rank)
    .slice(0, WAYS_MAX)
    .map(({ matches }) => matches);
}

function wayOf(
  dots: readonly Dot[],
  grid: SquareIndex<Mark>,
  pair: readonly [DotMatch, DotMatch],
): { matches: DotMatch[]; rank: number } | null {
  const laid = rigidFrom(pair.map(({ dot, mark }) => ({ from: dot.at, to: mark.at })));
  if (laid === null) return null;
  const matches: DotMatch[] = [...pair];
  let rank = 0;
  for (const dot of dots) {
    if (pair.some((match) => match.dot === dot)) continue;
    const slack = PUNCH_MM + STRETCH * Math.min(...pair.map((match) => distance(match.dot.at, dot.at)));
    const at = apply(laid.matrix, dot.at);
    const mark = nearestMark(grid, at, slack, (one) => hasDotSize(one, dot, 1) && matches.every((m) => m.mark !== one));
    if (mark === null) continue;
    matches.push({ dot, mark });
    rank += 1 - distance(mark.at, at) / slack / 2;
  }
  return { matches, rank };
}
