import { boxOf } from '../geometry/boxes.js';
import { distance } from '../geometry/points.js';
import type { Box, Point } from '../geometry/types.js';
import { fractionalPart } from '../repeat/fraction.js';
import type { Repeat } from '../repeat/types.js';
import type { Corner } from './types.js';

/** A punched hole. Position on the sheet, mm from the sheet's upper left. */
export interface Dot {
  /** A, B, C … clockwise from the upper left. */
  readonly name: string;
  readonly at: Point;
  readonly diameterMm: number;
  /** Leading dots (left, top) print; trailing ones are landed upon. */
  readonly lead: boolean;
}

/** Sides along which the cloth has a next sheet. */
export interface NextSheets {
  readonly right: boolean;
  readonly bottom: boolean;
}

export interface SheetDotsOptions {
  /** Of leading dots, which print. */
  readonly diameterMm: number;
  /** Of trailing dots, through which a printed one is sighted. Default: as leading ones. */
  readonly sightMm?: number;
  /** Default: both. */
  readonly sides?: NextSheets;
}

/** A step from one sheet to the next, and the dots that fix it. */
export interface SheetStep {
  readonly to: 'right' | 'bottom';
  /** mm. A drop above one half is stepped upwards, a brick above one half leftwards. */
  readonly vector: Point;
  /** Two pairs without a dot in common: the first dot, moved by the vector, lands on the second. Names as in `Dot`. */
  readonly pairs: readonly [DotPair, DotPair];
}

export interface DotPair {
  readonly from: string;
  readonly to: string;
}

const BOTH: NextSheets = { right: true, bottom: true };

/** Two places nearer than this are one hole, mm: rounding, far below the point of any punch. */
const SAME_PLACE_MM = 1e-6;

/**
 * How a sheet of `across × down` units repeats (whole numbers, at least 1). The sheet of a drop f is a drop of frac(across · f)/down
 * of its own height, the sheet of a brick f a brick of frac(down · f)/across of its own width; straight where nothing is left over.
 */
export function sheetRepeat(repeat: Repeat, across: number, down: number): Repeat {
  if (repeat.kind === 'straight') return { kind: 'straight', step: { p: 0, q: 1 } };
  const [times, parts] = repeat.kind === 'drop' ? [across, down] : [down, across];
  const { p, q } = fractionalPart({ p: repeat.step.p * times, q: repeat.step.q });
  const step = fractionalPart({ p, q: q * parts });
  return { kind: step.p === 0 ? 'straight' : repeat.kind, step };
}

/**
 * The dots of a sheet, on the corners of its field and, in a drop or brick f, on two sides besides: a drop has dots on the left at
 * 0, (1−f)·H and H, on the right at 0, f·H and H; a brick has them on top at 0, (1−f)·W and W, at the bottom at 0, f·W and W. The
 * corners are always there, since the sheet is squared by them; the others only where the cloth has a sheet to step to. Named
 * clockwise from the upper left. `field` and the dots are in sheet mm; a field that was moved moves all dots with it.
 */
export function sheetDots(field: Box, repeatOfSheet: Repeat, options: SheetDotsOptions): Dot[] {
  const { diameterMm, sightMm = diameterMm, sides = BOTH } = options;
  const f = repeatOfSheet.step.p / repeatOfSheet.step.q;
  const { x0, y0, x1, y1 } = field;
  const drop = repeatOfSheet.kind === 'drop' && sides.right;
  const brick = repeatOfSheet.kind === 'brick' && sides.bottom;
  const clockwise: Point[] = [
    { x: x0, y: y0 },
    ...(brick ? [{ x: between(x0, x1, 1 - f), y: y0 }] : []),
    { x: x1, y: y0 },
    ...(drop ? [{ x: x1, y: between(y0, y1, f) }] : []),
    { x: x1, y: y1 },
    ...(brick ? [{ x: between(x0, x1, f), y: y1 }] : []),
    { x: x0, y: y1 },
    ...(drop ? [{ x: x0, y: between(y0, y1, 1 - f) }] : []),
  ];
  const places = clockwise.filter((p, k) => !clockwise.slice(0, k).some((other) => same(p, other)));
  return places.map((at, k) => {
    const lead = at.x === x0 || at.y === y0;
    return { name: String.fromCharCode(0x41 + k), at, diameterMm: lead ? diameterMm : sightMm, lead };
  });
}

/**
 * The rectangle of the corner dots: the field of the sheet, or where its dots were moved to. Throws a `RangeError` for no dots.
 */
export function dotFrame(dots: readonly Pick<Dot, 'at'>[]): Box {
  if (dots.length === 0) throw new RangeError('got no dots, expected those of a sheet');
  return boxOf(dots.map(({ at }) => at));
}

/** The dots at the four corners, and those between them in their order. Throws a `RangeError` where a corner has no dot. */
export function cornerDots(dots: readonly Dot[]): {
  readonly corners: Readonly<Record<Corner, Dot>>;
  readonly extra: Dot[];
} {
  const { x0, y0, x1, y1 } = dotFrame(dots);
  const at = (x: number, y: number): Dot => {
    const found = dots.find((dot) => same(dot.at, { x, y }));
    if (found === undefined) throw new RangeError(`got no dot at the corner (${x}, ${y}) mm, expected one`);
    return found;
  };
  const corners = { upperLeft: at(x0, y0), upperRight: at(x1, y0), lowerRight: at(x1, y1), lowerLeft: at(x0, y1) };
  const taken: readonly Dot[] = Object.values(corners);
  return { corners, extra: dots.filter((dot) => !taken.includes(dot)) };
}

/**
 * The steps that the cloth needs and, for each, the two disjoint pairs of dots that lie farthest apart: one pair fixes the place, both
 * together the turn as well. Throws a `RangeError` for dots that don't belong to the field and repeat.
 */
export function sheetSteps(
  field: Box,
  repeatOfSheet: Repeat,
  dots: readonly Dot[],
  sides: NextSheets = BOTH,
): SheetStep[] {
  const f = repeatOfSheet.step.p / repeatOfSheet.step.q;
  // The shorter way round: the pairs of the longer one lie nearer together.
  const share = f > 0.5 ? f - 1 : f;
  const [w, h] = [field.x1 - field.x0, field.y1 - field.y0];
  const steps: SheetStep[] = [];
  if (sides.right) {
    const vector = { x: w, y: repeatOfSheet.kind === 'drop' ? share * h : 0 };
    steps.push({ to: 'right', vector, pairs: farthestPairs(dots, vector) });
  }
  if (sides.bottom) {
    const vector = { x: repeatOfSheet.kind === 'brick' ? share * w : 0, y: h };
    steps.push({ to: 'bottom', vector, pairs: farthestPairs(dots, vector) });
  }
  return steps;
}

function farthestPairs(dots: readonly Dot[], v: Point): readonly [DotPair, DotPair] {
  const pairs = dots.flatMap((from) =>
    dots.filter((to) => same(to.at, { x: from.at.x + v.x, y: from.at.y + v.y })).map((to) => ({ from, to })),
  );
  let best: readonly [DotPair, DotPair] | null = null;
  let farthest = 0;
  for (const [k, one] of pairs.entries()) {
    for (const other of pairs.slice(k + 1)) {
      if (one.to === other.from || other.to === one.from) continue;
      const apart = distance(one.from.at, other.from.at);
      if (apart <= farthest) continue;
      farthest = apart;
      best = [named(one), named(other)];
    }
  }
  if (best === null) throw new RangeError(`got dots without two pairs for the step (${v.x}, ${v.y}) mm, expected two`);
  return best;
}

function named({ from, to }: { from: Dot; to: Dot }): DotPair {
  return { from: from.name, to: to.name };
}

function between(low: number, high: number, share: number): number {
  return low + share * (high - low);
}

function same(a: Point, b: Point): boolean {
  return distance(a, b) <= SAME_PLACE_MM;
}
