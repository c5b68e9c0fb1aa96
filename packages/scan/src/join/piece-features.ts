import { bilinearAt } from '../trace/sample-grey.js';
import type { PieceSheet } from './piece-sheet.js';
import { symmetricAxes } from './principal-axes.js';

/** Places of a disc that are looked at lie this share of its radius apart. */
const PITCH = 0.25;

/** Numbers kept of what a disc shows. More only tell noise. */
const KEPT = 18;

/** Share of the greatest variance that is taken for noise. */
const NOISE = 0.01;

/** Features of a piece are at least this far apart, mm. */
const APART_MM = 2.5;

/** A piece has at most one for so much of its area, mm²; the most unusual ones are kept. An A4 sheet has a thousand. */
const FEATURE_AREA_MM2 = 60;

/** Discs from which the axes are taken. */
const AXES_SAMPLE = 20_000;

/** Places of a piece that tell something: `x y nx ny` each (mm, unit vector from ink to paper), and `KEPT` numbers each of what is seen around them. */
export interface PieceFeatures {
  readonly count: number;
  readonly places: Float64Array;
  readonly looks: Float32Array;
}

export const FEATURE_NUMBERS = KEPT;

/**
 * Features of pieces. The picture around each outline point, turned so that the outline runs upright, is the same in every scan, however it was laid down. It is brought to a
 * few independent numbers of equal spread (principal axes, whitened: Hotelling 1933; turned patches after Brown, Szeliski & Winder 2005). What is
 * usual, like a straight edge alone, lies near zero; the points farthest from it are kept. A large disc (`discMm`, its radius) tells more, a small one finds room in
 * a narrower overlap.
 */
export function pieceFeatures(sheets: readonly PieceSheet[], { discMm }: { discMm: number }): PieceFeatures[] {
  const offsets = discOffsets(discMm);
  const discs = sheets.map((sheet) => discsOf(sheet, offsets, discMm));
  const axes = whitening(
    discs.map(({ values }) => values),
    offsets.length / 2,
  );
  return discs.map(({ places, values }, k) => {
    const most = Math.ceil((sheets[k].widthMm * sheets[k].heightMm) / FEATURE_AREA_MM2);
    return chosen(places, values, axes, most);
  });
}

function discOffsets(discMm: number): Float64Array {
  const offsets: number[] = [];
  const reach = Math.round(1 / PITCH);
  for (let j = -reach; j <= reach; j++) {
    for (let i = -reach; i <= reach; i++) {
      if (Math.hypot(i, j) <= reach) offsets.push(i * PITCH * discMm, j * PITCH * discMm);
    }
  }
  return Float64Array.from(offsets);
}

/** The discs that lie in the picture. */
function discsOf(
  { edges, soft, widthMm, heightMm }: PieceSheet,
  offsets: Float64Array,
  discMm: number,
): { places: Float64Array; values: Float32Array } {
  const size = offsets.length / 2;
  const places: number[] = [];
  for (let k = 0; k < edges.count; k++) {
    const x = edges.places[2 * k];
    const y = edges.places[2 * k + 1];
    if (x < discMm || y < discMm || x > widthMm - discMm || y > heightMm - discMm) continue;
    places.push(x, y, edges.normals[2 * k], edges.normals[2 * k + 1]);
  }
  const values = new Float32Array((places.length / 4) * size);
  for (let k = 0, at = 0; k < places.length; k += 4) {
    const [x, y, nx, ny] = [places[k], places[k + 1], places[k + 2], places[k + 3]];
    for (let m = 0; m < offsets.length; m += 2) {
      const u = x + offsets[m] * nx - offsets[m + 1] * ny;
      const v = y + offsets[m] * ny + offsets[m + 1] * nx;
      values[at++] = bilinearAt(soft.raster, u * soft.perMm, v * soft.perMm);
    }
  }
  return { places: Float64Array.from(places), values };
}

interface Axes {
  readonly mean: Float64Array;
  /** Already divided by the spread along them. */
  readonly axes: readonly Float64Array[];
}

function whitening(all: readonly Float32Array[], size: number): Axes {
  const total = all.reduce((sum, values) => sum + values.length / size, 0);
  const stride = Math.max(1, Math.floor(total / AXES_SAMPLE));
  const mean = new Float64Array(size);
  const products = new Float64Array(size * size);
  let count = 0;
  for (const values of all) {
    for (let from = 0; from < values.length; from += stride * size) {
      count++;
      for (let i = 0; i < size; i++) {
        mean[i] += values[from + i];
        for (let j = 0; j <= i; j++) products[i * size + j] += values[from + i] * values[from + j];
      }
    }
  }
  if (count === 0) return { mean, axes: [] };
  for (let i = 0; i < size; i++) mean[i] /= count;
  for (let i = 0; i < size; i++) {
    for (let j = 0; j <= i; j++) {
      products[i * size + j] = products[i * size + j] / count - mean[i] * mean[j];
      products[j * size + i] = products[i * size + j];
    }
  }
  const { values, vectors } = symmetricAxes(products, size);
  return {
    mean,
    axes: vectors.slice(0, KEPT).map((vector, k) => {
      const spread = Math.sqrt(Math.max(values[k], 0) + NOISE * values[0]) || 1;
      return vector.map((value) => value / spread);
    }),
  };
}

/** The most unusual discs, apart from each other. */
function chosen(places: Float64Array, values: Float32Array, { mean, axes }: Axes, most: number): PieceFeatures {
  const size = mean.length;
  const count = places.length / 4;
  const looks = new Float32Array(count * KEPT);
  const unusual = new Float64Array(count);
  const centred = new Float64Array(size);
  for (let k = 0; k < count; k++) {
    for (let i = 0; i < size; i++) centred[i] = values[k * size + i] - mean[i];
    for (const [m, axis] of axes.entries()) {
      let sum = 0;
      for (let i = 0; i < size; i++) sum += axis[i] * centred[i];
      looks[k * KEPT + m] = sum;
      unusual[k] += sum * sum;
    }
  }
  const order = Array.from({ length: count }, (_, k) => k).sort((a, b) => unusual[b] - unusual[a]);
  const cells = new Map<number, number[]>();
  const cellOf = (v: number): number => Math.floor(v / APART_MM);
  const kept: number[] = [];
  for (const k of order) {
    if (kept.length >= most) break;
    const x = places[4 * k];
    const y = places[4 * k + 1];
    if (isNear(cells, places, x, y, cellOf)) continue;
    const key = cellOf(y) * 65_536 + cellOf(x);
    const cell = cells.get(key);
    if (cell === undefined) cells.set(key, [k]);
    else cell.push(k);
    kept.push(k);
  }
  const out = {
    count: kept.length,
    places: new Float64Array(kept.length * 4),
    looks: new Float32Array(kept.length * KEPT),
  };
  for (const [at, k] of kept.entries()) {
    out.places.set(places.subarray(4 * k, 4 * k + 4), 4 * at);
    out.looks.set(looks.subarray(KEPT * k, KEPT * (k + 1)), KEPT * at);
  }
  return out;
}

function isNear(
  cells: ReadonlyMap<number, readonly number[]>,
  places: Float64Array,
  x: number,
  y: number,
  cellOf: (v: number) => number,
): boolean {
  for (let j = cellOf(y) - 1; j <= cellOf(y) + 1; j++) {
    for (let i = cellOf(x) - 1; i <= cellOf(x) + 1; i++) {
      for (const k of cells.get(j * 65_536 + i) ?? []) {
        if (Math.hypot(places[4 * k] - x, places[4 * k + 1] - y) < APART_MM) return true;
      }
    }
  }
  return false;
}
