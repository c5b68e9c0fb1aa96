import Flatbush from 'flatbush';
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
  const index = new Flatbush(stretches.length);
  for (const { from, to } of stretches) {
    index.add(Math.min(from.x, to.x), Math.min(from.y, to.y), Math.max(from.x, to.x), Math.max(from.y, to.y));
  }
  index.finish();
  const around = (a: Point, b: Point): Uncut[] =>
    index
      .search(
        Math.min(a.x, b.x) - SAME_MM,
        Math.min(a.y, b.y) - SAME_MM,
        Math.max(a.x, b.x) + SAME_MM,
        Math.max(a.y, b.y) + SAME_MM,
      )
      .map((k) => stretches[k]);
  const lengthOn = ({ coords: q }: Contour): number => {
    let sum = 0;
    for (let o = 0; o + 7 < q.length; o += 6) {
      const [from, to] = [
        { x: q[o], y: q[o + 1] },
        { x: q[o + 6], y: q[o + 7] },
      ];
      for (const stretch of around(from, to)) {
        const isOn = [2, 4].every((k) => besideLine({ x: q[o + k], y: q[o + k + 1] }, stretch) <= SAME_MM);
        if (isOn) sum += sharedLength(from, to, stretch);
      }
    }
    return sum;
  };
  const has = (at: Point): boolean => around(at, at).some((stretch) => besideStretch(at, stretch) <= SAME_MM);
  return { lengthOn, has };
}

/** How much of the side `a→b` lies on a stretch, mm. */
function sharedLength(a: Point, b: Point, stretch: Uncut): number {
  if (besideLine(a, stretch) > SAME_MM || besideLine(b, stretch) > SAME_MM) return 0;
  const { from, to } = stretch;
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  const along = (p: Point): number => ((p.x - from.x) * (to.x - from.x) + (p.y - from.y) * (to.y - from.y)) / length;
  const [s, t] = [along(a), along(b)];
  return Math.max(0, Math.min(length, Math.max(s, t)) - Math.max(0, Math.min(s, t)));
}

function besideLine(p: Point, { from, to }: Uncut): number {
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  return length === 0
    ? Infinity
    : Math.abs((p.x - from.x) * (to.y - from.y) - (p.y - from.y) * (to.x - from.x)) / length;
}

function besideStretch(p: Point, { from, to }: Uncut): number {
  const [x, y] = [to.x - from.x, to.y - from.y];
  const square = x * x + y * y;
  const t = square > 0 ? Math.min(1, Math.max(0, ((p.x - from.x) * x + (p.y - from.y) * y) / square)) : 0;
  return Math.hypot(p.x - from.x - t * x, p.y - from.y - t * y);
}
