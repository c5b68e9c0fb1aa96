import type { Matrix, Point } from '@okuri/core';
import { addEquation, distance, type Homography, invert, normalEquations, solveLinear } from '@okuri/core/inside';
import { applyHomography, composeHomography, homographyOf, tidyHomography } from './homography.js';
import { middleOf, type PointPair } from './similarity.js';

/** Rounds of Gauss–Newton; it settles in two to five. */
const ROUNDS_MAX = 12;

/** Halvings of a step that makes things worse. */
const HALVINGS_MAX = 12;

/** In normalised units (the places' spread is 1): a smaller step is rounding. */
const SETTLED = 1e-15;

/** A triangle whose height is less than this share of its longest side counts as a line: dots at ±0.1 px in 1000 px give 1e-4. */
const LINE_SHARE = 1e-3;

/**
 * The perspective map that takes `from` to `to`: exactly for four pairs, by least squares for more. Errors are taken to be in `to`: the sum of
 * squares of its distances is made least. A start by the linear equations in normalised coordinates (Hartley & Zisserman, Multiple View Geometry, §4.1 and
 * §4.4), then Gauss–Newton on the distances themselves. The origin of the normalised places is their middle, which lies in front of the camera if
 * they all do, so that h8 may be set to 1. Null where the pairs fix no map: three of four on a line, or places on both sides of the horizon (four corners
 * given crosswise look like that). A mirroring map is a map. Throws a `RangeError` for fewer than four pairs or a place that is not finite.
 */
export function homographyFrom(pairs: readonly PointPair[]): Homography | null {
  if (pairs.length < 4) throw new RangeError(`got ${pairs.length} pairs of places, expected four or more`);
  for (const { from, to } of pairs) {
    if (![from.x, from.y, to.x, to.y].every(Number.isFinite)) {
      throw new RangeError(`got ${JSON.stringify([from, to])}, expected finite places`);
    }
  }
  if (
    pairs.length === 4 &&
    [pairs.map(({ from }) => from), pairs.map(({ to }) => to)].some((q) => lineOf(q) !== null)
  ) {
    return null;
  }
  const fromUnit = unitOf(pairs.map(({ from }) => from));
  const toUnit = unitOf(pairs.map(({ to }) => to));
  if (fromUnit === null || toUnit === null) return null;
  const unitPairs = pairs.map(({ from, to }) => ({
    from: applyHomography(fromUnit.into, from),
    to: applyHomography(toUnit.into, to),
  }));
  const start = linearFit(unitPairs);
  if (start === null || !allInFront(start, unitPairs)) return null;
  const best = refined(start, unitPairs);
  return tidyHomography(composeHomography(toUnit.outOf, composeHomography(best, fromUnit.into)));
}

/** Numbers (from 0) of three places of four that lie nearly on one line, or null. */
export function lineOf(points: readonly Point[]): readonly [number, number, number] | null {
  for (const left of [3, 2, 1, 0]) {
    const [i, j, k] = [0, 1, 2, 3].filter((n) => n !== left);
    const [a, b, c] = [points[i], points[j], points[k]];
    const area2 = Math.abs((b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x));
    const longest = Math.max(distance(b, a), distance(c, b), distance(a, c));
    if (!(area2 > LINE_SHARE * longest * longest)) return [i, j, k];
  }
  return null;
}

/** Maps places to a middle of 0 and a mean distance of √2 (Hartley's normalisation), and back. */
function unitOf(points: readonly Point[]): { readonly into: Homography; readonly outOf: Homography } | null {
  const middle = middleOf(points);
  const mean = points.reduce((sum, p) => sum + distance(p, middle) / points.length, 0);
  const s = Math.SQRT2 / mean;
  const matrix: Matrix = [s, 0, 0, s, -s * middle.x, -s * middle.y];
  const back = mean > 0 ? invert(matrix) : null;
  return back === null ? null : { into: homographyOf(matrix), outOf: homographyOf(back) };
}

function linearFit(pairs: readonly PointPair[]): Homography | null {
  const rows = pairs.flatMap(({ from: { x, y }, to }) => [
    { row: [x, y, 1, 0, 0, 0, -to.x * x, -to.x * y], value: to.x },
    { row: [0, 0, 0, x, y, 1, -to.y * x, -to.y * y], value: to.y },
  ]);
  if (pairs.length === 4) {
    return withOne(
      solveLinear(
        rows.map(({ row }) => row),
        rows.map(({ value }) => value),
      ),
    );
  }
  const sums = normalEquations(8);
  for (const { row, value } of rows) addEquation(sums, row, value);
  return withOne(solveLinear(sums.normal, sums.right));
}

function refined(start: Homography, pairs: readonly PointPair[]): Homography {
  let best = start;
  let cost = costOf(best, pairs);
  for (let round = 0; round < ROUNDS_MAX; round++) {
    const step = gaussNewtonStep(best, pairs);
    if (step === null) break;
    let share = 1;
    let next = moved(best, step, share);
    let nextCost = costOf(next, pairs);
    for (let k = 0; k < HALVINGS_MAX && !(nextCost <= cost); k++) {
      share /= 2;
      next = moved(best, step, share);
      nextCost = costOf(next, pairs);
    }
    if (!(nextCost < cost)) break;
    best = next;
    cost = nextCost;
    if (Math.max(...step.map(Math.abs)) * share <= SETTLED) break;
  }
  return best;
}

function gaussNewtonStep(h: Homography, pairs: readonly PointPair[]): number[] | null {
  const sums = normalEquations(8);
  for (const { from, to } of pairs) {
    const { x, y } = from;
    const w = h[6] * x + h[7] * y + h[8];
    const at = applyHomography(h, from);
    const [u, v, one] = [x / w, y / w, 1 / w];
    addEquation(sums, [u, v, one, 0, 0, 0, -at.x * u, -at.x * v], to.x - at.x);
    addEquation(sums, [0, 0, 0, u, v, one, -at.y * u, -at.y * v], to.y - at.y);
  }
  return solveLinear(sums.normal, sums.right);
}

/** Sum of squared distances; infinite where a place falls behind the camera. */
function costOf(h: Homography, pairs: readonly PointPair[]): number {
  if (!allInFront(h, pairs)) return Number.POSITIVE_INFINITY;
  return pairs.reduce((sum, { from, to }) => {
    const at = applyHomography(h, from);
    return sum + (at.x - to.x) ** 2 + (at.y - to.y) ** 2;
  }, 0);
}

function allInFront(h: Homography, pairs: readonly PointPair[]): boolean {
  return pairs.every(({ from }) => h[6] * from.x + h[7] * from.y + h[8] > 0);
}

function moved(h: Homography, step: readonly number[], share: number): Homography {
  const [a, b, c, d, e, f, g, i] = step.map((value, k) => h[k] + share * value);
  return [a, b, c, d, e, f, g, i, h[8]];
}

function withOne(values: readonly number[] | null): Homography | null {
  if (values === null) return null;
  const [a, b, c, d, e, f, g, i] = values;
  return [a, b, c, d, e, f, g, i, 1];
}
