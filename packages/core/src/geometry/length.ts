import { evaluateCubic } from './curve.js';
import { FLATTEN_MM, flattenCubic, flatteningSteps } from './flatten.js';
import type { Contour, Point } from './types.js';

/** Abscissae and weights of Gauss and Legendre's rule with five places, on -1 … 1 (closed forms, any textbook of numerical analysis). */
const GAUSS: readonly (readonly [at: number, weight: number])[] = [
  [0, 128 / 225],
  ...[
    [Math.sqrt(5 - 2 * Math.sqrt(10 / 7)) / 3, (322 + 13 * Math.sqrt(70)) / 900] as const,
    [Math.sqrt(5 + 2 * Math.sqrt(10 / 7)) / 3, (322 - 13 * Math.sqrt(70)) / 900] as const,
  ].flatMap(([at, weight]) => [[-at, weight] as const, [at, weight] as const]),
];

/** Parts into which a curve is divided for its length lie this near to their chords, mm: the rule is then good to far under 1 µm. */
const LENGTH_MM = 0.1;

/** The length of a contour's curves, mm; a closed contour whose ends differ is not closed by a side. No curves have no length. */
export function contourLength({ coords }: Contour): number {
  let sum = 0;
  for (let o = 0; o + 7 < coords.length; o += 6) {
    // A straight cubic has no bend to divide.
    const n = flatteningSteps(coords, o, LENGTH_MM) || 1;
    for (let i = 0; i < n; i++) {
      for (const [at, weight] of GAUSS) {
        const { dx, dy } = evaluateCubic(coords, o, (i + (at + 1) / 2) / n);
        sum += (weight * Math.hypot(dx, dy)) / (2 * n);
      }
    }
  }
  return sum;
}

/** The corners of a contour flattened to 5 µm, its end (the start again, in a closed one) left out. mm. */
export function flattened({ coords }: Contour): Point[] {
  const points: Point[] = [];
  if (coords.length < 2) return points;
  points.push({ x: coords[0], y: coords[1] });
  for (let o = 0; o + 7 < coords.length; o += 6) {
    flattenCubic(coords, o, FLATTEN_MM, (x, y) => points.push({ x, y }));
  }
  if (points.length > 1) points.pop();
  return points;
}
