import { distance } from '../geometry/points.js';
import type { Point } from '../geometry/types.js';
import { type OutlinePlace, placeAt } from './closest.js';
import type { Span } from './types.js';

/** Ratio of a golden section. */
const GOLDEN = (Math.sqrt(5) - 1) / 2;
/** Rounds of the search: the window shrinks to less than a millionth. */
const ROUNDS = 40;

/**
 * The disc that touches the bank at `a` along `normal` and the other bank near `b`, exact on the curve: its diameter, from `a` to the place
 * where it touches. For places from which the strip goes on narrowing, where no shortest way across exists. Looks about `windowMm` along the other bank.
 */
export function discSpan(
  a: OutlinePlace,
  b: OutlinePlace,
  { normal, windowMm }: { normal: Point; windowMm: number },
): Span & { readonly toU: number } {
  const from = placeAt(a.contour, a.u);
  const diameter = (u: number): number => {
    const p = placeAt(b.contour, u);
    const [dx, dy] = [p.x - from.x, p.y - from.y];
    const along = dx * normal.x + dy * normal.y;
    return along > 0 ? (dx * dx + dy * dy) / along : Infinity;
  };
  // How far the parameter may go: at the pace that the curve has there, both ways.
  const step = 1e-4;
  const [p, q] = [placeAt(b.contour, b.u - step), placeAt(b.contour, b.u + step)];
  const pace = distance(q, p) / (2 * step) || 1;
  let low = b.u - Math.min(0.5, windowMm / pace);
  let high = b.u + Math.min(0.5, windowMm / pace);
  for (let k = 0; k < ROUNDS; k++) {
    const u = high - GOLDEN * (high - low);
    const v = low + GOLDEN * (high - low);
    if (diameter(u) < diameter(v)) high = v;
    else low = u;
  }
  const toU = (low + high) / 2;
  return { from, to: placeAt(b.contour, toU), lengthMm: diameter(toU), toU };
}
