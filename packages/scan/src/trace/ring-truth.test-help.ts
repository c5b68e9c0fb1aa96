import { type Contour, type Point, polyline } from '@okuri/core';
import Flatbush from 'flatbush';

/** Numbers evenly in 0 … 1, the same for the same seed (mulberry32, T. Ettinger). */
export function evenNumbers(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** A normal law's numbers, mean 0 and variance 1 (G. Box and M. Muller 1958). */
export function normalNumbers(seed: number): () => number {
  const even = evenNumbers(seed);
  return () => Math.sqrt(-2 * Math.log(1 - even())) * Math.cos(2 * Math.PI * even());
}

export interface ScanLikeOptions {
  readonly pixelMm: number;
  /** Spread of the blur that rounds corners, and standard deviation of the points, px. */
  readonly blurPx: number;
  readonly noisePx: number;
  readonly seed: number;
}

/** Steps in which true curves are looked at, px. */
const FINE_PX = 0.05;
/** Turns from here on are corners, degrees. */
const CORNER_DEG = 8;

/**
 * Points of a closed outline as a tracer gives them: about a pixel apart, a little uneven, with noise, and rounded at corners: near a corner by the mean of the path under a normal law
 * along it, in closed form for two straight sides.
 */
export function scanLike(truth: Contour, { pixelMm, blurPx, noisePx, seed }: ScanLikeOptions): Float64Array {
  const even = evenNumbers(seed);
  const normal = normalNumbers(seed + 1);
  const fine = walk(truth, FINE_PX * pixelMm);
  const total = fine.length;
  const corners = cornersOf(truth);
  const sigma = blurPx * pixelMm;
  const points: number[] = [];
  let next = 0;
  fine.places.forEach(({ x, y, at }) => {
    if (at < next || at > total - 0.5 * pixelMm) return;
    next = at + (0.7 + 0.6 * even()) * pixelMm;
    let [px, py] = [x, y];
    for (const c of corners) {
      const s = at - c.along - total * Math.round((at - c.along) / total);
      if (Math.abs(s) > 5 * sigma) continue;
      const z = s / sigma;
      const moved = s * normalShare(z) + (sigma * Math.exp((-z * z) / 2)) / Math.sqrt(2 * Math.PI) - Math.max(s, 0);
      px += moved * (c.after.x - c.before.x);
      py += moved * (c.after.y - c.before.y);
    }
    points.push(px + noisePx * pixelMm * normal(), py + noisePx * pixelMm * normal());
  });
  return Float64Array.from(points);
}

/** The normal law's share below z (M. Abramowitz and I. Stegun, Handbook of Mathematical Functions, 26.2.17; good to 1e-7). */
function normalShare(z: number): number {
  if (z < 0) return 1 - normalShare(-z);
  const t = 1 / (1 + 0.2316419 * z);
  const sum = t * (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  return 1 - (sum * Math.exp((-z * z) / 2)) / Math.sqrt(2 * Math.PI);
}

interface Walk {
  readonly length: number;
  readonly places: { x: number; y: number; at: number }[];
}

/** The contour in even small steps of its parameter, by Bernstein's polynomials. */
export function walk({ coords: q }: Contour, stepMm: number): Walk {
  const places: { x: number; y: number; at: number }[] = [];
  let at = 0;
  let last: Point | null = null;
  for (let o = 0; o + 7 < q.length; o += 6) {
    let reach = 0;
    for (let k = o; k < o + 6; k += 2) reach += Math.hypot(q[k + 2] - q[k], q[k + 3] - q[k + 1]);
    const n = Math.max(4, Math.ceil(reach / stepMm));
    for (let i = 0; i < n; i++) {
      const t = i / n;
      const u = 1 - t;
      const [a, b, c, d] = [u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t];
      const x = a * q[o] + b * q[o + 2] + c * q[o + 4] + d * q[o + 6];
      const y = a * q[o + 1] + b * q[o + 3] + c * q[o + 5] + d * q[o + 7];
      if (last) at += Math.hypot(x - last.x, y - last.y);
      last = { x, y };
      places.push({ x, y, at });
    }
  }
  const first = places[0];
  return { length: at + Math.hypot(first.x - last!.x, first.y - last!.y), places };
}

export interface TrueCorner extends Point {
  /** Length of the outline from its start to here, mm. */
  readonly along: number;
  readonly before: Point;
  readonly after: Point;
}

/** The corners of a closed contour. */
export function cornersOf(contour: Contour): TrueCorner[] {
  const q = contour.coords;
  const n = (q.length - 2) / 6;
  const found: TrueCorner[] = [];
  for (let k = 0; k < n; k++) {
    const o = 6 * k;
    const p = 6 * ((k + n - 1) % n);
    const before = unit(q[p + 6] - q[p + 4], q[p + 7] - q[p + 5]);
    const after = unit(q[o + 2] - q[o], q[o + 3] - q[o + 1]);
    const turn = Math.atan2(before.x * after.y - before.y * after.x, before.x * after.x + before.y * after.y);
    if (Math.abs(turn) < (CORNER_DEG * Math.PI) / 180) continue;
    found.push({ x: q[o], y: q[o + 1], along: k === 0 ? 0 : lengthTo(q, o), before, after });
  }
  return found;
}

/** Length of the chain from its start to the node at `o`, mm. */
function lengthTo(q: Float64Array, o: number): number {
  const { places } = walk({ closed: false, coords: q.slice(0, o + 2) }, 0.01);
  const last = places[places.length - 1];
  return last.at + Math.hypot(q[o] - last.x, q[o + 1] - last.y);
}

function unit(x: number, y: number): Point {
  const length = Math.hypot(x, y) || 1;
  return { x: x / length, y: y / length };
}

/** How far each of two outlines lies from the other, mm: the larger of both. `most` holds for all but a fiftieth of them. */
export function apart(a: Contour, b: Contour): { max: number; mean: number; most: number } {
  const [there, back] = [distances(a, b), distances(b, a)];
  const mean = (all: number[]) => all.reduce((sum, d) => sum + d, 0) / all.length;
  const most = (all: number[]) => [...all].sort((x, y) => x - y)[Math.floor(0.98 * all.length)];
  return {
    max: Math.max(...there, ...back),
    mean: Math.max(mean(there), mean(back)),
    most: Math.max(most(there), most(back)),
  };
}

/** Densely sampled: a chord of this length leaves a curve of 0.5 mm radius by 0.25 µm. mm. */
const DENSE_MM = 0.03;

/** From places along one outline to the nearest of the short sides of another. */
function distances(a: Contour, b: Contour): number[] {
  const sides = walk(b, DENSE_MM).places;
  const index = new Flatbush(sides.length);
  sides.forEach((p, k) => {
    const q = sides[(k + 1) % sides.length];
    index.add(Math.min(p.x, q.x), Math.min(p.y, q.y), Math.max(p.x, q.x), Math.max(p.y, q.y));
  });
  index.finish();
  return walk(a, 3 * DENSE_MM).places.map(({ x, y }) =>
    Math.min(
      ...index.neighbors(x, y, 4).map((k) => {
        const p = sides[k];
        const q = sides[(k + 1) % sides.length];
        const [dx, dy] = [q.x - p.x, q.y - p.y];
        const t = ((x - p.x) * dx + (y - p.y) * dy) / (dx * dx + dy * dy || 1);
        const share = Math.max(0, Math.min(1, t));
        return Math.hypot(p.x + share * dx - x, p.y + share * dy - y);
      }),
    ),
  );
}

/** A polygon, turned about the origin and set off the grid. */
export function polygon(points: readonly (readonly [number, number])[], degrees = 0): Contour {
  const [c, s] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
  return polyline(
    points.map(([x, y]) => ({ x: c * x - s * y + 0.013, y: s * x + c * y + 0.027 })),
    { closed: true },
  );
}

/** A closed outline of cubics: the start, then three points for each. */
export function outline(coords: readonly number[]): Contour {
  return { closed: true, coords: Float64Array.from(coords) };
}

/** An ellipse around the origin of eight cubics, turned. */
export function ellipse(rx: number, ry: number, degrees: number): Contour {
  const handle = (4 / 3) * Math.tan(Math.PI / 16);
  const [c, s] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
  const at = (x: number, y: number) => [c * rx * x - s * ry * y, s * rx * x + c * ry * y];
  const coords = at(1, 0);
  for (let k = 0; k < 8; k++) {
    const [a, b] = [(k * Math.PI) / 4, ((k + 1) * Math.PI) / 4];
    coords.push(...at(Math.cos(a) - handle * Math.sin(a), Math.sin(a) + handle * Math.cos(a)));
    coords.push(...at(Math.cos(b) + handle * Math.sin(b), Math.sin(b) - handle * Math.cos(b)));
    coords.push(...at(Math.cos(b), Math.sin(b)));
  }
  return outline(coords);
}

/** Arcs and straight sides one after another, each from where the last one ended: `[radius, degrees]` turns right for degrees above 0, `[length]` goes straight on, `[0, degrees]` is a corner. */
export function path(steps: readonly (readonly number[])[], start = { x: 0, y: 0, degrees: 0 }): Contour {
  let { x, y } = start;
  let way = (start.degrees * Math.PI) / 180;
  const coords = [x, y];
  for (const [size, degrees] of steps) {
    if (size === 0) {
      way += (degrees * Math.PI) / 180;
      continue;
    }
    if (degrees === undefined) {
      for (const share of [1 / 3, 2 / 3, 1])
        coords.push(x + share * size * Math.cos(way), y + share * size * Math.sin(way));
      x += size * Math.cos(way);
      y += size * Math.sin(way);
      continue;
    }
    const parts = Math.max(1, Math.round(Math.abs(degrees) / 45));
    const turn = (degrees * Math.PI) / 180 / parts;
    const side = Math.sign(degrees);
    for (let k = 0; k < parts; k++) {
      const handle = (4 / 3) * Math.tan(Math.abs(turn) / 4) * size;
      const [cx, cy] = [x - side * size * Math.sin(way), y + side * size * Math.cos(way)];
      coords.push(x + handle * Math.cos(way), y + handle * Math.sin(way));
      way += turn;
      x = cx + side * size * Math.sin(way);
      y = cy - side * size * Math.cos(way);
      coords.push(x - handle * Math.cos(way), y - handle * Math.sin(way), x, y);
    }
  }
  return outline(coords);
}
