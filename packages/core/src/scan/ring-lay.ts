import { breakClosed, breakOpen, type Chain, type Joint } from './ring-breaks.js';
import type { RingCorner } from './ring-corners.js';
import { type Outline, settleStraights } from './ring-outline.js';
import { pieceOf, type SmoothPiece, stretchBetween } from './ring-pieces.js';
import type { RingSamples } from './ring-samples.js';
import { findStraights, type StraightRun, wholeStraight } from './ring-straights.js';

export interface LayOptions {
  readonly noisePx: number;
  readonly tolerancePx: number;
}

/** A straight run that begins or ends this near to the samples that a corner's blur has moved goes on to the corner. */
const TO_CORNER = 5;

/** A first outline of a ring: straight runs, and between them and the corners the fewest cubics. */
export function layOutline(ring: RingSamples, corners: readonly RingCorner[], options: LayOptions): Outline {
  const outline: Outline = { nodes: [], links: [] };
  if (corners.length === 0) layRound(outline, ring, options);
  for (let k = 0; k < corners.length; k++) {
    layStretch(outline, ring, corners[k], corners[(k + 1) % corners.length], options);
  }
  // Every corner knows how it goes out; how it comes in is for its stretch before to say.
  let k = 0;
  for (const { before } of corners) {
    while (!outline.nodes[k].corner) k++;
    outline.nodes[k++].angleIn = Math.atan2(before.y, before.x);
  }
  settleStraights(outline);
  return outline;
}

function layStretch(outline: Outline, ring: RingSamples, a: RingCorner, b: RingCorner, options: LayOptions): void {
  const { first, count } = stretchBetween(a, b, ring.count);
  const piece = pieceOf(ring, first, count, options);
  const start = cornerJoint(a, a.after, -Math.ceil(a.gap));
  const end = cornerJoint(b, b.before, count - 1 + Math.ceil(b.gap));
  if (wholeStraight(piece, options)) {
    addStraight(outline, start, end, piece);
    return;
  }
  const runs = findStraights(piece, options);
  let at = start;
  for (const run of runs) {
    const [from, to] = runEnds(run);
    if (at === start && run.from < TO_CORNER) {
      const stop = run.to > count - 1 - TO_CORNER ? end : to;
      addStraight(outline, start, stop, piece);
      at = stop;
      continue;
    }
    addChain(outline, breakOpen(piece, at, from, options), piece);
    at = run.to > count - 1 - TO_CORNER ? end : to;
    addStraight(outline, from, at, piece);
  }
  if (at !== end) addChain(outline, breakOpen(piece, at, end, options), piece);
}

/** A ring without corners. */
function layRound(outline: Outline, ring: RingSamples, options: LayOptions): void {
  const n = ring.count;
  const twice = pieceOf(ring, 0, 2 * n, options);
  const runs = findStraights(twice, options);
  // A run that begins at the very start may have begun before.
  const first = runs.find(({ from }) => from > 0 && from < n);
  if (!first) {
    addChain(outline, breakClosed(twice, options), twice, n);
    return;
  }
  const lap = runs.filter(({ from }) => from >= first.from && from < first.from + n);
  const piece = pieceOf(ring, first.from, n + 1, options);
  const moved = lap.map(({ from, to, line }) => ({ from: from - first.from, to: Math.min(n, to - first.from), line }));
  moved.forEach((run, k) => {
    const [from, to] = runEnds(run);
    addStraight(outline, from, to, piece);
    const next = k + 1 < moved.length ? runEnds(moved[k + 1])[0] : { ...runEnds(moved[0])[0], entry: n };
    addChain(outline, breakOpen(piece, to, next, options), piece);
  });
}

function cornerJoint({ at, spread, slope }: RingCorner, way: { x: number; y: number }, entry: number): Joint {
  return { entry, x: at.x, y: at.y, angle: Math.atan2(way.y, way.x), free: { spread, slope } };
}

function runEnds({ from, to, line }: StraightRun): [Joint, Joint] {
  const angle = Math.atan2(line.uy, line.ux);
  const middle = (from + to) / 2;
  const at = (entry: number): Joint => ({
    entry,
    x: line.x + (entry - middle) * line.ux,
    y: line.y + (entry - middle) * line.uy,
    angle,
  });
  return [at(from), at(to)];
}

function addStraight(outline: Outline, p: Joint, q: Joint, piece: SmoothPiece): void {
  const third = Math.hypot(q.x - p.x, q.y - p.y) / 3;
  const link = { a: third, b: third, angle0: p.angle, angle1: q.angle, worst: 0, rms: 0 };
  addLinks(outline, { joints: [p, q], links: [link] }, piece, true, 0);
}

function addChain(outline: Outline, chain: Chain, piece: SmoothPiece, lap = 0): void {
  addLinks(outline, chain, piece, false, lap);
}

/** `lap`: samples once around, where the chain leads back to its beginning. */
function addLinks(
  outline: Outline,
  { joints, links }: Chain,
  piece: SmoothPiece,
  straight: boolean,
  lap: number,
): void {
  links.forEach(({ a, b, angle0 }, k) => {
    const p = joints[k];
    const q = joints[(k + 1) % joints.length];
    const { x, y, free } = p;
    outline.nodes.push({
      x,
      y,
      corner: free !== undefined,
      angleIn: p.angle,
      angleOut: angle0,
      sure: free ? { x, y, ...free } : null,
    });
    const end = q.entry + (k + 1 === joints.length ? lap : 0);
    const last = lap > 0 ? end : piece.count - 1;
    outline.links.push({
      straight,
      a,
      b,
      from: piece.first + p.entry,
      to: piece.first + end,
      skipFrom: Math.max(0, -p.entry),
      skipTo: Math.max(0, end - last),
    });
  });
}
