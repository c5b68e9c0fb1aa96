import type { Box, Contour, Point } from '@okuri/core';
import { boxIndex, type FlatRing, flatRing, sideBox } from '@okuri/core/inside';
import type Flatbush from 'flatbush';

/** The outlines of a print, to be asked where they lie. mm. */
export interface PrintedEdges {
  readonly rings: readonly FlatRing[];
  /** Of all sides of all rings; null where nothing is printed. */
  readonly index: Flatbush | null;
  /** Ring and side of every entry of the index. */
  readonly ringOf: Int32Array;
  readonly sideOf: Int32Array;
}

/** An edge that runs more than this beside the planned one is another edge, deg. */
const SAME_WAY_DEG = 50;

/** The print's outlines (dark to the right hand), ready to be asked. */
export function printedEdges(contours: readonly Contour[]): PrintedEdges {
  const rings = contours.flatMap((contour, k) => flatRing(contour, k) ?? []);
  const sides = rings.reduce((sum, { x }) => sum + x.length, 0);
  const [ringOf, sideOf] = [new Int32Array(sides), new Int32Array(sides)];
  const boxes: Box[] = [];
  for (const [r, ring] of rings.entries()) {
    for (let k = 0; k < ring.x.length; k++) {
      ringOf[boxes.length] = r;
      sideOf[boxes.length] = k;
      boxes.push(sideBox(ring, k));
    }
  }
  return { rings, index: boxes.length === 0 ? null : boxIndex(boxes), ringOf, sideOf };
}

/**
 * How far the printed edge lies from a planned one, mm, along the planned edge's outward unit vector: above zero the print is larger. It is the nearest printed edge
 * within reach that runs the same way, with nothing between. NaN where there is none.
 */
export function printedOffset(
  { rings, index, ringOf, sideOf }: PrintedEdges,
  { at, outward }: { readonly at: Point; readonly outward: Point },
  reachMm: number,
): number {
  if (index === null) return Number.NaN;
  const [ex, ey] = [Math.abs(outward.x) * reachMm, Math.abs(outward.y) * reachMm];
  const least = Math.cos((SAME_WAY_DEG * Math.PI) / 180);
  // The nearest crossing on either side of the planned edge, and whether it runs the same way.
  let [out, outSame, back, backSame] = [Infinity, false, Infinity, false];
  for (const entry of index.search(at.x - ex, at.y - ey, at.x + ex, at.y + ey)) {
    const { x, y } = rings[ringOf[entry]];
    const k = sideOf[entry];
    const n = k + 1 < x.length ? k + 1 : 0;
    const [sx, sy] = [x[n] - x[k], y[n] - y[k]];
    const cross = outward.x * sy - outward.y * sx;
    if (cross === 0) continue;
    const [px, py] = [x[k] - at.x, y[k] - at.y];
    const share = (px * outward.y - py * outward.x) / cross;
    if (share < 0 || share > 1) continue;
    const offset = (px * sy - py * sx) / cross;
    const same = (sy * outward.x - sx * outward.y) / Math.hypot(sx, sy) > least;
    if (offset >= 0 && offset < out) [out, outSame] = [offset, same];
    if (offset <= 0 && -offset < back) [back, backSame] = [-offset, same];
  }
  const nearest = Math.min(outSame ? out : Infinity, backSame ? back : Infinity);
  if (nearest > reachMm) return Number.NaN;
  return outSame && out === nearest ? out : -back;
}
