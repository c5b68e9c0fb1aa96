import type { Across } from './across.js';
import { type Samples, sampleAfter } from './samples.js';

/** Within a run of even width the widest is at most this times the narrowest. */
const EVEN = 1.1;
/** An even run counts when it is longer than this many of its widths. */
const LEAST_WIDTHS = 3;

export interface EvenRun {
  /** The sample in its middle, or at its narrowest where its width differs from the rest. */
  readonly at: number;
  readonly lengthMm: number;
}

/**
 * Banks are parallel enough where the disc touches the other one within 18° of the normal (cosine): a little jitter of the outline does no harm, and discs
 * in the ends of a strip, which touch the end too, are left out.
 */
const PARALLEL = 0.95;
/** Widths nearer than this to the least are as good, mm: the place is taken in the middle of them. */
const ALIKE_MM = 1e-3;

/**
 * For every strip asked for, its longest run of even width (within a tenth) along the middle line, if it is longer than three widths. A run around a tip is
 * seen from both sides and counted once. Keys of the map: what `strip` holds. Cost: linear.
 */
export function evenRuns(
  samples: Samples,
  across: Across,
  { strip, asked }: { strip: Int32Array; asked: (strip: number) => boolean },
): Map<number, EvenRun> {
  const best = new Map<number, EvenRun>();
  for (let k = 0; k + 1 < samples.start.length; k++) {
    const [from, to] = [samples.start[k], samples.start[k + 1]];
    // Start where a strip ends, so that no run is divided by the outline's start.
    let first = from;
    for (let i = from; i < to; i++) {
      if (strip[i] !== strip[sampleAfter(samples, i)]) {
        first = sampleAfter(samples, i);
        break;
      }
    }
    for (let n = 0; n < to - from; ) {
      const own = strip[from + ((first - from + n) % (to - from))];
      const run: number[] = [];
      for (; n < to - from; n++) {
        const i = from + ((first - from + n) % (to - from));
        if (strip[i] !== own) break;
        if (own >= 0 && across.mate[i] >= 0 && across.facing[i] >= PARALLEL) run.push(i);
      }
      if (own < 0 || run.length === 0 || !asked(own)) continue;
      const found = longestEven(run, across);
      if (found && found.lengthMm > (best.get(own)?.lengthMm ?? 0)) best.set(own, found);
    }
  }
  return best;
}

/** The longest window of a run in which the width is even. */
function longestEven(run: readonly number[], { width, mate, cx, cy }: Across): EvenRun | null {
  const along = new Float64Array(run.length);
  for (let k = 1; k < run.length; k++) {
    along[k] = along[k - 1] + Math.hypot(cx[run[k]] - cx[run[k - 1]], cy[run[k]] - cy[run[k - 1]]);
  }
  const placeOf = new Map(run.map((i, k) => [i, k]));
  /** Length of a window along the middle line; what it sees from both sides counts once. And where its middle is, along the run. */
  const windowLength = (start: number, end: number): { lengthMm: number; middleMm: number } => {
    const back = placeOf.get(mate[run[end]]) ?? -1;
    const ahead = placeOf.get(mate[run[start]]) ?? -1;
    const [a, b] = [along[start], along[end]];
    if (back >= start && back < end) {
      const lengthMm = along[back] - a + (b - along[back]) / 2;
      return { lengthMm, middleMm: a + lengthMm / 2 };
    }
    if (ahead > start && ahead <= end) {
      const lengthMm = (along[ahead] - a) / 2 + b - along[ahead];
      return { lengthMm, middleMm: b - lengthMm / 2 };
    }
    return { lengthMm: b - a, middleMm: (a + b) / 2 };
  };
  let best: EvenRun | null = null;
  let window: [number, number, number] = [0, 0, 0];
  // Samples of the window that could still be its narrowest or its widest, in rising order of place.
  const least = queue((p, q) => width[run[p]] >= width[run[q]]);
  const most = queue((p, q) => width[run[p]] <= width[run[q]]);
  let start = 0;
  for (let k = 0; k < run.length; k++) {
    least.push(k);
    most.push(k);
    while (width[run[most.first()]] > EVEN * width[run[least.first()]]) {
      start++;
      least.dropBefore(start);
      most.dropBefore(start);
    }
    const { lengthMm, middleMm } = windowLength(start, k);
    const narrowest = width[run[least.first()]];
    if (lengthMm <= LEAST_WIDTHS * narrowest || lengthMm <= (best?.lengthMm ?? 0)) continue;
    const middle = placeAlong(along, start, k, middleMm);
    best = { at: run[middle], lengthMm };
    window = [start, k, narrowest];
  }
  if (!best || width[best.at] <= window[2] + ALIKE_MM) return best;
  let at = best.at;
  for (let k = window[0]; k <= window[1]; k++) {
    if (width[run[k]] < width[at] - ALIKE_MM) at = run[k];
  }
  return { at, lengthMm: best.lengthMm };
}

function placeAlong(along: Float64Array, start: number, end: number, length: number): number {
  let [low, high] = [start, end];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (along[middle] < length) low = middle + 1;
    else high = middle;
  }
  return low;
}

function queue(beaten: (p: number, q: number) => boolean) {
  const items: number[] = [];
  let head = 0;
  return {
    push(k: number): void {
      while (items.length > head && beaten(items[items.length - 1], k)) items.pop();
      items.push(k);
    },
    dropBefore(k: number): void {
      while (items[head] < k) head++;
    },
    first: (): number => items[head],
  };
}
