import type { Contour, Point } from '@okuri/core';
import { contourArea } from '@okuri/core/inside';
import { evaluateCubic } from '../../packages/core/src/geometry/curve.js';
import type { KnownShape } from './known-shapes.js';

/** Outlines are sampled this densely, mm; a chord of that length lies within 0.04 µm of an arc of 5 mm. */
const STEP_MM = 0.04;

/** Round a true corner of this radius only the corner's own distance is measured, mm. */
const CORNER_MM = 0.25;

/** How far a traced outline lies from the true one. */
export interface OutlineError {
  /** Away from corners, both ways. mm. */
  readonly maxMm: number;
  /** Along the traced outline. mm. */
  readonly meanMm: number;
  /** From true corners to the nearest node, the farthest. mm. */
  readonly cornerMm: number;
  readonly nodes: number;
  /** Of the true area, %. */
  readonly areaPercent: number;
  /** Width of an even line, mm: least and largest, and the standard deviation. */
  readonly width?: { readonly least: number; readonly most: number; readonly deviation: number };
}

export function outlineError(traced: readonly Contour[], shape: KnownShape): OutlineError {
  const mine = traced.map(sampled);
  const truth = shape.contours.map(sampled);
  const awayFromCorners = (p: Point): boolean =>
    shape.corners.every((c) => Math.hypot(c.x - p.x, c.y - p.y) > CORNER_MM);
  const [there, back] = [distances(mine, truth, awayFromCorners), distances(truth, mine, awayFromCorners)];
  const nodePlaces = traced.flatMap(({ coords }) =>
    Array.from({ length: (coords.length - 2) / 6 }, (_, k) => ({ x: coords[6 * k], y: coords[6 * k + 1] })),
  );
  const cornerMm = Math.max(
    0,
    ...shape.corners.map((c) => Math.min(...nodePlaces.map((p) => Math.hypot(p.x - c.x, p.y - c.y)))),
  );
  const area = traced.reduce((sum, contour) => sum + contourArea(contour), 0);
  const error = {
    maxMm: Math.max(...there, ...back),
    meanMm: there.reduce((a, b) => a + b, 0) / there.length,
    cornerMm,
    nodes: nodePlaces.length,
    areaPercent: 100 * (area / shape.areaMm2 - 1),
  };
  return shape.line ? { ...error, width: widthAlong(mine, shape.line.places) } : error;
}

/** Corners of a fine polygon, the first not repeated. */
function sampled({ coords }: Contour): Point[] {
  const points: Point[] = [];
  for (let o = 0; o + 7 < coords.length; o += 6) {
    const length =
      Math.hypot(coords[o + 2] - coords[o], coords[o + 3] - coords[o + 1]) +
      Math.hypot(coords[o + 4] - coords[o + 2], coords[o + 5] - coords[o + 3]) +
      Math.hypot(coords[o + 6] - coords[o + 4], coords[o + 7] - coords[o + 5]);
    const n = Math.max(1, Math.ceil(length / STEP_MM));
    for (let i = 0; i < n; i++) points.push(evaluateCubic(coords, o, i / n));
  }
  return points;
}

/** Cells of the grid that sides are sorted into, mm. */
const CELL_MM = 0.25;

/** The distance of every corner of some polygons, where wanted, to the nearest side of others. */
function distances(from: readonly Point[][], to: readonly Point[][], wanted: (p: Point) => boolean): number[] {
  const cells = new Map<number, [Point, Point][]>();
  const key = (x: number, y: number): number => 65536 * Math.floor(x / CELL_MM) + Math.floor(y / CELL_MM);
  for (const ring of to) {
    ring.forEach((a, k) => {
      const b = ring[(k + 1) % ring.length];
      // Sides are far shorter than cells: their middles will do, with a look into the cells around.
      const at = key((a.x + b.x) / 2, (a.y + b.y) / 2);
      const list = cells.get(at);
      if (list) list.push([a, b]);
      else cells.set(at, [[a, b]]);
    });
  }
  const found: number[] = [];
  for (const p of from.flat()) {
    if (!wanted(p)) continue;
    let best = CELL_MM;
    for (let dy = -1; dy <= 1; dy++) {
      for (let dx = -1; dx <= 1; dx++) {
        for (const [a, b] of cells.get(key(p.x + dx * CELL_MM, p.y + dy * CELL_MM)) ?? []) {
          best = Math.min(best, sideDistance(p, a, b));
        }
      }
    }
    found.push(best);
  }
  return found;
}

function sideDistance(p: Point, a: Point, b: Point): number {
  const [dx, dy] = [b.x - a.x, b.y - a.y];
  const length2 = dx * dx + dy * dy;
  const t = length2 === 0 ? 0 : Math.min(1, Math.max(0, ((p.x - a.x) * dx + (p.y - a.y) * dy) / length2));
  return Math.hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
}

/** Widths across a line at given places. */
function widthAlong(
  rings: readonly Point[][],
  places: readonly { at: Point; normal: Point }[],
): { least: number; most: number; deviation: number } {
  const widths = places.map(({ at, normal }) => {
    let [left, right] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
    for (const ring of rings) {
      ring.forEach((a, k) => {
        const b = ring[(k + 1) % ring.length];
        const side = (p: Point): number => (p.x - at.x) * -normal.y + (p.y - at.y) * normal.x;
        const [s, t] = [side(a), side(b)];
        if (s > 0 === t > 0) return;
        const share = s / (s - t);
        const along = (a.x + share * (b.x - a.x) - at.x) * normal.x + (a.y + share * (b.y - a.y) - at.y) * normal.y;
        if (along > 0) right = Math.min(right, along);
        else left = Math.min(left, -along);
      });
    }
    return left + right;
  });
  const mean = widths.reduce((a, b) => a + b, 0) / widths.length;
  return {
    least: Math.min(...widths),
    most: Math.max(...widths),
    deviation: Math.sqrt(widths.reduce((sum, w) => sum + (w - mean) ** 2, 0) / widths.length),
  };
}
