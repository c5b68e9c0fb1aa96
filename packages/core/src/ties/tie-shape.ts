import { distance } from '../geometry/points.js';
import type { Contour, Point } from '../geometry/types.js';

/** The ends of a tie on the two banks of its opening, mm. */
export interface TieEnds {
  readonly from: Point;
  readonly to: Point;
}

/** How far a strip runs on past the bank at either end, mm. */
export interface TieReach {
  readonly from: number;
  readonly to: number;
}

export interface TieShapeOptions {
  /** Width in the middle, > 0. */
  readonly widthMm: number;
  /** How much wider it gets on each side at its ends; >= 0. */
  readonly flareMm: number;
  /** How far it runs on past the banks, at both ends alike or each; >= 0. */
  readonly reachMm: number | TieReach;
}

/** A tie with all that its strip of paper needs. */
export interface StandingTie extends TieEnds, TieShapeOptions {}

/** Length over which an end widens, in flares: its edge then meets the bank at some 53° (the slope of the parabola there is 4/3). */
const FLARE_RUN = 1.5;

/**
 * The strip of paper of a tie as a closed outline of positive area, in the units of its ends: straight sides `widthMm` apart, widening by
 * `flareMm` on each side along a parabola over the last 1.5 flares before a bank, and running on past the bank at that width. On a tie that
 * is shorter than both flares they are smaller in proportion. Throws `RangeError` for a tie without length, a width that is not positive, and
 * a negative flare or reach.
 */
export function tieShape({ from, to }: TieEnds, { widthMm, flareMm, reachMm }: TieShapeOptions): Contour {
  const length = distance(to, from);
  const reach = typeof reachMm === 'number' ? { from: reachMm, to: reachMm } : reachMm;
  if (!(length > 0)) throw new RangeError(`got a tie of length ${length}, expected two different ends`);
  if (!(widthMm > 0)) throw new RangeError(`got a tie ${widthMm} mm wide, expected a positive width`);
  if (!(flareMm >= 0)) throw new RangeError(`got a flare of ${flareMm} mm, expected none or a positive one`);
  if (!(reach.from >= 0 && reach.to >= 0)) {
    throw new RangeError(`got a reach of ${reach.from} and ${reach.to} mm, expected none or positive ones`);
  }
  return stripOutline({ from, to }, { half: widthMm / 2, ...flareOf(length, flareMm), ends: [reach, reach] });
}

export interface TiePatchOptions {
  /** How much wider than the tie's strip on each side; >= 0. */
  readonly overlapMm: number;
  /**
   * How far it runs on past the tie's banks on its left side, seen from its first bank to its second, and on its right one; negative where it
   * ends before them. By default as much farther than the tie's strip as a bank that slants by 45° asks for.
   */
  readonly ends?: readonly [left: TieReach, right: TieReach];
}

/**
 * The strip of an opening that is cut where a tie of another sheet stands: it holds every place within `overlapMm` of the tie's strip between
 * its banks, and is just that much wider on each side where the tie is straight. Throws as `tieShape` does, and for a negative overlap.
 */
export function tiePatch(tie: StandingTie, { overlapMm, ends }: TiePatchOptions): Contour {
  if (!(overlapMm >= 0)) throw new RangeError(`got an overlap of ${overlapMm} mm, expected none or a positive one`);
  const { from, to, widthMm, flareMm, reachMm } = tie;
  const length = distance(to, from);
  if (!(length > 0)) throw new RangeError(`got a tie of length ${length}, expected two different ends`);
  const { flare, run } = flareOf(length, flareMm);
  const more = widthMm / 2 + flareMm + 2 * overlapMm;
  const reach = typeof reachMm === 'number' ? { from: reachMm, to: reachMm } : reachMm;
  const farther = { from: reach.from + more, to: reach.to + more };
  const [left, right] = ends ?? [farther, farther];
  const half = widthMm / 2 + overlapMm;
  if (length - 2 * overlapMm < 2 * run) {
    // No room to keep the flares' shape: straight sides that clear them.
    const within = ({ from, to }: TieReach): TieReach => ({ from: Math.max(0, from), to: Math.max(0, to) });
    return stripOutline(tie, { half: half + flare, flare: 0, run: 0, ends: [within(left), within(right)] });
  }
  // Flares that start earlier by the overlap: a parabola moved aside only would come nearer than that to the steep part.
  const share = overlapMm / length;
  const along = (t: number): Point => ({ x: from.x + t * (to.x - from.x), y: from.y + t * (to.y - from.y) });
  const later = (end: TieReach): TieReach => ({
    from: Math.max(0, end.from + overlapMm),
    to: Math.max(0, end.to + overlapMm),
  });
  return stripOutline(
    { from: along(share), to: along(1 - share) },
    { half, flare, run, ends: [later(left), later(right)] },
  );
}

/** The flare that a tie of a length has, and over which length, mm. */
export function flareOf(length: number, flareMm: number): { flare: number; run: number } {
  const run = FLARE_RUN * flareMm;
  const share = 2 * run > length ? length / (2 * run) : 1;
  return { flare: share * flareMm, run: share * run };
}

interface StripSides {
  /** Half its width in the middle. */
  readonly half: number;
  readonly flare: number;
  readonly run: number;
  /** How far it runs on past the banks on its left and on its right side. */
  readonly ends: readonly [TieReach, TieReach];
}

/** A strip between two banks that widens towards both, as a closed outline of positive area. */
function stripOutline({ from, to }: TieEnds, { half, flare, run, ends: [left, right] }: StripSides): Contour {
  const length = distance(to, from);
  const wide = half + flare;
  const outline = new StripOutline(from, { x: (to.x - from.x) / length, y: (to.y - from.y) / length });
  outline.line(-left.from, -wide);
  outline.line(0, -wide);
  if (flare > 0) outline.bend(run / 2, -half, run, -half);
  outline.line(length - run, -half);
  if (flare > 0) outline.bend(length - run / 2, -half, length, -wide);
  outline.line(length + left.to, -wide);
  if (left.to !== right.to) {
    outline.line(length + left.to, 0);
    outline.line(length + right.to, 0);
  }
  outline.line(length + right.to, wide);
  outline.line(length, wide);
  if (flare > 0) outline.bend(length - run / 2, half, length - run, half);
  outline.line(run, half);
  if (flare > 0) outline.bend(run / 2, half, 0, wide);
  outline.line(-right.from, wide);
  if (left.from !== right.from) {
    outline.line(-right.from, 0);
    outline.line(-left.from, 0);
  }
  outline.line(-left.from, -wide);
  return { closed: true, coords: Float64Array.from(outline.coords) };
}

/** A side shorter than this is none, mm: a side as short as rounding has no direction to be known by. */
const SIDE_MM = 1e-3;

/** Writes an outline whose places are given along the tie and across it. */
class StripOutline {
  readonly coords: number[] = [];
  private u = 0;
  private v = 0;

  constructor(
    private readonly origin: Point,
    private readonly way: Point,
  ) {}

  /** A straight side to a place; the first call is the start, and a side without length is none. */
  line(u: number, v: number): void {
    const { u: a, v: b } = this;
    if (this.coords.length === 0) this.push(u, v);
    else if (Math.abs(u - a) > SIDE_MM || Math.abs(v - b) > SIDE_MM) {
      this.push((2 * a + u) / 3, (2 * b + v) / 3);
      this.push((a + 2 * u) / 3, (b + 2 * v) / 3);
      this.push(u, v);
    } else return;
    this.u = u;
    this.v = v;
  }

  /** A parabola whose end tangents meet in the first place, to the second. */
  bend(cu: number, cv: number, u: number, v: number): void {
    const { u: a, v: b } = this;
    this.push((a + 2 * cu) / 3, (b + 2 * cv) / 3);
    this.push((u + 2 * cu) / 3, (v + 2 * cv) / 3);
    this.push(u, v);
    this.u = u;
    this.v = v;
  }

  private push(u: number, v: number): void {
    const { origin, way } = this;
    this.coords.push(origin.x + u * way.x - v * way.y, origin.y + u * way.y + v * way.x);
  }
}
