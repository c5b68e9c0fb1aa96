import { distance } from '@okuri/core/inside';
import { type BreakOptions, keepsTo, MOST_TURN } from './ring-breaks.js';
import { type CubicEnd, type CubicFit, cubicMisfit, fitCubic } from './ring-cubic.js';
import type { FittedOutline, OutlineLink, OutlineNode } from './ring-outline.js';
import { pieceOf } from './ring-pieces.js';
import { polishOutline } from './ring-polish.js';
import type { RingSamples } from './ring-samples.js';

/** Rounds of leaving out joints; most rings need one or two. */
const ROUNDS = 6;
/** From so many nodes on a polish after joints were left out takes so many rounds at most: nearly all of them are in their places already, and each round goes over all. */
const MANY = 60;
const AGAIN = 4;
/** How far ends may move when a joint between them is left out: they are polished again. px and radians. */
const GIVE = { spread: 0.1, slope: 0.02 };

/** The outline polished, and the joints left out that it does without: once all its joints are in their places longer cubics fit than could be seen before. */
export function refineOutline(first: FittedOutline, ring: RingSamples, options: BreakOptions): FittedOutline {
  let outline = polishOutline(first, ring, options);
  // Joints that have proved to be needed, by their place along the ring.
  const needed = new Set<number>();
  for (let round = 0; round < ROUNDS; round++) {
    const gone = joinable(outline, ring, needed, options);
    if (gone.size === 0) break;
    const rest = without(outline, gone);
    const fewer = polishOutline(rest, ring, rest.nodes.length < MANY ? options : { ...options, rounds: AGAIN });
    const torn = tornJoints(outline, gone, fewer, ring, options);
    if (torn.length === 0) outline = fewer;
    for (const at of torn) needed.add(at);
  }
  return outline;
}

/** The joints that can go, with the cubics that then stand for both beside them; no two of them next to one another. */
function joinable(outline: FittedOutline, ring: RingSamples, needed: ReadonlySet<number>, options: BreakOptions) {
  const { nodes, links } = outline;
  const n = nodes.length;
  // A ring keeps four nodes, or it could not stay round.
  let spare = nodes.some(({ corner }) => corner) || links.some(({ straight }) => straight) ? n : n - 4;
  const merges: { node: number; fit: CubicFit }[] = [];
  for (let k = 0; k < n && spare > 0; k++) {
    const fit = needed.has(links[k].from) ? null : mergedAt(outline, k, ring, options);
    if (fit) merges.push({ node: k, fit });
  }
  merges.sort((a, b) => a.fit.worst - b.fit.worst || a.node - b.node);
  const taken = new Set<number>();
  const gone = new Map<number, CubicFit>();
  for (const { node, fit } of merges) {
    const before = (node + n - 1) % n;
    if (spare <= 0 || taken.has(before) || taken.has(node)) continue;
    taken.add(before).add(node);
    gone.set(node, fit);
    spare--;
  }
  return gone;
}

function without({ nodes, links }: FittedOutline, gone: ReadonlyMap<number, CubicFit>): FittedOutline {
  const n = nodes.length;
  const kept: FittedOutline = { nodes: [], links: [] };
  for (let k = 0; k < n; k++) {
    if (gone.has(k)) continue;
    const next = (k + 1) % n;
    const fit = gone.get(next);
    kept.nodes.push(nodes[k]);
    if (!fit) kept.links.push(links[k]);
    else {
      const { from, skipFrom } = links[k];
      const to = from + spanOf(links[k]) + spanOf(links[next]);
      kept.links.push({ straight: false, a: fit.a, b: fit.b, from, to, skipFrom, skipTo: links[next].skipTo });
    }
  }
  return kept;
}

/** Places of the left-out joints whose cubics, polished, don't keep to the samples. */
function tornJoints(
  before: FittedOutline,
  gone: ReadonlyMap<number, CubicFit>,
  after: FittedOutline,
  ring: RingSamples,
  options: BreakOptions,
): number[] {
  const n = before.nodes.length;
  const byStart = new Map([...gone.keys()].map((k) => [before.links[(k + n - 1) % n].from, before.links[k].from]));
  const torn: number[] = [];
  after.links.forEach((link, k) => {
    const joint = byStart.get(link.from);
    if (joint === undefined || link.straight) return;
    const [p, q] = [after.nodes[k], after.nodes[(k + 1) % after.nodes.length]];
    const { piece, from, to } = samplesOf(link, ring, options);
    const misfit = cubicMisfit(
      { ...p, angle: p.angleOut },
      { ...q, angle: q.angleIn },
      link,
      piece.smoothX,
      piece.smoothY,
      {
        from,
        to,
      },
    );
    if (!keepsTo(misfit, options)) torn.push(joint);
  });
  return torn;
}

/** The samples that a link runs past, and where among them it begins and ends. */
function samplesOf(
  { from, to, skipFrom, skipTo }: Omit<OutlineLink, 'straight' | 'a' | 'b'>,
  ring: RingSamples,
  options: BreakOptions,
) {
  const first = Math.ceil(from + skipFrom);
  const last = Math.floor(to - skipTo);
  const piece = pieceOf(ring, first, Math.max(1, last - first + 1), options);
  return { piece, from: from - first, to: to - first };
}

function spanOf({ from, to }: { from: number; to: number }): number {
  return to - from;
}

/** The cubic that could stand for both beside a joint; null where one must stay. */
function mergedAt(
  { nodes, links }: FittedOutline,
  k: number,
  ring: RingSamples,
  options: BreakOptions,
): CubicFit | null {
  const n = nodes.length;
  const before = (k + n - 1) % n;
  const [one, two] = [links[before], links[k]];
  const [p, q] = [nodes[before], nodes[(k + 1) % n]];
  if (nodes[k].corner || one.straight || two.straight || n < 3) return null;
  if (turnOf(p, nodes[k]) + turnOf(nodes[k], q) > MOST_TURN) return null;
  const span = spanOf(one) + spanOf(two);
  const both = { from: one.from, to: one.from + span, skipFrom: one.skipFrom, skipTo: two.skipTo };
  const { piece, from, to } = samplesOf(both, ring, options);
  const length = Math.max(span, distance(q, p));
  const fit = fitCubic(endOf(p, p.angleOut), endOf(q, q.angleIn), piece.smoothX, piece.smoothY, { from, to, length });
  return keepsTo(fit, options) ? fit : null;
}

function endOf({ x, y }: OutlineNode, angle: number): CubicEnd {
  return { x, y, angle, free: GIVE };
}

function turnOf(p: OutlineNode, q: OutlineNode): number {
  const turn = q.angleIn - p.angleOut;
  return Math.abs(Math.atan2(Math.sin(turn), Math.cos(turn)));
}
