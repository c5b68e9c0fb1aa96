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
      if (stays(high)) places.push(high);
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
  const own = places.filter((p) => widths[p] < limitMm);
  return { places: withTheirDiscs(own, widths, across), strip, exits, widths };
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
