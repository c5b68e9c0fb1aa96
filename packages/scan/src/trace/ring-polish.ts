import { distance } from '@okuri/core/inside';
import { type Layout, layUnknowns, measure } from './ring-equations.js';
import { layPoints } from './ring-feet.js';
import { type FittedOutline, type OutlineLink, type OutlineNode, settleStraights } from './ring-outline.js';
import type { RingSamples } from './ring-samples.js';
import { solveBlocks } from './ring-solve.js';

/** Most rounds of a polish; each ends it that gains less than this share. */
const ROUNDS = 14;
const SETTLED = 5e-3;
/** First damping, and how it is changed after a step that gained and one that did not. */
const DAMPING = 1e-4;
const EASE = 0.2;
const TIGHTEN = 20;
/** Handles stay within these shares of the straight way between their nodes. */
const LEAST_HANDLE = 0.12;
const MOST_HANDLE = 1.1;
/**
 * Nodes stay this near to where they were laid, px, and their ways of travel within this turn, radians: where hardly a point holds them, beside a crack or between two corners, the
 * sum of squares would let them slide away for nothing.
 */
const MOST_AWAY_PX = 1.5;
const MOST_TURNED = 0.5;
/** A corner may move farther: by so many standard deviations of where its sides put it. */
const AWAY_SPREADS = 3;

/**
 * The outline with all its nodes, ways of travel and handles moved so that the points of the ring lie nearest to it: least squares of the distances along the normals, all cubics
 * together, so that joints stay smooth (tangent distance minimisation; damped as in W. Wang, H. Pottmann and Y. Liu, Fitting B-spline curves to point clouds
 * by curvature-based squared distance minimization, ACM TOG 25, 2006). Straight links stay straight, and the curves beside them tangent to them.
 */
export function polishOutline(
  outline: FittedOutline,
  ring: RingSamples,
  { noisePx, rounds = ROUNDS }: { noisePx: number; rounds?: number },
): FittedOutline {
  let best = { nodes: outline.nodes.map((n) => ({ ...n })), links: outline.links.map((l) => ({ ...l })) };
  const layout = layUnknowns(best, noisePx);
  const feet = layPoints(best, ring, noisePx);
  let state = measure(best, layout, feet, ring);
  // Feet are found in steps; here is one more before the first move.
  state = measure(best, layout, feet, ring);
  let damping = DAMPING;
  let failed = false;
  for (let round = 0; round < rounds; round++) {
    const step = solveBlocks(state.blocks, layout.count, damping);
    const next = moved(best, layout, step, outline.nodes);
    const nextFeet = { ...feet, t: feet.t.slice() };
    const after = measure(next, layout, nextFeet, ring);
    if (after.cost < state.cost) {
      const gain = 1 - after.cost / state.cost;
      best = next;
      state = after;
      feet.t.set(nextFeet.t);
      // After a step that failed the damping is right as it is.
      if (!failed) damping *= EASE;
      failed = false;
      if (gain < SETTLED) break;
    } else {
      damping *= TIGHTEN;
      failed = true;
      if (damping > 1e3) break;
    }
  }
  return best;
}

function moved(
  { nodes, links }: FittedOutline,
  layout: Layout,
  step: Float64Array,
  homes: readonly OutlineNode[],
): FittedOutline {
  const n = nodes.length;
  const next: OutlineNode[] = nodes.map((node, k) => {
    const m = layout.place[k];
    const [dx, dy] = layout.across[k]
      ? [-Math.sin(node.angleOut) * step[m], Math.cos(node.angleOut) * step[m]]
      : [step[m], step[m + 1]];
    const home = homes[k];
    const [wayX, wayY] = [node.x + dx - home.x, node.y + dy - home.y];
    const most = MOST_AWAY_PX + AWAY_SPREADS * (home.sure?.spread ?? 0);
    const share = Math.min(1, most / Math.hypot(wayX, wayY));
    return {
      corner: node.corner,
      sure: node.sure,
      x: home.x + share * wayX,
      y: home.y + share * wayY,
      angleIn: layout.angleIn[k] < 0 ? node.angleIn : turned(node.angleIn, step[layout.angleIn[k]], home.angleIn),
      angleOut: layout.angleOut[k] < 0 ? node.angleOut : turned(node.angleOut, step[layout.angleOut[k]], home.angleOut),
    };
  });
  settleStraights({ nodes: next, links });
  const nextLinks: OutlineLink[] = links.map((link, k) => {
    if (link.straight) return link;
    const [p, q] = [next[k], next[(k + 1) % n]];
    const way = distance(q, p);
    const keep = (handle: number) => Math.max(LEAST_HANDLE * way, Math.min(MOST_HANDLE * way, handle));
    const { straight, from, to, skipFrom, skipTo } = link;
    const a = keep(link.a + step[layout.handle[k]]);
    const b = keep(link.b + step[layout.handle[k] + 1]);
    return { straight, a, b, from, to, skipFrom, skipTo };
  });
  return { nodes: next, links: nextLinks };
}

function turned(angle: number, by: number, home: number): number {
  return home + Math.max(-MOST_TURNED, Math.min(MOST_TURNED, angle + by - home));
}
