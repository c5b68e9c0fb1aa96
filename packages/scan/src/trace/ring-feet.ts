import { parametersAlong } from './ring-cubic.js';
import type { FittedOutline } from './ring-outline.js';
import type { RingSamples } from './ring-samples.js';

/** Points of a calm link that are enough to fit it, and up to which noise a ring is calm, px: the mean of so many lies within a hundredth of a pixel. */
const ENOUGH = 64;
const CALM_PX = 0.06;

/** The points of each link: `order` from `start[k]` to `start[k + 1]`, and their feet on it, 0 … 1. */
export interface Feet {
  readonly start: Int32Array;
  readonly order: Int32Array;
  readonly t: Float64Array;
  /** How many points one of a link stands for. */
  readonly stride: Int32Array;
}

/** Sorts the points of the ring to the links they belong to: of long links every second or third will do, and so on, the fewer the less noise they have. */
export function layPoints({ nodes, links }: FittedOutline, { count, pointAt }: RingSamples, noisePx: number): Feet {
  const enough = ENOUGH * Math.max(1, (noisePx / CALM_PX) ** 2);
  const stride = new Int32Array(links.length);
  const start = new Int32Array(links.length + 1);
  const order: number[] = [];
  const t: number[] = [];
  const n = pointAt.length;
  links.forEach(({ from, to, skipFrom, skipTo }, k) => {
    const lap = Math.floor((from + skipFrom) / count) * count;
    let i = lowerBound(pointAt, from + skipFrom - lap);
    let add = lap;
    stride[k] = Math.max(1, Math.floor((to - from) / enough));
    for (;;) {
      if (i >= n) {
        i -= n;
        add += count;
      }
      const at = pointAt[i] + add;
      if (at >= to - skipTo) break;
      order.push(i);
      t.push((at - from) / (to - from));
      i += stride[k];
    }
    start[k + 1] = order.length;
  });
  const feet = Float64Array.from(t);
  links.forEach((link, k) => {
    if (link.straight) return;
    const [p, q] = [nodes[k], nodes[(k + 1) % nodes.length]];
    const shares = feet.subarray(start[k], start[k + 1]);
    parametersAlong({ ...p, angle: p.angleOut }, { ...q, angle: q.angleIn }, link, shares);
  });
  return { start, order: Int32Array.from(order), t: feet, stride };
}

function lowerBound(sorted: Float64Array, value: number): number {
  let [lo, hi] = [0, sorted.length];
  while (lo < hi) {
    const mid = (lo + hi) >> 1;
    if (sorted[mid] < value) lo = mid + 1;
    else hi = mid;
  }
  return lo;
}
