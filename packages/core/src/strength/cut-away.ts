import { contourArea, isStraight } from '../geometry/contour.js';
import { flattenCubic } from '../geometry/flatten.js';
import { closedCoords } from '../geometry/settle.js';
import { subCubic } from '../geometry/sub-cubic.js';
import type { Box, Contour } from '../geometry/types.js';
import { InputError } from '../units/input-error.js';
import type { CutAway } from './types.js';

/** Width of the band that is looked at, mm (common practice, no published source: about what one hand spans when it lifts wet paper). */
const BAND_MM = 50;
/** Chords lie this near to their curves, mm: so far at most, and with no loss in all, the area of a lune is put down beside its place. */
const CHORD_MM = 0.02;
/** Bands lie at most this far apart, mm: the weakest one between two of them has at most 0.1/50 more of it cut away. */
const SLIDE_MM = 0.2;

/**
 * How much of `field` these contours cut away, in all and in the weakest band: the strip of `bandMm` right across the field, upright or
 * level, of which the largest share is cut away. Contours as of openings: they don't cross, outsides have a positive area, rims of paper
 * within a negative one. What reaches past the field does not count. A field narrower than the band is one band. A field without an area, or
 * no contours, gives shares of 0. Areas are those of the curves: by Green's formula on the chords, each with the exact area of its lune.
 * Throws an `InputError` for a band without a width.
 */
export function cutAway(contours: readonly Contour[], field: Box, { bandMm = BAND_MM } = {}): CutAway {
  if (!(bandMm > 0) || !Number.isFinite(bandMm)) {
    throw new InputError(`A band of ${bandMm} mm has no width: give one above 0 mm, such as ${BAND_MM} mm.`);
  }
  const width = field.x1 - field.x0;
  const height = field.y1 - field.y0;
  if (!(width > 0 && height > 0)) return { share: 0, weakestBand: field, bandShare: 0 };
  const upright = weakestStrip(contours, field, 0, bandMm);
  const level = weakestStrip(contours, field, 1, bandMm);
  const worst = level.share > upright.share ? level : upright;
  return { share: inShares(upright.areaMm2 / (width * height)), weakestBand: worst.band, bandShare: worst.share };
}

interface Strip {
  readonly band: Box;
  readonly share: number;
  /** All that is cut away in the field, mm². */
  readonly areaMm2: number;
}

/** The weakest of the strips that follow each other along an axis (0: upright strips side by side; 1: level ones). */
function weakestStrip(contours: readonly Contour[], field: Box, axis: 0 | 1, bandMm: number): Strip {
  const [from, to] = axis === 0 ? [field.x0, field.x1] : [field.y0, field.y1];
  const across = axis === 0 ? field.y1 - field.y0 : field.x1 - field.x0;
  const band = Math.min(bandMm, to - from);
  const room = to - from - band;
  const steps = Math.ceil(room / SLIDE_MM);
  const starts = Float64Array.from({ length: steps + 1 }, (_, k) => (k === 0 ? from : from + (room * k) / steps));
  const ends = starts.map((start, k) => (k === steps ? to : Math.min(to, start + band)));
  const breaks = Float64Array.from([...starts, ...ends]).sort();
  const areas = areasUpTo(contours, field, axis, breaks);
  let [best, bestArea] = [0, -Infinity];
  let [earlier, later] = [0, 0];
  for (let k = 0; k <= steps; k++) {
    while (breaks[earlier] < starts[k]) earlier++;
    while (breaks[later] < ends[k]) later++;
    const area = areas[later] - areas[earlier];
    if (area > bestArea) [best, bestArea] = [k, area];
  }
  return {
    band: axis === 0 ? { ...field, x0: starts[best], x1: ends[best] } : { ...field, y0: starts[best], y1: ends[best] },
    share: inShares(bestArea / (band * across)),
    areaMm2: areas[areas.length - 1],
  };
}

/**
 * The area that is cut away in the field before each of the sorted `breaks` along an axis, mm²; the first break is the field's near side,
 * the last its far side. One pass over the outlines: a side adds to every bin it runs through the area between itself and the bin's near
 * side, and a full bin's width to all bins before; those are added up at the end.
 */
function areasUpTo(contours: readonly Contour[], field: Box, axis: 0 | 1, breaks: Float64Array): Float64Array {
  const bins = breaks.length - 1;
  const own = new Float64Array(bins);
  // What every bin before this one is crossed by, mm.
  const past = new Float64Array(bins + 1);
  const [low, high] = axis === 0 ? [field.y0, field.y1] : [field.x0, field.x1];
  const binAt = (u: number): number => {
    let a = 0;
    let b = bins - 1;
    while (a < b) {
      const middle = (a + b + 1) >> 1;
      if (breaks[middle] <= u) a = middle;
      else b = middle - 1;
    }
    return a;
  };
  /** A side that runs inside one bin, or beyond one end of the field: mean place `u`, rise `dv`. */
  const addPart = (u: number, dv: number, bin: number): void => {
    own[bin] += (Math.min(Math.max(u, breaks[bin]), breaks[bin + 1]) - breaks[bin]) * dv;
    past[bin] += dv;
  };
  const addSide = (ua: number, va: number, ub: number, vb: number): void => {
    if ((va <= low && vb <= low) || (va >= high && vb >= high) || va === vb) return;
    const along = (v: number): number => ua + ((ub - ua) * (v - va)) / (vb - va);
    const [v0, v1] = [Math.min(high, Math.max(low, va)), Math.min(high, Math.max(low, vb))];
    const u0 = v0 === va ? ua : along(v0);
    const u1 = v1 === vb ? ub : along(v1);
    const first = binAt(u0);
    const last = binAt(u1);
    if (first === last && (u0 - breaks[0]) * (u1 - breaks[0]) >= 0 && (u0 - breaks[bins]) * (u1 - breaks[bins]) >= 0) {
      addPart((u0 + u1) / 2, v1 - v0, first);
      return;
    }
    const step = u1 > u0 ? 1 : -1;
    const rise = (v1 - v0) / (u1 - u0);
    let [u, v] = [u0, v0];
    const until = (next: number, nextV: number, bin: number): void => {
      addPart((u + next) / 2, nextV - v, bin);
      [u, v] = [next, nextV];
    };
    // From before the field into it, through the bins, and on past its far side.
    const [near, far] = step > 0 ? [0, bins] : [bins, 0];
    if ((breaks[near] - u) * step > 0) until(breaks[near], v0 + rise * (breaks[near] - u0), first);
    for (let bin = first; bin !== last; bin += step) {
      const edge = breaks[step > 0 ? bin + 1 : bin];
      until(edge, v0 + rise * (edge - u0), bin);
    }
    if ((u1 - breaks[far]) * step > 0) until(breaks[far], v0 + rise * (breaks[far] - u0), last);
    until(u1, v1, last);
  };
  // ∮ x dy is the area; with the axes changed over its sign turns.
  const sign = axis === 0 ? 1 : -1;
  for (const contour of contours) {
    const coords = closedCoords(contour.coords);
    for (let o = 0; o + 7 < coords.length; o += 6) {
      const straight = isStraight(coords, o);
      let [x, y, t] = [coords[o], coords[o + 1], 0];
      flattenCubic(coords, o, CHORD_MM, (nx, ny, nt) => {
        if (axis === 0) addSide(x, y, nx, ny);
        else addSide(y, x, ny, nx);
        const [mx, my] = [(x + nx) / 2, (y + ny) / 2];
        if (!straight && mx > field.x0 && mx < field.x1 && my > field.y0 && my < field.y1) {
          const piece = { closed: false, coords: subCubic(coords, o, t, nt) };
          own[binAt(axis === 0 ? mx : my)] += sign * contourArea(piece);
        }
        [x, y, t] = [nx, ny, nt];
      });
    }
  }
  const areas = new Float64Array(breaks.length);
  let crossed = 0;
  for (let bin = bins - 1; bin >= 0; bin--) {
    own[bin] += crossed * (breaks[bin + 1] - breaks[bin]);
    crossed += past[bin];
  }
  for (let bin = 0; bin < bins; bin++) areas[bin + 1] = areas[bin] + sign * own[bin];
  return areas;
}

function inShares(share: number): number {
  return Math.min(1, Math.max(0, share));
}
