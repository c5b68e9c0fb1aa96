import { boxOf } from '../geometry/boxes.js';
import { boxIndex } from '../geometry/cluster.js';
import { lineDistance, pointDistance, sharedLength } from '../geometry/segments.js';
import type { Contour, Point } from '../geometry/types.js';

/** A straight stretch that is not cut, mm. */
export interface Uncut {
  readonly from: Point;
  readonly to: Point;
}

/** What is not cut, to be asked along outlines. */
export interface UncutStretches {
  /** How much of a contour's straight sides lies on the stretches, mm; each counts on every side that runs along it. */
  readonly lengthOn: (contour: Contour) => number;
  /** Whether a place lies on a stretch, its ends counted in. */
  readonly has: (at: Point) => boolean;
}

/** Nearer than this is the same place, mm: ten units of the polygons' grid. */
const SAME_MM = 1e-3;

/** Makes stretches ready to be asked. */
export function uncutOn(stretches: readonly Uncut[]): UncutStretches {
  if (stretches.length === 0) return { lengthOn: () => 0, has: () => false };
  const index = boxIndex(stretches.map(({ from, to }) => boxOf([from, to])));
  const around = (a: Point, b: Point): Uncut[] => {
    const { x0, y0, x1, y1 } = boxOf([a, b], SAME_MM);
    return index.search(x0, y0, x1, y1).map((k) => stretches[k]);
  };
  const lengthOn = ({ coords: q }: Contour): number => {
    let sum = 0;
    for (let o = 0; o + 7 < q.length; o += 6) {
      const [from, to] = [
        { x: q[o], y: q[o + 1] },
        { x: q[o + 6], y: q[o + 7] },
      ];
      for (const stretch of around(from, to)) {
        const isOn = [2, 4].every((k) => lineDistance(stretch, { x: q[o + k], y: q[o + k + 1] }) <= SAME_MM);
        if (isOn) sum += sharedLength(stretch, { from, to }, SAME_MM);
      }
    }
    return sum;
  };
  const has = (at: Point): boolean => around(at, at).some((stretch) => pointDistance(stretch, at) <= SAME_MM);
  return { lengthOn, has };
}
