import type { Across } from './across.js';
import type { Samples } from './samples.js';
import { narrowestFirst, startStrips, stripWidths } from './strips.js';

/** Ends of runs from which on a strip leads from wide to wide: two banks at each of two exits. */
const THROUGH_ENDS = 4;
/** Widths of strips from samples are good to about this, mm (the rise of chords on both banks). */
const WIDTH_ERROR_MM = 0.01;
/** Where a strip hardly exceeds the limit before it ends, it must have widened by at least this share to count as running out of the narrow stretch. */
const LEAST_RISE = 1.02;

export interface ThroughOptions {
  readonly limitMm: number;
  /** How far the samples were looked across; strips are followed up to there. */
  readonly reachMm: number;
  /** How much a strip must widen on both sides of a place, as a factor. */
  readonly rise: number;
}

/** The narrow places between wide material, and the strips below the limit. */
export interface ThroughPlaces {
  /** Samples at the narrowest places of strips that lead on at both ends, narrowest first for each strip. */
  readonly places: readonly number[];
  /** Strip of each sample that is narrower than the limit, as one of its samples; -1 for wider ones. */
  readonly strip: Int32Array;
  /** Exits of the strip, for the sample that stands for it. */
  readonly exits: Int32Array;
  /** Width of the strip at each sample, see `stripWidths`. */
  readonly widths: Float64Array;
}

/**
 * Samples are put together into strips from the narrowest on, as if the material were flooded. A strip is born where a disc touches two banks that
 * nothing narrower joins; from then on it has two exits, and its birthplace is a narrow place. It stays one if, before the strip meets a narrower one or
 * its exits close (a tip or a bay is all that lies there), it has widened by `rise`, or past the limit. A tip is a strip with one exit from
 * its birth and never a narrow place, however thin; nor are bends and corners of one bank. Cost: n log n at most.
 */
export function throughPlaces(samples: Samples, across: Across, options: ThroughOptions): ThroughPlaces {
  const { limitMm, reachMm, rise } = options;
  const { count } = samples;
  const widths = stripWidths(samples, across);
  const order = narrowestFirst(widths, { under: reachMm });
  const strips = startStrips(samples, across);
  const lowest = new Int32Array(count).fill(-1);
  const places: number[] = [];
  const passed: number[] = [];
  const strip = new Int32Array(count).fill(-1);
  const exits = new Int32Array(count);
  let level = 0;

  const stays = (place: number): boolean => {
    const w = widths[place];
    const enough = Math.min(w * rise + WIDTH_ERROR_MM * (rise > 1 ? 1 : 0), Math.max(limitMm, w * LEAST_RISE));
    return level >= enough;
  };
  const joined = (kept: number, lost: number): void => {
    const [p, q] = [lowest[kept], lowest[lost]];
    if (p >= 0 && q >= 0) {
      const [low, high] = widths[p] <= widths[q] ? [p, q] : [q, p];
      (stays(high) ? places : passed).push(high);
      lowest[kept] = low;
    } else lowest[kept] = Math.max(p, q);
  };
  const takeLimit = (done: number): void => {
    for (let k = 0; k < done; k++) {
      const root = strips.find(order[k]);
      strip[order[k]] = root;
      exits[root] = strips.ends[root] / 2;
    }
  };

  let below = -1;
  for (let k = 0; k < order.length; k++) {
    const i = order[k];
    level = widths[i];
    if (below < 0 && level >= limitMm) {
      below = k;
      takeLimit(k);
    }
    const root = strips.add(i, joined);
    if (strips.ends[root] >= THROUGH_ENDS) {
      if (lowest[root] < 0 && across.mate[i] >= 0) lowest[root] = i;
    } else if (lowest[root] >= 0) {
      if (stays(lowest[root])) places.push(lowest[root]);
      lowest[root] = -1;
    }
  }
  if (below < 0) takeLimit(order.length);
  for (let k = 0; k < order.length; k++) {
    if (strips.find(order[k]) === order[k] && lowest[order[k]] >= 0) places.push(lowest[order[k]]);
  }
  const own = withTheirDiscs(
    places.filter((p) => widths[p] < limitMm),
    widths,
    across,
  );
  const rest = withTheirDiscs(
    passed.filter((p) => widths[p] < limitMm),
    widths,
    across,
  );
  return { places: [...own, ...armsOf(samples, across, strip, own, rest)], strip, exits, widths };
}

/**
 * Where narrow strips meet without widening much, each of them is an arm between two banks of its own, and has a narrow place of its own. Banks are told apart by
 * runs of neighbouring narrow samples: two places with the same two runs lie in one arm. Of `rest`, the narrowest for every arm that has none yet; arms with
 * one run on both sides end blind.
 */
function armsOf(
  samples: Samples,
  { mate, width }: Across,
  strip: Int32Array,
  told: readonly number[],
  rest: readonly number[],
): number[] {
  if (rest.length === 0) return [];
  const run = runsOf(samples, strip);
  const arm = (i: number): number => Math.min(run[i], run[mate[i]]) * samples.count + Math.max(run[i], run[mate[i]]);
  const known = new Set(told.map(arm));
  const found: number[] = [];
  for (const i of [...rest].sort((p, q) => width[p] - width[q])) {
    if (run[i] === run[mate[i]] || known.has(arm(i))) continue;
    known.add(arm(i));
    found.push(i);
  }
  return found;
}

/** The run of neighbouring narrow samples to which each sample belongs, named by the first of them; closed ones by the outline's first. -1 for wide samples. */
function runsOf(samples: Samples, strip: Int32Array): Int32Array {
  const run = new Int32Array(samples.count).fill(-1);
  for (let k = 0; k + 1 < samples.start.length; k++) {
    const [from, to] = [samples.start[k], samples.start[k + 1]];
    for (let i = from; i < to; i++) if (strip[i] >= 0) run[i] = i > from && run[i - 1] >= 0 ? run[i - 1] : i;
    // The run over the outline's start is one.
    if (to - from < 2 || run[from] < 0 || run[to - 1] < 0) continue;
    for (let i = to - 1; i >= from && run[i] >= 0 && run[i] !== run[from]; i--) run[i] = run[from];
  }
  return run;
}

/** Samples that are as narrow as another's disc only, replaced by that other one. */
function withTheirDiscs(places: readonly number[], widths: Float64Array, { width, mate }: Across): number[] {
  const lent = new Map(places.filter((p) => width[p] > widths[p]).map((p) => [p, p]));
  if (lent.size > 0) {
    for (let i = 0; i < mate.length; i++) {
      if (mate[i] >= 0 && lent.has(mate[i]) && width[i] === widths[mate[i]]) lent.set(mate[i], i);
    }
  }
  return places.map((p) => lent.get(p) ?? p);
}
