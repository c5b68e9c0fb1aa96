import type Flatbush from 'flatbush';
import { boxHolds } from '../geometry/boxes.js';
import { boxIndex } from '../geometry/cluster.js';
import { contourArea, isStraight } from '../geometry/contour.js';
import { FLATTEN_MM, flattenCubic } from '../geometry/flatten.js';
import { sideWinding } from '../geometry/point-tests.js';
import { closedCoords } from '../geometry/settle.js';
import type { Box, Contour, Point } from '../geometry/types.js';

/** A closed outline and its flattening (5 µm), whose every side knows the stretch of curve that it stands for. mm. */
export interface FlatRing {
  /** Closed by a straight side where its ends differed. */
  readonly contour: Contour;
  readonly opening: number;
  /** Exact and signed: positive where it turns clockwise as seen, with the opening within; negative around paper. */
  readonly areaMm2: number;
  /** Corners; the last one joins the first. Side `k` runs from corner `k` to the next. */
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Place of every corner on the contour: the number of its cubic and the parameter on it, added. */
  readonly s: Float64Array;
  readonly box: Box;
}

/** A contour flattened; null for one that has no inside. */
export function flatRing(contour: Contour, opening: number): FlatRing | null {
  const coords = closedCoords(contour.coords);
  if (coords.length < 8) return null;
  const x: number[] = [coords[0]];
  const y: number[] = [coords[1]];
  const s: number[] = [0];
  const cubics = (coords.length - 2) / 6;
  for (let c = 0; c < cubics; c++) {
    flattenCubic(coords, 6 * c, FLATTEN_MM, (px, py, t) => {
      const last = x.length - 1;
      if (x[last] === px && y[last] === py) {
        // A cubic without length: what follows starts behind it.
        s[last] = c + t;
        return;
      }
      x.push(px);
      y.push(py);
      s.push(c + t);
    });
  }
  if (x[x.length - 1] === x[0] && y[y.length - 1] === y[0]) {
    x.pop();
    y.pop();
    s.pop();
  }
  if (x.length < 3) return null;
  const whole: Contour = { closed: true, coords };
  const areaMm2 = contourArea(whole);
  if (areaMm2 === 0) return null;
  const box = { x0: Infinity, y0: Infinity, x1: -Infinity, y1: -Infinity };
  for (let k = 0; k < x.length; k++) {
    if (x[k] < box.x0) box.x0 = x[k];
    if (x[k] > box.x1) box.x1 = x[k];
    if (y[k] < box.y0) box.y0 = y[k];
    if (y[k] > box.y1) box.y1 = y[k];
  }
  return {
    contour: whole,
    opening,
    areaMm2,
    x: Float64Array.from(x),
    y: Float64Array.from(y),
    s: Float64Array.from(s),
    box,
  };
}

/** The box of side `k`. */
export function sideBox(ring: FlatRing, k: number): Box {
  const n = k + 1 < ring.x.length ? k + 1 : 0;
  return {
    x0: Math.min(ring.x[k], ring.x[n]),
    y0: Math.min(ring.y[k], ring.y[n]),
    x1: Math.max(ring.x[k], ring.x[n]),
    y1: Math.max(ring.y[k], ring.y[n]),
  };
}

/** The stretch of curve of side `k`: where its cubic starts in the coordinates, and the parameters of its ends. */
export function sideCurve(ring: FlatRing, k: number): { readonly o: number; readonly t0: number; readonly t1: number } {
  const c = Math.floor(ring.s[k]);
  const t1 = k + 1 < ring.s.length ? Math.min(1, ring.s[k + 1] - c) : 1;
  return { o: 6 * c, t0: ring.s[k] - c, t1 };
}

/** How far the curve of side `k` may lie beside it, mm. */
export function sideError(ring: FlatRing, k: number): number {
  return isStraight(ring.contour.coords, 6 * Math.floor(ring.s[k])) ? 0 : FLATTEN_MM;
}

const indices = new WeakMap<FlatRing, Flatbush>();

/** A spatial index of the ring's sides; made once. */
export function sideIndex(ring: FlatRing): Flatbush {
  let index = indices.get(ring);
  if (!index) {
    index = boxIndex(Array.from(ring.x, (_, k) => sideBox(ring, k)));
    indices.set(ring, index);
  }
  return index;
}

/** Rings of fewer sides are looked through side by side: making an index costs more. */
const FEW_SIDES = 64;

/** Whether a point lies inside the ring (on it either answer may come). */
export function ringHolds(ring: FlatRing, at: Point): boolean {
  const { x, y, box } = ring;
  if (!boxHolds(box, at)) return false;
  let inside = false;
  const side = (k: number): boolean => {
    const n = k + 1 < x.length ? k + 1 : 0;
    if (sideWinding(x[k], y[k], x[n], y[n], at) !== 0) inside = !inside;
    return false;
  };
  if (x.length < FEW_SIDES) {
    for (let k = 0; k < x.length; k++) side(k);
  } else {
    sideIndex(ring).search(at.x, at.y, box.x1, at.y, side);
  }
  return inside;
}

/** Stretches at least this wide are taken at once; narrower ones only where no other level line has a wider one, mm. */
const WIDE_MM = 0.1;

/** A point inside a ring and outside the rings within it: the middle of the widest stretch on a level line, the middle line first. */
export function pointBetween(outer: FlatRing, holes: readonly FlatRing[]): Point {
  const { y0, y1 } = outer.box;
  let best = { width: 0, x: outer.x[0], y: outer.y[0] };
  for (const share of [0.5, 0.381, 0.618, 0.25, 0.75, 0.1, 0.9]) {
    const level = y0 + share * (y1 - y0);
    const cuts: number[] = [];
    addCuts(outer, level, cuts);
    for (const hole of holes) if (hole.box.y0 <= level && level <= hole.box.y1) addCuts(hole, level, cuts);
    cuts.sort((a, b) => a - b);
    for (let k = 0; k + 1 < cuts.length; k += 2) {
      const width = cuts[k + 1] - cuts[k];
      if (width > best.width) best = { width, x: (cuts[k] + cuts[k + 1]) / 2, y: level };
    }
    if (best.width >= WIDE_MM) break;
  }
  return { x: best.x, y: best.y };
}

function addCuts({ x, y }: FlatRing, level: number, cuts: number[]): void {
  let o = x.length - 1;
  for (let k = 0; k < x.length; k++) {
    if (y[o] <= level !== y[k] <= level) cuts.push(x[o] + ((level - y[o]) * (x[k] - x[o])) / (y[k] - y[o]));
    o = k;
  }
}
