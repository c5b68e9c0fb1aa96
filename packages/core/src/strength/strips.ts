import { UnionFind } from '../geometry/union-find.js';
import type { Across } from './across.js';
import { type Samples, sampleAfter, sampleBefore } from './samples.js';

/** Samples put together into strips, narrowest first. */
export interface Strips {
  /** The strip that a sample belongs to (one of its samples stands for it). */
  readonly find: (i: number) => number;
  /**
   * Adds a sample: it becomes a strip of its own and is joined to those of its neighbours along the outline and of its mates across that are
   * there already. `joined` is told of every two strips that become one. Gives the sample's strip.
   */
  readonly add: (i: number, joined: (kept: number, lost: number) => void) => number;
  readonly has: (i: number) => boolean;
  /**
   * Ends of runs of the strip along the outlines, for the sample that stands for it. Where a strip widens both its banks end, so half of it is
   * the number of exits: a strip from wide to wide has four ends, a tip two, a closed ring none.
   */
  readonly ends: Int32Array;
}

/** No strips yet. The samples' `widths` are not looked at: it is the caller who adds them in order. */
export function startStrips(samples: Samples, { mate }: Pick<Across, 'mate'>): Strips {
  const { count } = samples;
  const sets = new UnionFind(count);
  const ends = new Int32Array(count);
  const size = new Int32Array(count);
  const mated = matedBy(count, mate);

  const has = (i: number): boolean => size[i] > 0;

  function join(a: number, b: number, joined: (kept: number, lost: number) => void): number {
    const p = sets.find(a);
    const q = sets.find(b);
    if (p === q) return p;
    const [kept, lost] = size[p] >= size[q] ? [p, q] : [q, p];
    sets.hang(lost, kept);
    size[kept] += size[lost];
    ends[kept] += ends[lost];
    joined(kept, lost);
    return kept;
  }

  function add(i: number, joined: (kept: number, lost: number) => void): number {
    size[i] = 1;
    ends[i] = 2;
    let root = i;
    const before = sampleBefore(samples, i);
    const after = sampleAfter(samples, i);
    for (const next of [before, after]) {
      if (!has(next)) continue;
      if (next === i) {
        // The only sample of its outline.
        ends[root] = 0;
        continue;
      }
      // The neighbour's end and this one's meet.
      ends[root] -= 2;
      root = join(root, next, joined);
    }
    if (mate[i] >= 0 && has(mate[i])) root = join(root, mate[i], joined);
    for (let k = mated.first[i]; k < mated.first[i + 1]; k++) {
      const other = mated.items[k];
      if (has(other)) root = join(root, other, joined);
    }
    return root;
  }
  return { find: (i) => sets.find(i), add, has, ends };
}

/**
 * The width of the strip at each sample as strips are put together: corners into which the material tapers have 0, and no sample is wider than
 * one whose disc touches it.
 */
export function stripWidths({ count, nx, ny }: Samples, { width, mate }: Pick<Across, 'width' | 'mate'>): Float64Array {
  const widths = new Float64Array(count);
  for (let i = 0; i < count; i++) widths[i] = nx[i] === 0 && ny[i] === 0 ? 0 : width[i];
  for (let i = 0; i < count; i++) {
    if (mate[i] >= 0 && width[i] < widths[mate[i]]) widths[mate[i]] = width[i];
  }
  return widths;
}

/** Numbers of the samples with widths below `under`, narrowest first; equal ones in their own order. */
export function narrowestFirst(widths: Float64Array, { under }: { under: number }): Int32Array {
  let order = new Int32Array(widths.length);
  let n = 0;
  for (let i = 0; i < widths.length; i++) if (widths[i] < under) order[n++] = i;
  order = order.slice(0, n);
  // Bits of single floats that are not negative rise with their value: three rounds of sorting by digits of 11 bits.
  const keys = new Uint32Array(Float32Array.from(widths).buffer);
  let spare = new Int32Array(n);
  for (const shift of [0, 11, 22]) {
    const at = new Int32Array(2049);
    for (let k = 0; k < n; k++) at[((keys[order[k]] >>> shift) & 2047) + 1]++;
    for (let d = 0; d < 2048; d++) at[d + 1] += at[d];
    for (let k = 0; k < n; k++) spare[at[(keys[order[k]] >>> shift) & 2047]++] = order[k];
    [order, spare] = [spare, order];
  }
  return order;
}

function matedBy(count: number, mate: Int32Array) {
  const first = new Int32Array(count + 1);
  for (let i = 0; i < count; i++) if (mate[i] >= 0) first[mate[i] + 1]++;
  for (let i = 0; i < count; i++) first[i + 1] += first[i];
  const at = first.slice(0, count);
  const items = new Int32Array(first[count]);
  for (let i = 0; i < count; i++) if (mate[i] >= 0) items[at[mate[i]]++] = i;
  return { first, items };
}
