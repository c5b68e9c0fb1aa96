import { distance } from '../geometry/points.js';
import { solveLinear } from '../geometry/solve-linear.js';
import { holesFromFive } from './hinge.js';
import { ENDS, SPANS } from './spans.js';
import type { Corner, Holes, SixDistances, Span } from './types.js';

/** Rounds of Gauss-Newton; it settles in three to six. */
const ROUNDS_MAX = 60;

/** A step smaller than this share of the sheet is rounding. */
const SETTLED = 1e-14;

/** Halvings of a step that makes things worse. */
const HALVINGS_MAX = 30;

/** The unknowns: the origin is at the upper left and the top side runs along x, so five are left. */
const UNKNOWNS: readonly (readonly [Corner, 'x' | 'y'])[] = [
  ['upperRight', 'x'],
  ['lowerRight', 'x'],
  ['lowerRight', 'y'],
  ['lowerLeft', 'x'],
  ['lowerLeft', 'y'],
];

/**
 * The four holes whose distances fit the measured ones best: the least sum of squares of (measured − fitted) / error, by Gauss-Newton
 * with halved steps (Ghilani & Wolf, Adjustment Computations, trilateration). Exact for a flat sheet. Upper left at the origin, top
 * side along x, y down; handedness is that of holes named clockwise.
 */
export function adjustHoles(distances: SixDistances, errorsMm: SixDistances): Holes {
  let holes = holesFromFive(distances);
  let cost = misfit(holes, distances, errorsMm);
  const size = Math.max(...SPANS.map((span) => distances[span]));
  for (let round = 0; round < ROUNDS_MAX; round++) {
    const step = gaussNewtonStep(holes, distances, errorsMm);
    if (step === null) break;
    let share = 1;
    let next = moved(holes, step, share);
    let nextCost = misfit(next, distances, errorsMm);
    for (let k = 0; k < HALVINGS_MAX && !(nextCost <= cost); k++) {
      share /= 2;
      next = moved(holes, step, share);
      nextCost = misfit(next, distances, errorsMm);
    }
    if (!(nextCost <= cost)) break;
    holes = next;
    cost = nextCost;
    if (Math.max(...step.map(Math.abs)) * share <= SETTLED * size) break;
  }
  return holes;
}

function misfit(holes: Holes, distances: SixDistances, errorsMm: SixDistances): number {
  return SPANS.reduce((sum, span) => sum + ((distances[span] - length(holes, span)) / errorsMm[span]) ** 2, 0);
}

function gaussNewtonStep(holes: Holes, distances: SixDistances, errorsMm: SixDistances): number[] | null {
  const normal = UNKNOWNS.map(() => UNKNOWNS.map(() => 0));
  const right = UNKNOWNS.map(() => 0);
  for (const span of SPANS) {
    const [from, to] = ENDS[span];
    const fitted = length(holes, span);
    const weight = 1 / errorsMm[span] ** 2;
    const row = UNKNOWNS.map(([corner, axis]) => {
      if (corner !== from && corner !== to) return 0;
      const along = (holes[to][axis] - holes[from][axis]) / fitted;
      return corner === to ? along : -along;
    });
    for (const [i, a] of row.entries()) {
      right[i] += weight * a * (distances[span] - fitted);
      for (const [j, b] of row.entries()) normal[i][j] += weight * a * b;
    }
  }
  return solveLinear(normal, right);
}

function moved(holes: Holes, step: readonly number[], share: number): Holes {
  const [bx, cx, cy, dx, dy] = step.map((mm) => mm * share);
  const { upperLeft, upperRight, lowerRight, lowerLeft } = holes;
  return {
    upperLeft,
    upperRight: { x: upperRight.x + bx, y: 0 },
    lowerRight: { x: lowerRight.x + cx, y: lowerRight.y + cy },
    lowerLeft: { x: lowerLeft.x + dx, y: lowerLeft.y + dy },
  };
}

function length(holes: Holes, span: Span): number {
  return distance(holes[ENDS[span][0]], holes[ENDS[span][1]]);
}
