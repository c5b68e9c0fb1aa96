import type { Matrix, Point } from '@okuri/core';
import { apply, distance } from '@okuri/core/inside';

/** A place and where it goes. */
export interface PointPair {
  readonly from: Point;
  readonly to: Point;
}

/** A turn, a scale and a shift: `to ≈ scale · R(turnDeg) · from + shift`. */
export interface Similarity {
  readonly matrix: Matrix;
  readonly scale: number;
  /** Clockwise as seen (y down), −180 to 180. */
  readonly turnDeg: number;
  /** How far the pairs lie from it: root mean square and the farthest, units of `to`. */
  readonly rms: number;
  readonly worst: number;
}

/**
 * The turn, scale and shift that take the pairs nearest to each other by least squares; never mirrored (Umeyama, IEEE PAMI 13 (1991) 376, in
 * the plane, where the singular value decomposition has a closed form). Null where all `from` or all `to` are one place, or no turn is better than
 * another (mirrored pairs). Throws a `RangeError` for fewer
 * than two pairs.
 */
export function similarityFrom(pairs: readonly PointPair[]): Similarity | null {
  return fitted(pairs, 'free');
}

/** As `similarityFrom`, with scale 1: paper that is only turned and shifted (Kabsch, Acta Cryst. A 32 (1976) 922). */
export function rigidFrom(pairs: readonly PointPair[]): Similarity | null {
  return fitted(pairs, 'one');
}

function fitted(pairs: readonly PointPair[], size: 'free' | 'one'): Similarity | null {
  if (pairs.length < 2) throw new RangeError(`got ${pairs.length} pairs of places, expected two or more`);
  const from = middleOf(pairs.map((pair) => pair.from));
  const to = middleOf(pairs.map((pair) => pair.to));
  let [along, across, spread] = [0, 0, 0];
  for (const { from: p, to: q } of pairs) {
    const [px, py, qx, qy] = [p.x - from.x, p.y - from.y, q.x - to.x, q.y - to.y];
    along += px * qx + py * qy;
    across += px * qy - py * qx;
    spread += px * px + py * py;
  }
  const strength = Math.hypot(along, across);
  if (!(strength > 0 && spread > 0)) return null;
  const scale = size === 'one' ? 1 : strength / spread;
  const [a, b] = [(scale * along) / strength, (scale * across) / strength];
  const matrix: Matrix = [a, b, -b, a, to.x - a * from.x + b * from.y, to.y - b * from.x - a * from.y];
  const off = pairs.map((pair) => {
    const at = apply(matrix, pair.from);
    return distance(at, pair.to);
  });
  return {
    matrix,
    scale,
    turnDeg: (Math.atan2(across, along) * 180) / Math.PI,
    rms: Math.sqrt(off.reduce((sum, d) => sum + d * d, 0) / off.length),
    worst: Math.max(...off),
  };
}

/** Mean place. */
export function middleOf(points: readonly Point[]): Point {
  let [x, y] = [0, 0];
  for (const p of points) {
    x += p.x / points.length;
    y += p.y / points.length;
  }
  return { x, y };
}
