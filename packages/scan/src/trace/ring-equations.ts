import { distance } from '@okuri/core/inside';
import type { Feet } from './ring-feet.js';
import type { FittedOutline, OutlineNode } from './ring-outline.js';
import type { RingSamples } from './ring-samples.js';
import type { NormalBlock } from './ring-solve.js';

/** A handle of twice an even arc's is as bad as points that lie off by this, px: decides only what the points leave open. */
const PULL_PX = 0.02;
/** Ends of straight links are held back along them by this part of a point's weight: nothing else does, beside another straight link. */
const HOLD = 1e-3;
/** A corner's way of travel is known no better than this from the few samples beside it, which a curve may bend, radians. */
const LEAST_SLOPE = 0.06;
/** Feet of points beyond a joint are looked for this far on the curve's continuation. */
const BEYOND = 0.08;

/**
 * Numbers of the unknowns; -1 for what is none. A joint between two curves moves across the line only: along it it would slide without end, as most curves may be divided
 * anywhere.
 */
export interface Layout {
  readonly count: number;
  /** Of node k: its way across the line, or x and after it y. */
  readonly place: Int32Array;
  readonly across: Uint8Array;
  readonly angleIn: Int32Array;
  readonly angleOut: Int32Array;
  /** Of link k: handle a at `handle[k]`, b after it. */
  readonly handle: Int32Array;
  readonly noisePx: number;
}

/** Numbers the unknowns of an outline. */
export function layUnknowns({ nodes, links }: FittedOutline, noisePx: number): Layout {
  const n = nodes.length;
  const place = new Int32Array(n);
  const across = new Uint8Array(n);
  const angleIn = new Int32Array(n).fill(-1);
  const angleOut = new Int32Array(n).fill(-1);
  const handle = new Int32Array(n).fill(-1);
  let count = 0;
  for (let k = 0; k < n; k++) {
    const straightIn = links[(k + n - 1) % n].straight;
    const straightOut = links[k].straight;
    across[k] = nodes[k].corner || straightIn || straightOut ? 0 : 1;
    place[k] = count;
    count += across[k] ? 1 : 2;
    if (nodes[k].corner) {
      if (!straightIn) angleIn[k] = count++;
      if (!straightOut) angleOut[k] = count++;
    } else if (!straightIn && !straightOut) {
      angleIn[k] = count;
      angleOut[k] = count++;
    }
    if (!straightOut) {
      handle[k] = count;
      count += 2;
    }
  }
  return { count, place, across, angleIn, angleOut, handle, noisePx };
}

export interface Measured {
  readonly cost: number;
  readonly blocks: NormalBlock[];
}

/** The sum of squares and its normal equations; moves the feet. */
export function measure(outline: FittedOutline, layout: Layout, feet: Feet, ring: RingSamples): Measured {
  const blocks: NormalBlock[] = [];
  let cost = 0;
  for (let k = 0; k < outline.links.length; k++) {
    const block = outline.links[k].straight
      ? straightBlock(outline, layout, feet, ring, k)
      : curveBlock(outline, layout, feet, ring, k);
    cost += block.cost;
    blocks.push(block);
    const held = cornerBlock(outline.nodes[k], layout, k);
    if (!held) continue;
    cost += held.cost;
    blocks.push(held);
  }
  return { cost, blocks };
}

/** Holds a corner back to where its sides put it, and its ways of travel: within the blur no point does. */
function cornerBlock({ x, y, angleIn, angleOut, sure }: OutlineNode, layout: Layout, k: number): Sums | null {
  if (!sure) return null;
  const ids = [layout.place[k], layout.place[k] + 1];
  const ways: number[] = [];
  for (const [id, way] of [
    [layout.angleIn[k], sure.angleIn - angleIn],
    [layout.angleOut[k], sure.angleOut - angleOut],
  ]) {
    if (id < 0) continue;
    ids.push(id);
    ways.push(Math.atan2(Math.sin(way), Math.cos(way)));
  }
  const sums = newSums(ids);
  const pull = (layout.noisePx / sure.spread) ** 2;
  pullTo(sums, 0, sure.x - x, pull);
  pullTo(sums, 1, sure.y - y, pull);
  const turn = (layout.noisePx / Math.hypot(sure.slope, LEAST_SLOPE)) ** 2;
  ways.forEach((way, i) => {
    pullTo(sums, 2 + i, way, turn);
  });
  return sums;
}

function straightBlock(
  { nodes }: FittedOutline,
  { place }: Layout,
  { start, order, stride }: Feet,
  ring: RingSamples,
  k: number,
) {
  const j = (k + 1) % nodes.length;
  const [p, q] = [nodes[k], nodes[j]];
  const len = distance(q, p) || 1;
  const ux = (q.x - p.x) / len;
  const uy = (q.y - p.y) / len;
  const sums = newSums([place[k], place[k] + 1, place[j], place[j] + 1]);
  const row = new Float64Array(4);
  for (let m = start[k]; m < start[k + 1]; m++) {
    const i = order[m];
    const dx = ring.pointX[i] - p.x;
    const dy = ring.pointY[i] - p.y;
    const t = (dx * ux + dy * uy) / len;
    row[0] = -uy * (1 - t);
    row[1] = ux * (1 - t);
    row[2] = -uy * t;
    row[3] = ux * t;
    addRow(sums, row, dy * ux - dx * uy, ring.weight[i] * stride[k]);
  }
  pullAlong(sums, 0, ux, uy, HOLD);
  pullAlong(sums, 2, ux, uy, HOLD);
  return mirrored(sums);
}

/** Kept whole: it runs for every piece in every round, and its sums share their values. */
function curveBlock(outline: FittedOutline, layout: Layout, feet: Feet, ring: RingSamples, k: number) {
  const { nodes, links } = outline;
  const n = nodes.length;
  const j = (k + 1) % n;
  const [p, q] = [nodes[k], nodes[j]];
  const { a, b } = links[k];
  const { place, handle } = layout;
  const ids = [handle[k], handle[k] + 1];
  const slide0 = layout.across[k] === 1;
  const slide1 = layout.across[j] === 1;
  const at0 = ids.length;
  ids.push(place[k]);
  if (!slide0) ids.push(place[k] + 1);
  const at1 = ids.length;
  ids.push(place[j]);
  if (!slide1) ids.push(place[j] + 1);
  // The way of travel at either end: an unknown of its own, or given by the straight link beyond.
  const before = layout.angleOut[k] < 0 ? (k + n - 1) % n : -1;
  const after = layout.angleIn[j] < 0 ? (j + 1) % n : -1;
  const atStart = ids.length;
  if (before < 0) ids.push(layout.angleOut[k]);
  else ids.push(place[before], place[before] + 1);
  const atEnd = ids.length;
  if (after < 0) ids.push(layout.angleIn[j]);
  else ids.push(place[after], place[after] + 1);
  const lenBefore = before < 0 ? 1 : distance(p, nodes[before]) || 1;
  const lenAfter = after < 0 ? 1 : distance(nodes[after], q) || 1;
  const ux0 = Math.cos(p.angleOut);
  const uy0 = Math.sin(p.angleOut);
  const ux1 = Math.cos(q.angleIn);
  const uy1 = Math.sin(q.angleIn);
  const sums = newSums(ids);
  const row = new Float64Array(ids.length);
  const cx = 3 * a * ux0;
  const cy = 3 * a * uy0;
  const ex = q.x - p.x;
  const ey = q.y - p.y;
  const hx = 3 * b * ux1;
  const hy = 3 * b * uy1;
  const px = 3 * ex - 2 * cx - hx;
  const py = 3 * ey - 2 * cy - hy;
  const qx = cx + hx - 2 * ex;
  const qy = cy + hy - 2 * ey;
  for (let m = feet.start[k]; m < feet.start[k + 1]; m++) {
    const i = feet.order[m];
    const wx = ring.pointX[i] - p.x;
    const wy = ring.pointY[i] - p.y;
    let t = feet.t[m];
    let dx = 0;
    let dy = 0;
    let rx = 0;
    let ry = 0;
    for (let pass = 0; pass < 2; pass++) {
      dx = cx + t * (2 * px + 3 * t * qx);
      dy = cy + t * (2 * py + 3 * t * qy);
      rx = wx - t * (cx + t * (px + t * qx));
      ry = wy - t * (cy + t * (py + t * qy));
      if (pass === 1) break;
      const speed = dx * dx + dy * dy - (rx * (2 * px + 6 * t * qx) + ry * (2 * py + 6 * t * qy));
      if (!(speed > 0)) break;
      const move = Math.max(-0.2, Math.min(0.2, (rx * dx + ry * dy) / speed));
      t = Math.max(-BEYOND, Math.min(1 + BEYOND, t + move));
    }
    feet.t[m] = t;
    const len = Math.sqrt(dx * dx + dy * dy) || 1;
    const nx = -dy / len;
    const ny = dx / len;
    const u = 1 - t;
    const b1 = 3 * u * u * t;
    const b2 = 3 * u * t * t;
    const w0 = u * u * u + b1;
    const w1 = t * t * t + b2;
    row[0] = b1 * (nx * ux0 + ny * uy0);
    row[1] = -b2 * (nx * ux1 + ny * uy1);
    if (slide0) row[at0] = w0 * (ny * ux0 - nx * uy0);
    else {
      row[at0] = w0 * nx;
      row[at0 + 1] = w0 * ny;
    }
    if (slide1) row[at1] = w1 * (ny * ux1 - nx * uy1);
    else {
      row[at1] = w1 * nx;
      row[at1 + 1] = w1 * ny;
    }
    const turn0 = b1 * a * (ny * ux0 - nx * uy0);
    const turn1 = -b2 * b * (ny * ux1 - nx * uy1);
    if (before < 0) row[atStart] = turn0;
    else {
      const f = turn0 / lenBefore;
      row[at0] -= f * uy0;
      row[at0 + 1] += f * ux0;
      row[atStart] = f * uy0;
      row[atStart + 1] = -f * ux0;
    }
    if (after < 0) row[atEnd] = turn1;
    else {
      const f = turn1 / lenAfter;
      row[at1] += f * uy1;
      row[at1 + 1] -= f * ux1;
      row[atEnd] = -f * uy1;
      row[atEnd + 1] = f * ux1;
    }
    addRow(sums, row, nx * rx + ny * ry, ring.weight[i] * feet.stride[k]);
  }
  // The handles of an arc that turns as much.
  const turn = Math.min(Math.PI, Math.abs(Math.atan2(ux0 * uy1 - uy0 * ux1, ux0 * ux1 + uy0 * uy1)));
  const even = Math.hypot(ex, ey) / (3 * Math.cos(turn / 4) ** 2) || 1;
  const pull = ((feet.start[k + 1] - feet.start[k]) * feet.stride[k] + 1) * (PULL_PX / even) ** 2;
  pullTo(sums, 0, even - a, pull);
  pullTo(sums, 1, even - b, pull);
  return mirrored(sums);
}

interface Sums extends NormalBlock {
  cost: number;
}

function newSums(unknowns: number[]): Sums {
  const n = unknowns.length;
  return { unknowns, matrix: new Float64Array(n * n), right: new Float64Array(n), cost: 0 };
}

function addRow(sums: Sums, row: Float64Array, r: number, weight: number): void {
  const n = row.length;
  const { matrix, right } = sums;
  for (let i = 0; i < n; i++) {
    const f = weight * row[i];
    right[i] += f * r;
    for (let j = i; j < n; j++) matrix[i * n + j] += f * row[j];
  }
  sums.cost += weight * r * r;
}

function mirrored(sums: Sums): Sums {
  const n = sums.unknowns.length;
  for (let i = 1; i < n; i++) for (let j = 0; j < i; j++) sums.matrix[i * n + j] = sums.matrix[j * n + i];
  return sums;
}

/** Holds an unknown back: `way` is how far it is from where it is drawn to. */
function pullTo(sums: Sums, i: number, way: number, pull: number): void {
  sums.matrix[i * sums.unknowns.length + i] += pull;
  sums.right[i] += pull * way;
  sums.cost += pull * way * way;
}

/** Holds a place back along a direction; its entries are `i` and `i + 1`. */
function pullAlong(sums: Sums, i: number, ux: number, uy: number, pull: number): void {
  const n = sums.unknowns.length;
  sums.matrix[i * n + i] += pull * ux * ux;
  sums.matrix[i * n + i + 1] += pull * ux * uy;
  sums.matrix[(i + 1) * n + i + 1] += pull * uy * uy;
}

/** The outline after a step, no node far from its `homes`. */
