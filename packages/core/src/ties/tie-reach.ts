import type Flatbush from 'flatbush';
import { boxOf, controlBox } from '../geometry/boxes.js';
import { boxIndex } from '../geometry/cluster.js';
import { FLATTEN_MM, flattenCubic } from '../geometry/flatten.js';
import { segmentLength } from '../geometry/segments.js';
import type { Box, Contour } from '../geometry/types.js';
import type { TieEnds, TieReach } from './tie-shape.js';

/** How far a strip goes on when its whole width has reached paper, mm: ten times what flattening may hide. */
const BITE_MM = 0.05;
/** Lines across the strip nearer than this are one, mm; stretches shorter than this join nothing. */
const TOUCH_MM = 1e-6;

/** Curves of outlines, found by place. */
export interface CurveIndex {
  readonly contours: readonly Contour[];
  /** Contour and first coordinate of every curve, in the order of `boxes`. */
  readonly curves: readonly (readonly [contour: number, at: number])[];
  readonly boxes: Flatbush | null;
}

/** An index over the curves of outlines, for `tieReach`. */
export function indexCurves(contours: readonly Contour[]): CurveIndex {
  const curves: [number, number][] = [];
  const boxes: Box[] = [];
  contours.forEach(({ coords: q }, k) => {
    for (let o = 0; o + 7 < q.length; o += 6) {
      curves.push([k, o]);
      boxes.push(controlBox(q, o));
    }
  });
  return { contours, curves, boxes: boxes.length > 0 ? boxIndex(boxes) : null };
}

export interface TieReachOptions {
  readonly widthMm: number;
  readonly flareMm: number;
  /** Farthest it may run on past a bank, mm; two widths by default. */
  readonly capMm?: number;
}

/**
 * How far the strip of a tie has to run on past its banks until its whole width (flares too) has reached paper, and 0.05 mm more. `outlines`
 * holds the closed outlines of all openings round about (they may touch, not cross); the tie's middle lies in an opening. Null where there is
 * no such reach: the opening goes on past the cap, or the strip would run into another opening, or into its own again.
 */
export function tieReach(tie: TieEnds, outlines: CurveIndex, options: TieReachOptions): TieReach | null {
  const { widthMm, flareMm, capMm = 2 * widthMm } = options;
  const length = segmentLength(tie);
  if (!(length > 0)) return null;
  const strip: Strip = { length, half: widthMm / 2 + flareMm, capMm };
  const open = openBands(sidesAlong(tie, strip, outlines), strip)?.flat();
  if (open === undefined) return null;
  let low = 0;
  let high = length;
  for (const { from, to, own } of open) {
    if (!own) continue;
    low = Math.min(low, ...from);
    high = Math.max(high, ...to);
  }
  const reach = { from: BITE_MM - low, to: BITE_MM + high - length };
  if (reach.from > capMm || reach.to > capMm) return null;
  const meetsMore = open.some(
    ({ from, to, own }) => !own && Math.min(...from) < length + reach.to && Math.max(...to) > -reach.from,
  );
  return meetsMore ? null : reach;
}

/**
 * How far past its banks the strip of a tie has opening along its left side, seen from its first bank to its second, and along its right one;
 * negative where paper comes in before the bank's place in the middle. 0 where paper stands all along that side. Null as `tieReach`.
 */
export function sideReach(
  tie: TieEnds,
  outlines: CurveIndex,
  { widthMm, flareMm, capMm = 2 * widthMm }: TieReachOptions,
): readonly [left: TieReach, right: TieReach] | null {
  const length = segmentLength(tie);
  if (!(length > 0)) return null;
  const strip: Strip = { length, half: widthMm / 2 + flareMm, capMm };
  const bands = openBands(sidesAlong(tie, strip, outlines), strip);
  if (bands === null) return null;
  const alongLine = (band: readonly Stretch[], line: 0 | 1): TieReach => {
    const own = band.filter((s) => s.own && s.to[line] - s.from[line] > TOUCH_MM);
    if (own.length === 0) return { from: 0, to: 0 };
    return {
      from: Math.max(...own.map((s) => -s.from[line])),
      to: Math.max(...own.map((s) => s.to[line] - length)),
    };
  };
  return [alongLine(bands[0], 0), alongLine(bands[bands.length - 1], 1)];
}

interface Strip {
  readonly length: number;
  readonly half: number;
  readonly capMm: number;
}

/** A side of a flattened outline; u runs along the tie from its first bank, v across it. */
interface FlatSide {
  readonly u0: number;
  readonly v0: number;
  readonly u1: number;
  readonly v1: number;
}

/** The sides of outlines that come near a strip, in its own places. */
function sidesAlong({ from, to }: TieEnds, { length, half, capMm }: Strip, outlines: CurveIndex): FlatSide[] {
  const ux = (to.x - from.x) / length;
  const uy = (to.y - from.y) / length;
  const corners = [-capMm, length + capMm].flatMap((u) =>
    [-half, half].map((v) => ({ x: from.x + u * ux - v * uy, y: from.y + u * uy + v * ux })),
  );
  const { x0, y0, x1, y1 } = boxOf(corners);
  const found = outlines.boxes?.search(x0, y0, x1, y1) ?? [];
  const sides: FlatSide[] = [];
  for (const index of found) {
    const [contour, o] = outlines.curves[index];
    const { coords } = outlines.contours[contour];
    const place = (x: number, y: number): [number, number] => [
      (x - from.x) * ux + (y - from.y) * uy,
      (y - from.y) * ux - (x - from.x) * uy,
    ];
    let [u0, v0] = place(coords[o], coords[o + 1]);
    flattenCubic(coords, o, FLATTEN_MM, (x, y) => {
      const [u1, v1] = place(x, y);
      if (Math.min(v0, v1) <= half && Math.max(v0, v1) >= -half) sides.push({ u0, v0, u1, v1 });
      [u0, v0] = [u1, v1];
    });
  }
  return sides;
}

/** Open stretches between two level lines: where they begin and end on either line. `own`: joined with the middle of the tie. */
interface Stretch {
  readonly from: readonly [number, number];
  readonly to: readonly [number, number];
  own: boolean;
}

/**
 * What of the strip (as far as the cap) is open, as stretches between level lines through all corners, band after band from its left side to
 * its right one. Null where the middle of the tie is not open, or what it lies in goes on past the cap.
 */
function openBands(sides: readonly FlatSide[], strip: Strip): Stretch[][] | null {
  const { half, length, capMm } = strip;
  const levels = levelsOf(sides, half);
  const bands: Stretch[][] = [];
  const seeds: Stretch[] = [];
  for (let k = 0; k + 1 < levels.length; k++) {
    const band = bandStretches(sides, levels[k], levels[k + 1], strip);
    bands.push(band);
    if (levels[k] === 0 || levels[k + 1] === 0) {
      const end = levels[k] === 0 ? 0 : 1;
      const seed = band.find((s) => s.from[end] < length / 2 && s.to[end] > length / 2);
      if (seed) seeds.push(seed);
    }
  }
  if (seeds.length === 0) return null;
  const bandOf = new Map<Stretch, number>();
  bands.forEach((band, k) => {
    for (const s of band) bandOf.set(s, k);
  });
  const todo = [...seeds];
  for (let s = todo.pop(); s; s = todo.pop()) {
    if (s.own) continue;
    s.own = true;
    if (Math.min(...s.from) <= -capMm || Math.max(...s.to) >= length + capMm) return null;
    const k = bandOf.get(s) as number;
    for (const [next, mine, theirs] of [
      [bands[k - 1], 0, 1],
      [bands[k + 1], 1, 0],
    ] as const) {
      for (const o of next ?? []) {
        const shared = Math.min(s.to[mine], o.to[theirs]) - Math.max(s.from[mine], o.from[theirs]);
        if (!o.own && shared > TOUCH_MM) todo.push(o);
      }
    }
  }
  return bands;
}

/** Level lines across the strip: its sides, its middle, and one through every corner in it. */
function levelsOf(sides: readonly FlatSide[], half: number): number[] {
  const corners = sides
    .flatMap((s) => [s.v0, s.v1])
    .filter((v) => Math.abs(v) > TOUCH_MM && Math.abs(v) < half - TOUCH_MM);
  const sorted = [-half, 0, half, ...corners].sort((a, b) => a - b);
  return sorted.filter((v, k) => v === 0 || v === half || k === 0 || v - sorted[k - 1] > TOUCH_MM * 1e-3);
}

/** The open stretches between two level lines with no corner between them. What is open is told from the middle of the tie, which is. */
function bandStretches(sides: readonly FlatSide[], low: number, high: number, { length, capMm }: Strip): Stretch[] {
  const middle = (low + high) / 2;
  const centre = length / 2;
  const between = [Math.min(0, middle), Math.max(0, middle)];
  let open = true;
  const cuts: { side: FlatSide; at: number }[] = [];
  for (const side of sides) {
    if (side.u0 <= centre !== side.u1 <= centre) {
      const v = side.v0 + ((centre - side.u0) / (side.u1 - side.u0)) * (side.v1 - side.v0);
      if (v > between[0] && v <= between[1]) open = !open;
    }
    if (side.v0 <= middle !== side.v1 <= middle) {
      const [a, b] = [levelPlace(side, low), levelPlace(side, high)];
      // Sides do not cross between the two lines: what comes within the cap on either counts.
      if (Math.max(a, b) > -capMm && Math.min(a, b) < length + capMm) cuts.push({ side, at: levelPlace(side, middle) });
    }
  }
  cuts.sort((a, b) => a.at - b.at);
  const home = cuts.filter((c) => c.at < centre).length;
  const out: Stretch[] = [];
  for (let k = 0; k <= cuts.length; k++) {
    if (open === ((k - home) % 2 !== 0)) continue;
    const place = (cut: number, none: number): [number, number] => {
      const side = cuts[cut]?.side;
      return side ? [levelPlace(side, low), levelPlace(side, high)] : [none, none];
    };
    out.push({ from: place(k - 1, -capMm), to: place(k, length + capMm), own: false });
  }
  return out;
}

/** Where a side meets a level line; the line lies between its ends, to rounding. */
function levelPlace({ u0, v0, u1, v1 }: FlatSide, v: number): number {
  return u0 + Math.min(1, Math.max(0, (v - v0) / (v1 - v0))) * (u1 - u0);
}
