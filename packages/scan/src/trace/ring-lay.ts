import { distance } from '@okuri/core/inside';
import { breakClosed, breakOpen, type Chain, fitBetween, type Joint, keepsTo, MOST_TURN } from './ring-breaks.js';
import type { RingCorner } from './ring-corners.js';
import { type FittedOutline, settleStraights } from './ring-outline.js';
import { pieceOf, type SmoothPiece, stretchBetween } from './ring-pieces.js';
import type { RingSamples } from './ring-samples.js';
import { findStraights, type StraightRun, takenBack, wholeStraight } from './ring-straights.js';

export interface LayOptions {
  readonly noisePx: number;
  readonly tolerancePx: number;
}

/** A straight run that begins or ends this near to the samples that a corner's blur has moved goes on to the corner. */
const TO_CORNER = 5;

/** How far a straight run may go on, as multiples of what was taken back at its end. */
const ON = [0, 0.4, 0.8, 1.2, 1.6];
/** A curve of fewer samples is left as it is. */
const LEAST_ARC = 4;

/** A first outline of a ring: straight runs, and between them and the corners the fewest cubics. */
export function layOutline(ring: RingSamples, corners: readonly RingCorner[], options: LayOptions): FittedOutline {
  const outline: FittedOutline = { nodes: [], links: [] };
  if (corners.length === 0) layRound(outline, ring, options);
  for (let k = 0; k < corners.length; k++) {
    layStretch(outline, ring, corners[k], corners[(k + 1) % corners.length], options);
  }
  // Every corner knows how it goes out; how it comes in is for its stretch before to say.
  let k = 0;
  for (const { before } of corners) {
    while (!outline.nodes[k].corner) k++;
    const node = outline.nodes[k++];
    const angleIn = Math.atan2(before.y, before.x);
    node.angleIn = angleIn;
    if (node.sure) node.sure = { ...node.sure, angleIn };
  }
  settleStraights(outline);
  return outline;
}

function layStretch(
  outline: FittedOutline,
  ring: RingSamples,
  a: RingCorner,
  b: RingCorner,
  options: LayOptions,
): void {
  const { first, count } = stretchBetween(a, b, ring.count);
  const piece = pieceOf(ring, first, count, options);
  const start = cornerJoint(a, a.after, -Math.ceil(a.gap));
  const end = cornerJoint(b, b.before, count - 1 + Math.ceil(b.gap));
  if (wholeStraight(piece, options)) {
    addStraight(outline, start, end, piece);
    return;
  }
  const runs = findStraights(piece, options);
  const spans = runs.map((run, k): Span => {
    const [from, to] = runEnds(piece, run);
    return {
      from: k === 0 && run.seenFrom < TO_CORNER ? start : from,
      to: k === runs.length - 1 && run.seenTo > count - 1 - TO_CORNER ? end : to,
    };
  });
  // A curve before each run and one after the last, but where a run goes on to the corner.
  const curves = Array.from({ length: spans.length + 1 }, (_, k): Chain | null => {
    const from = k > 0 ? spans[k - 1].to : start;
    const to = k < spans.length ? spans[k].from : end;
    if (from === end || to === start) return null;
    const curve = curveBetween(piece, from, to, options);
    if (k > 0) spans[k - 1].to = curve.joints[0];
    if (k < spans.length) spans[k].from = curve.joints.at(-1)!;
    return curve;
  });
  curves.forEach((curve, k) => {
    if (curve) addChain(outline, curve, piece);
    if (k < spans.length) addStraight(outline, spans[k].from, spans[k].to, piece);
  });
}

/** A ring without corners. */
function layRound(outline: FittedOutline, ring: RingSamples, options: LayOptions): void {
  const n = ring.count;
  const laps = pieceOf(ring, 0, 2 * n + (n >> 1) + 1, options);
  const runs = findStraights(laps, options);
  // Runs of the first half lap may have begun before the samples do.
  const lap = runs.filter(({ from }) => from >= n / 2 && from < n / 2 + n);
  if (lap.length === 0) {
    addChain(outline, breakClosed(laps, n, options), laps, n);
    return;
  }
  const room = n >> 2;
  const shift = lap[0].from - room;
  const piece = pieceOf(ring, shift, n + 2 * room, options);
  const spans = lap.map(({ from, to, line }): Span => {
    const [p, q] = runEnds(piece, { from: from - shift, to: Math.min(n + room - 1, to - shift), line });
    return { from: p, to: q };
  });
  const curves = spans.map((span, k) => {
    const lapped = k + 1 === spans.length ? n : 0;
    const next = spans[(k + 1) % spans.length];
    const curve = curveBetween(piece, span.to, later(next.from, lapped), options);
    span.to = curve.joints[0];
    next.from = later(curve.joints.at(-1)!, -lapped);
    return curve;
  });
  spans.forEach((span, k) => {
    addStraight(outline, span.from, span.to, piece);
    addChain(outline, curves[k], piece);
  });
}

function later(joint: Joint, entries: number): Joint {
  return { ...joint, entry: joint.entry + entries };
}

/** A straight run between two joints. */
interface Span {
  from: Joint;
  to: Joint;
}

/**
 * The cubics between two straight runs or corners. Where an arc begins does not show at once; if a single cubic will do once one or both runs go on a little, they do.
 */
function curveBetween(piece: SmoothPiece, from: Joint, to: Joint, options: LayOptions): Chain {
  const back = takenBack(options);
  let best: { chain: Chain; worst: number } | null = null;
  const [before, after] = [from.free ? [0] : ON, to.free ? [0] : ON];
  for (const f of before) {
    for (const t of after) {
      const [p, q] = [slid(from, Math.round(f * back)), slid(to, -Math.round(t * back))];
      if (q.entry - p.entry < LEAST_ARC || turnBetween(p, q) > MOST_TURN) continue;
      const link = fitBetween(piece, p, q);
      if (!keepsTo(link, options) || (best && link.rms >= best.worst)) continue;
      best = { chain: { joints: [p, q], links: [link] }, worst: link.rms };
    }
  }
  return best ? best.chain : breakOpen(piece, from, to, options);
}

/** A joint moved along its way of travel by so many samples. */
function slid(joint: Joint, by: number): Joint {
  const { entry, x, y, angle } = joint;
  return by === 0 ? joint : { entry: entry + by, x: x + by * Math.cos(angle), y: y + by * Math.sin(angle), angle };
}

function turnBetween(p: Joint, q: Joint): number {
  return Math.abs(Math.atan2(Math.sin(q.angle - p.angle), Math.cos(q.angle - p.angle)));
}

function cornerJoint({ at, spread, slope }: RingCorner, way: { x: number; y: number }, entry: number): Joint {
  return { entry, x: at.x, y: at.y, angle: Math.atan2(way.y, way.x), free: { spread, slope } };
}

/** The ends of a run, on its line. */
function runEnds({ x, y }: SmoothPiece, { from, to, line }: Pick<StraightRun, 'from' | 'to' | 'line'>): [Joint, Joint] {
  const angle = Math.atan2(line.uy, line.ux);
  const at = (entry: number): Joint => {
    const along = (x[entry] - line.x) * line.ux + (y[entry] - line.y) * line.uy;
    return { entry, x: line.x + along * line.ux, y: line.y + along * line.uy, angle };
  };
  return [at(from), at(to)];
}

function addStraight(outline: FittedOutline, p: Joint, q: Joint, piece: SmoothPiece): void {
  const third = distance(q, p) / 3;
  const link = { a: third, b: third, angle0: p.angle, angle1: q.angle, worst: 0, rms: 0 };
  addLinks(outline, { joints: [p, q], links: [link] }, piece, true, 0);
}

function addChain(outline: FittedOutline, chain: Chain, piece: SmoothPiece, lap = 0): void {
  addLinks(outline, chain, piece, false, lap);
}

/** `lap`: samples once around, where the chain leads back to its beginning. */
function addLinks(
  outline: FittedOutline,
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
      sure: free ? { x, y, angleIn: p.angle, angleOut: p.angle, ...free } : null,
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
