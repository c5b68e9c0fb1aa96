import { distance } from '@okuri/core/inside';
import { type CubicEnd, type CubicFit, fitCubic } from './ring-cubic.js';
import { type LocalShape, localShape } from './ring-local.js';
import type { SmoothPiece } from './ring-pieces.js';

/** A joint between cubics or an end of the stretch: place (px) and way of travel (radians). */
export interface Joint extends CubicEnd {
  /** Entry of the piece at which it stands. */
  readonly entry: number;
}

/** A cubic between two joints that follow on one another. */
export interface Link {
  readonly a: number;
  readonly b: number;
  /** Ways of travel at its ends: those of the joints but at a free end. */
  readonly angle0: number;
  readonly angle1: number;
  readonly worst: number;
  readonly rms: number;
}

export interface Chain {
  /** One more than links in an open chain; in a closed one the last link leads back to joint 0. */
  readonly joints: readonly Joint[];
  readonly links: readonly Link[];
}

export interface BreakOptions {
  readonly noisePx: number;
  readonly tolerancePx: number;
}

/** Between neighbouring places at which a curve may be divided: so much turn (radians), and no more than so many samples. */
const TURN_STEP = 0.17;
const MOST_STEP = 36;
/** Most samples from one look at the shape to the next. */
const STEP = 12;
/** One cubic turns no more than this, radians (115°): four make a circle, not three, and even handles stay good. */
export const MOST_TURN = 2;
/** What a cubic costs for lying off, beside 1 for being there: this at the tolerance. */
const OFF_COST = 0.4;
/** What noise adds to the tolerance, in its standard deviations: for the worst sample, and for the mean square. */
const WORST_NOISE = 1.6;
const MEAN_NOISE = 0.7;
/** The root of the mean square stays under this share of the tolerance. */
const MEAN_SHARE = 0.6;
/** A cubic beyond the tolerance costs this and more: taken only where nothing else leads on. */
const BEYOND_COST = 20;
/** Where no cubic joins two neighbouring places one more is put between them, so many times, down to so many samples; their shape is looked at closely. */
const DENSER_ROUNDS = 3;
const SHORTEST = 4;
const NARROW = 6;
/** The search for longer cubics ends where one misses by so many tolerances. */
const HOPELESS = 5;

/**
 * Divides a smooth stretch into the fewest cubics within the tolerance: the cheapest chain over all places where it may be divided, by dynamic programming
 * (M. Plass and M. Stone, Curve-fitting with piecewise parametric cubics, SIGGRAPH 1983). Ends keep the given place and angle.
 */
export function breakOpen(piece: SmoothPiece, start: Joint, end: Joint, options: BreakOptions): Chain {
  const inner = divisions(piece, options).filter(({ entry }) => entry > start.entry + 1 && entry < end.entry - 1);
  return denser(piece, [{ ...start, turned: 0 }, ...inner, { ...end, turned: 0 }], options);
}

/** As `breakOpen`, of a ring without corners and `lap` samples once around. `piece` holds it two and a half times: entry i + lap is entry i again. */
export function breakClosed(piece: SmoothPiece, lap: number, options: BreakOptions): Chain {
  // Not from the piece's own ends, where shapes are seen from one side only.
  const begin = lap >> 1;
  const once = divisions(piece, options).filter(({ entry }) => entry >= begin && entry < begin + lap);
  const again = once.map((p) => ({ ...p, entry: p.entry + lap }));
  // A joint of a first chain is a good place to begin the second.
  const first = cheapest(piece, around(once, again, 0), options);
  const middle = first.joints[first.joints.length >> 1];
  const k = Math.max(
    0,
    once.findIndex(({ entry }) => entry === middle.entry),
  );
  const chain = denser(piece, around(once, again, k), options);
  return { joints: chain.joints.slice(0, -1), links: chain.links };
}

/** The cheapest chain, with more places between neighbours that no cubic joins. */
function denser(piece: SmoothPiece, places: readonly Place[], options: BreakOptions): Chain {
  let now = places;
  for (let round = 0; ; round++) {
    settleTurns(now);
    const chain = cheapest(piece, now, options);
    const bad = new Set<number>();
    chain.links.forEach((link, k) => {
      if (!keepsTo(link, options) && span(chain, k) >= 2 * SHORTEST) bad.add(chain.joints[k].entry);
    });
    if (bad.size === 0 || round === DENSER_ROUNDS) return chain;
    now = now.flatMap((p, k) => {
      if (!bad.has(p.entry) || k + 1 >= now.length) return [p];
      const middle = Math.round((p.entry + now[k + 1].entry) / 2);
      if (middle < 0 || middle >= piece.count) return [p];
      const { x, y, angle } = localShape(piece, middle, { noisePx: options.noisePx, near: NARROW });
      return [p, { entry: middle, x, y, angle, turned: 0 }];
    });
  }
}

function span({ joints }: Chain, k: number): number {
  return joints[k + 1].entry - joints[k].entry;
}

interface Place extends Joint {
  /** Turn from the stretch's beginning, radians. */
  turned: number;
}

function around(once: readonly Place[], again: readonly Place[], k: number): Place[] {
  const places = [...once.slice(k), ...again.slice(0, k + 1)].map((p) => ({ ...p }));
  settleTurns(places);
  return places;
}

function settleTurns(places: readonly Place[]): void {
  for (let k = 1; k < places.length; k++) {
    const turn = places[k].angle - places[k - 1].angle;
    places[k].turned = places[k - 1].turned + Math.abs(Math.atan2(Math.sin(turn), Math.cos(turn)));
  }
}

function divisions(piece: SmoothPiece, { noisePx }: BreakOptions): Place[] {
  const places: Place[] = [];
  let last: LocalShape | null = null;
  let lastEntry = 0;
  let near = 0;
  for (let entry = 0; entry < piece.count; ) {
    const shape = localShape(piece, entry, { noisePx, near });
    near = shape.width;
    const turn = last
      ? Math.abs(Math.atan2(Math.sin(shape.angle - last.angle), Math.cos(shape.angle - last.angle)))
      : 9;
    if (turn >= TURN_STEP || entry - lastEntry >= MOST_STEP) {
      places.push({ entry, x: shape.x, y: shape.y, angle: shape.angle, turned: 0 });
      last = shape;
      lastEntry = entry;
    }
    entry += Math.max(1, Math.min(STEP, Math.floor((0.6 * TURN_STEP) / Math.abs(shape.curvature || 1e-9))));
  }
  return places;
}

function cheapest(piece: SmoothPiece, places: readonly Place[], { noisePx, tolerancePx }: BreakOptions): Chain {
  const m = places.length;
  const cost = new Float64Array(m).fill(Infinity);
  const from = new Int32Array(m);
  const linkTo: Link[] = [];
  cost[0] = 0;
  for (let j = 1; j < m; j++) {
    for (let i = j - 1; i >= 0; i--) {
      const near = i === j - 1;
      if (!near && places[j].turned - places[i].turned > MOST_TURN) break;
      if (!near && cost[i] + 1 >= cost[j]) continue;
      const fit = fitBetween(piece, places[i], places[j], near ? Infinity : HOPELESS * (tolerancePx + noisePx));
      const off = fit.rms / tolerancePx;
      let price = 1 + OFF_COST * Math.min(4, off * off);
      if (!keepsTo(fit, { noisePx, tolerancePx })) price = near ? BEYOND_COST + fit.worst : Infinity;
      if (cost[i] + price < cost[j]) {
        cost[j] = cost[i] + price;
        from[j] = i;
        linkTo[j] = fit;
      }
      if (!near && fit.worst > HOPELESS * (tolerancePx + noisePx)) break;
    }
  }
  const joints: Joint[] = [places[m - 1]];
  const links: Link[] = [];
  for (let j = m - 1; j > 0; j = from[j]) {
    links.push(linkTo[j]);
    joints.push(places[from[j]]);
  }
  return { joints: joints.reverse(), links: links.reverse() };
}

/**
 * Whether a cubic lies within the tolerance of its samples. Noise is allowed for: by the worst of some dozen samples, and by their mean square, of which neighbours that err together
 * (blur does that) leave most even when each is smoothed.
 */
export function keepsTo(
  { worst, rms }: Pick<CubicFit, 'worst' | 'rms'>,
  { noisePx, tolerancePx }: BreakOptions,
): boolean {
  return (
    worst <= tolerancePx + WORST_NOISE * noisePx && rms <= Math.hypot(MEAN_SHARE * tolerancePx, MEAN_NOISE * noisePx)
  );
}

/** The cubic between two joints of a stretch. */
export function fitBetween(piece: SmoothPiece, p: Joint, q: Joint, hopelessPx = Infinity): CubicFit {
  const length = Math.max(q.entry - p.entry, distance(q, p));
  return fitCubic(p, q, piece.smoothX, piece.smoothY, { from: p.entry, to: q.entry, length, hopelessPx });
}
