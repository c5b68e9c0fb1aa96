import type { Curve } from './curve.js';
import { FLATTEN_MM, flattenCubic } from './flatten.js';
import type { Grid, GridPath } from './grid.js';
import { withoutHairpins } from './hairpins.js';
import { CurveMarks } from './marks.js';
import { combine } from './polygons.js';
import { closedCoords, settledContour } from './settle.js';
import type { Contour, FillRule } from './types.js';

/** An area on the grid whose corners are marked with their source curves in `book`. Rings do not cross; nonzero. */
export interface MarkedArea {
  readonly paths: readonly GridPath[];
  readonly book: CurveMarks;
}

/**
 * The area inside contours (each closed by a straight line where it is not) under a fill rule. `owner` is a number that comes back with
 * every curve. Contours without an inside give nothing.
 */
export function fillArea(
  contours: readonly Contour[],
  rule: FillRule,
  grid: Grid,
  { owner = 0, toleranceMm = FLATTEN_MM }: { owner?: number; toleranceMm?: number } = {},
): MarkedArea {
  const book = new CurveMarks();
  const rings = contours.map((c) => flattenRing(c, grid, book, owner, toleranceMm)).filter((r) => r.length >= 3);
  if (rings.length === 0) return { paths: [], book };
  return { paths: combine('union', rings, [], { book, rule }), book };
}

function flattenRing(contour: Contour, grid: Grid, book: CurveMarks, owner: number, toleranceMm: number): GridPath {
  const { coords } = settledContour({ closed: true, coords: closedCoords(contour.coords) });
  if (coords.length < 8) return [];
  const ring: GridPath = [];
  const s: number[] = [];
  const pieces = (coords.length - 2) / 6;
  const curve: Curve = { kind: 'cubic', coords, owner, s, closed: true, sEnd: pieces };
  const push = (x: number, y: number, at: number): void => {
    const gx = Math.round(x * grid.sx);
    const gy = Math.round(y * grid.sy);
    const last = ring[ring.length - 1];
    // What falls on one grid place is one corner. A node goes before the corners within its piece, so that no side lies on two pieces.
    if (last && last.x === gx && last.y === gy) {
      if (Number.isInteger(at) && !Number.isInteger(s[s.length - 1])) s[s.length - 1] = at;
      return;
    }
    ring.push({ x: gx, y: gy });
    s.push(at);
  };
  push(coords[0], coords[1], 0);
  for (let piece = 0; piece < pieces; piece++) {
    flattenCubic(coords, 6 * piece, toleranceMm, (x, y, t) => push(x, y, piece + t));
  }
  const first = ring[0];
  while (ring.length > 1 && ring[ring.length - 1].x === first.x && ring[ring.length - 1].y === first.y) {
    ring.pop();
    s.pop();
  }
  const base = book.addCorners(curve, ring.length);
  ring.forEach((p, k) => {
    p.z = base + k;
  });
  // Only now: what is left keeps the numbers of its places on the curve.
  return withoutHairpins(ring);
}
