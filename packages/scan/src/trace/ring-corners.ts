import type { Point } from '@okuri/core';
import type { RingSamples } from './ring-samples.js';
import { angleBetween, crossSides, GAP, LEAST_SIDE, sideOf } from './ring-sides.js';

/** A true corner of the drawing, of which the scan shows a rounded one. Lengths in px, places along the ring in samples. */
export interface RingCorner {
  /** Sample nearest to the corner. */
  readonly index: number;
  /** Where both sides meet when they are carried on past the blur. */
  readonly at: Point;
  /** Unit vector along the ring as it comes in, and as it goes out. */
  readonly before: Point;
  readonly after: Point;
  /** Samples on either side that the blur has moved. */
  readonly gap: number;
  /** Standard deviations of the place (px) and of the ways of travel (radians). */
  readonly spread: number;
  readonly slope: number;
}

export interface CornerOptions {
  /** Standard deviation of the points, px. */
  readonly noisePx: number;
  /** Standard deviation of the picture's blur, px. */
  readonly blurPx: number;
  /** Bends that turn less are no corners, degrees. */
  readonly cornerDeg: number;
}

/** A sharp tip is blurred farther along its sides: by this over the sine of half the angle between them, samples. */
const TIP_GAP = 1.1;
const MOST_GAP = 9;
/**
 * How wide a corner may be rounded, px: an arc of radius r that turns by a is `r · tan(a/4)` wide in this measure, a corner blurred by a spread s about 0.8 s, and up to half as much
 * again as it lies on the pixels. Wider ones were round in the drawing.
 */
const ROUNDED_TIMES = 1.15;
const ROUNDED_PX = 0.2;
/** Spread that pixels themselves give a picture without any blur, px. */
const PIXEL_SPREAD = 0.5;
/** Sides may bend the same way as their corner by this many times its turn. */
const BESIDE = 1.5;
/** A corner lies no farther beyond the ring than this, px, or this share of the way to the next bend: short sides say little of where they would meet, or letters grow spikes. */
const CARRIED_PX = 2;
const CARRIED_SHARE = 0.4;
/** By so many standard deviations of the crossing a corner may be cut more. */
const SLACK = 0.8;
/** A corner turns more than the least by so many standard deviations of its turn: noise must not break a smooth line. */
const SURE = 2.5;
/** This share of a corner's turn lies within its blur; along a rounded corner it is spread more. */
const WITHIN = 0.6;
/** Tips that turn more have sides so nearly parallel that their crossing says nothing. */
const MOST_TURN_DEG = 166;
/** Samples on each side that show the bend at a place. */
const REACH = 3;
/** Before any corner is known, sides end at bends that turn more than this, radians (52°): only corners at the end of a stroke lie so near to one another that it matters. */
const BLOCK = 0.9;
/** A side of fewer samples, blur and all, is too short to tell a corner that turns less. */
const SHORT_ROOM = 7;
/** A place is looked at if it bends by this share of a corner. */
const WORTH = 0.5;

/**
 * The corners of a ring in order. At every sharp bend a line or a parabola is laid through the samples of either side, the blurred ones left out, and both
 * are carried on to where they cross. It is a corner if they cross at more than `cornerDeg` and if the ring cuts it no more than blur does: along a smooth
 * bend, however tight, the crossing lies farther out.
 */
export function findCorners(ring: RingSamples, options: CornerOptions): RingCorner[] {
  const bends = sharpBends(ring, (options.cornerDeg * WORTH * Math.PI) / 180);
  let corners: RingCorner[] = [];
  let blocks = bends.filter(({ turn }) => Math.abs(turn) > BLOCK);
  // Once more with the sides that reach as far as the next true corner.
  for (let round = 0; round < 3; round++) {
    const found: RingCorner[] = [];
    for (const bend of bends) {
      const corner = cornerAt(ring, bend, blocks, options);
      if (corner) found.push(corner);
    }
    corners = sparse(ring, found);
    const next = corners.map(({ index }) => ({ index, turn: Math.PI }));
    if (next.length === blocks.length) break;
    blocks = next;
  }
  return corners;
}

interface Bend {
  readonly index: number;
  readonly turn: number;
}

function sharpBends({ count, x, y }: RingSamples, least: number): Bend[] {
  const turn = new Float64Array(count);
  const at = (i: number) => ((i % count) + count) % count;
  for (let i = 0; i < count; i++) {
    const [a, b, c, d] = [at(i - REACH), at(i - REACH + 1), at(i - 1), i];
    const [e, f, g, h] = [i, at(i + 1), at(i + REACH - 1), at(i + REACH)];
    turn[i] = angleBetween(
      x[c] + x[d] - x[a] - x[b],
      y[c] + y[d] - y[a] - y[b],
      x[g] + x[h] - x[e] - x[f],
      y[g] + y[h] - y[e] - y[f],
    );
  }
  const bends: Bend[] = [];
  for (let i = 0; i < count; i++) {
    const size = Math.abs(turn[i]);
    if (size < least) continue;
    let top = true;
    for (let k = 1; k <= 2 && top; k++) {
      top = size >= Math.abs(turn[at(i - k)]) && size > Math.abs(turn[at(i + k)]);
    }
    if (top) bends.push({ index: i, turn: turn[i] });
  }
  return bends;
}

function cornerAt(
  ring: RingSamples,
  bend: Bend,
  blocks: readonly Bend[],
  { noisePx, blurPx, cornerDeg }: CornerOptions,
): RingCorner | null {
  const { count } = ring;
  const rounded = ROUNDED_PX + ROUNDED_TIMES * Math.hypot(PIXEL_SPREAD, blurPx);
  let roomBefore = count / 2;
  let roomAfter = count / 2;
  for (const { index } of blocks) {
    if (index === bend.index) continue;
    const ahead = (((index - bend.index) % count) + count) % count;
    if (ahead <= GAP || count - ahead <= GAP) continue;
    roomAfter = Math.min(roomAfter, ahead);
    roomBefore = Math.min(roomBefore, count - ahead);
  }
  if (Math.min(roomBefore, roomAfter) < SHORT_ROOM && Math.abs(bend.turn) < BLOCK) return null;
  let gap = GAP;
  for (let round = 0; ; round++) {
    const before = sideOf(ring, bend.index, -1, gap, roomBefore, noisePx);
    const after = sideOf(ring, bend.index, 1, gap, roomAfter, noisePx);
    if (!before || !after) return null;
    const crossing = crossSides(before, after, { x: ring.x[bend.index], y: ring.y[bend.index] });
    if (!crossing) return null;
    const turn = Math.abs(angleBetween(-before.dx, -before.dy, after.dx, after.dy));
    const wanted = Math.min(MOST_GAP, Math.max(GAP, TIP_GAP / Math.cos(turn / 2)));
    const room = Math.min(roomBefore, roomAfter) - GAP - LEAST_SIDE - 1;
    if (round === 0 && wanted > gap && room > gap) {
      gap = Math.min(wanted, room);
      continue;
    }
    if (turn > (MOST_TURN_DEG * Math.PI) / 180) return null;
    // An arc bends as much beside the place as at it.
    const sense = Math.sign(before.dy * after.dx - before.dx * after.dy);
    const beside = Math.max(0, sense * before.bend) + Math.max(0, sense * after.bend);
    if (beside > BESIDE * turn || Math.abs(bend.turn) + noisePx < WITHIN * turn) return null;
    const slack = SLACK * Math.max(before.spread, after.spread);
    if (turn < (cornerDeg * Math.PI) / 180 + Math.atan(SURE * Math.hypot(before.slope, after.slope))) return null;
    const cut = distanceTo(ring, bend.index, gap, crossing);
    if (cut > rounded * Math.tan(turn / 2) + slack) return null;
    if (cut > Math.max(CARRIED_PX, CARRIED_SHARE * Math.min(roomBefore, roomAfter))) return null;
    return {
      index: nearestSample(ring, bend.index, gap, crossing),
      at: { x: crossing.x, y: crossing.y },
      before: { x: -before.dx, y: -before.dy },
      after: { x: after.dx, y: after.dy },
      gap,
      spread: Math.max(before.spread, after.spread),
      slope: Math.max(before.slope, after.slope),
    };
  }
}

function distanceTo({ count, x, y }: RingSamples, index: number, gap: number, p: Point): number {
  let best = Infinity;
  for (let k = -Math.ceil(gap) - 1; k <= gap; k++) {
    const i = (((index + k) % count) + count) % count;
    const j = (i + 1) % count;
    const dx = x[j] - x[i];
    const dy = y[j] - y[i];
    const t = Math.max(0, Math.min(1, ((p.x - x[i]) * dx + (p.y - y[i]) * dy) / (dx * dx + dy * dy || 1)));
    best = Math.min(best, Math.hypot(x[i] + t * dx - p.x, y[i] + t * dy - p.y));
  }
  return best;
}

function nearestSample({ count, x, y }: RingSamples, index: number, gap: number, p: Point): number {
  let best = index;
  let least = Infinity;
  for (let k = -Math.ceil(gap); k <= gap; k++) {
    const i = (((index + k) % count) + count) % count;
    const d = Math.hypot(x[i] - p.x, y[i] - p.y);
    if (d < least) {
      least = d;
      best = i;
    }
  }
  return best;
}

/** Of corners that stand within each other's blur the one that turns most. */
function sparse({ count }: RingSamples, corners: RingCorner[]): RingCorner[] {
  const turn = (c: RingCorner) => Math.abs(angleBetween(c.before.x, c.before.y, c.after.x, c.after.y));
  const byTurn = [...corners].sort((a, b) => turn(b) - turn(a) || a.index - b.index);
  const taken = new Map<number, RingCorner>();
  const kept: RingCorner[] = [];
  for (const corner of byTurn) {
    let free = true;
    for (let k = -GAP; k <= GAP && free; k++) free = !taken.has((((corner.index + k) % count) + count) % count);
    if (!free) continue;
    taken.set(corner.index, corner);
    kept.push(corner);
  }
  return kept.sort((a, b) => a.index - b.index);
}
