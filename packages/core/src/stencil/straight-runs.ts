import { isStraight } from '../geometry/contour.js';
import { evaluateCubic } from '../geometry/curve.js';
import { distance } from '../geometry/points.js';
import type { Contour, Point } from '../geometry/types.js';

/** A long run stays this near to one straight line, mm: a band of half a knife's accuracy of 0.2 mm. */
const BESIDE_MM = 0.05;
/** A wider band, mm: in it a straight run grows hardly longer, since it ends at a corner or a bend; an arc grows to twice its length. */
const WIDE_MM = 0.2;
/** A long run that grows to more than this in the wider band, on both ends together, is part of a curve. An arc between two corners may bow by 0.1 mm. */
const GROWS_MOST = 1.3;
/** What belongs to no stretch of this length, mm, that stays so near to one straight line, is bent: tighter than a radius of about 900 mm. */
const PIECE = { mm: 10, besideMm: 0.01 } as const;
/** Curves are looked at this far apart at most, mm: a stretch is known to twice that. */
const APART_MM = 1;

/** A ring as corners near enough to each other; `cut[k]` says whether the side from corner k on is cut. */
interface Corners {
  readonly points: readonly Point[];
  readonly cut: readonly boolean[];
}

/**
 * The longest straight run of a ring, mm from end to end; 0 where none is longer than `leastMm`. It stays within 0.05 mm of a straight line and ends where the
 * outline turns off. However the ring is divided into cubics, wherever it starts, and however it lies, turned or mirrored, it is the same but for the places
 * at which curves are looked at. Stretches of cubics that `isCut` denies are no part of it.
 */
export function longestRun(contour: Contour, leastMm: number, isCut: IsCut = ALL): number {
  const corners = cornersOf(contour, isCut);
  const { points } = corners;
  const along = lengthsAlong(points);
  let longest = 0;
  // From both ways round, so that a ring and its mirror image have the same.
  for (const way of [1, -1] as const) {
    for (let k = 0; k < points.length; k++) {
      if (isBent({ points, along }, k, way, leastMm)) continue;
      const end = runFrom(corners, k, way, { besideMm: BESIDE_MM });
      const mm = distance(points[k], points[end]);
      if (mm > Math.max(longest, leastMm) && turnsOff(corners, [k, end], way, mm)) longest = mm;
    }
  }
  return longest;
}

/** Whether a stretch of this length is bent for sure: its middle lies farther beside its chord than any straight run allows. A quick look that spares most. */
function isBent(
  { points, along }: { readonly points: readonly Point[]; readonly along: readonly number[] },
  start: number,
  way: 1 | -1,
  mm: number,
): boolean {
  const n = points.length;
  let [middle, end] = [start, start];
  for (let gone = 0, step = 0; gone < mm && step < n; step++) {
    const side = way === 1 ? end : (end + n - 1) % n;
    gone += along[side + 1] - along[side];
    end = (end + way + n) % n;
    if (gone <= mm / 2) middle = end;
  }
  const [a, b, p] = [points[start], points[end], points[middle]];
  const chord = distance(a, b);
  return chord > 0 && Math.abs((p.x - a.x) * (b.y - a.y) - (p.y - a.y) * (b.x - a.x)) > 2 * BESIDE_MM * chord;
}

/** How much of a ring is not bent, mm; with what is said of `longestRun`. */
export function unbentLength(contour: Contour, isCut: IsCut = ALL): number {
  const corners = cornersOf(contour, isCut);
  const { points } = corners;
  const along = lengthsAlong(points);
  const around = along[points.length];
  const pieces: Stretch[] = [];
  for (const way of [1, -1] as const) {
    for (let k = 0; k < points.length; k++) {
      const end = runFrom(corners, k, way, { besideMm: PIECE.besideMm, untilMm: PIECE.mm });
      if (distance(points[k], points[end]) < PIECE.mm) continue;
      const [from, to] = way === 1 ? [along[k], along[end]] : [along[end], along[k]];
      pieces.push({ from, mm: (to - from + around) % around });
    }
  }
  return covered(pieces, around);
}

/** Says of a cubic, by its place in the ring, whether it is cut. */
type IsCut = (cubic: number) => boolean;

const ALL: IsCut = () => true;

/** A stretch of a ring: where it begins, by length along the ring, and how long it is. */
interface Stretch {
  readonly from: number;
  readonly mm: number;
}

function cornersOf({ coords: q }: Contour, isCut: IsCut): Corners {
  const points: Point[] = [];
  const cut: boolean[] = [];
  for (let k = 0, o = 0; o + 7 < q.length; k++, o += 6) {
    const own = isCut(k);
    let from = { x: q[o], y: q[o + 1] };
    const add = (x: number, y: number): void => {
      if (x === from.x && y === from.y) return;
      points.push(from);
      cut.push(own);
      from = { x, y };
    };
    const even = isStraight(q, o) ? 1 : Math.ceil(handlesLength(q, o) / APART_MM);
    for (let step = 1; step < even; step++) {
      const { x, y } = evaluateCubic(q, o, step / even);
      add(x, y);
    }
    add(q[o + 6], q[o + 7]);
  }
  return { points, cut };
}

/** The length of a cubic's handles and of what is between them, mm: never less than that of the curve. */
function handlesLength(q: Float64Array, o: number): number {
  return [0, 2, 4].reduce((sum, k) => sum + Math.hypot(q[o + k + 2] - q[o + k], q[o + k + 3] - q[o + k + 1]), 0);
}

function lengthsAlong(points: readonly Point[]): number[] {
  const along = [0];
  points.forEach((p, k) => {
    along.push(along[k] + distance(p, points[(k + 1) % points.length]));
  });
  return along;
}

/**
 * How far the outline goes on from a corner, one way round, while some straight line through that corner stays within `besideMm` of it: the directions
 * that are left are a wedge, which every corner on the way narrows. It need not be followed farther than `untilMm`.
 */
function runFrom(
  { points, cut }: Corners,
  start: number,
  way: 1 | -1,
  { besideMm, untilMm = Infinity }: { readonly besideMm: number; readonly untilMm?: number },
): number {
  const n = points.length;
  const origin = points[start];
  let end = start;
  let [first, low, high] = [Number.NaN, -Math.PI, Math.PI];
  let farthest = 0;
  for (let step = 0; step < n - 1; step++) {
    const side = way === 1 ? end : (end + n - 1) % n;
    if (!cut[side]) break;
    const next = (end + way + n) % n;
    const far = distance(origin, points[next]);
    // Back towards the start is another run.
    if (far < farthest - besideMm) break;
    if (far > besideMm) {
      const angle = Math.atan2(points[next].y - origin.y, points[next].x - origin.x);
      if (Number.isNaN(first)) first = angle;
      const turned = wrapped(angle - first);
      const half = Math.asin(besideMm / far);
      if (turned - half > high || turned + half < low) break;
      [low, high] = [Math.max(low, turned - half), Math.min(high, turned + half)];
    }
    farthest = Math.max(farthest, far);
    end = next;
    if (far >= untilMm) break;
  }
  return end;
}

/** Whether the outline turns off at both ends of a run: in the wider band it grows hardly longer. */
function turnsOff(corners: Corners, [start, end]: readonly [number, number], way: 1 | -1, chordMm: number): boolean {
  const { points } = corners;
  const on = distance(points[start], points[runFrom(corners, start, way, { besideMm: WIDE_MM })]);
  const back = distance(points[end], points[runFrom(corners, end, way === 1 ? -1 : 1, { besideMm: WIDE_MM })]);
  return on + back - chordMm <= GROWS_MOST * chordMm;
}

/** Length of a ring that stretches cover, each counted once. */
function covered(stretches: readonly Stretch[], around: number): number {
  const parts = stretches
    .flatMap(({ from, mm }): [number, number][] => {
      const to = from + mm;
      return to <= around
        ? [[from, to]]
        : [
            [from, around],
            [0, to - around],
          ];
    })
    .sort(([a], [b]) => a - b);
  let [sum, reached] = [0, 0];
  for (const [from, to] of parts) {
    sum += Math.max(0, to - Math.max(from, reached));
    reached = Math.max(reached, to);
  }
  return sum;
}

function wrapped(angle: number): number {
  return angle - 2 * Math.PI * Math.round(angle / (2 * Math.PI));
}
