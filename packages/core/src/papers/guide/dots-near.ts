import { boxDistance } from '../../geometry/boxes.js';
import { flattenCubic } from '../../geometry/flatten.js';
import { contourDistance, insideContours } from '../../geometry/point-tests.js';
import { distance } from '../../geometry/points.js';
import type { Contour, Point } from '../../geometry/types.js';
import type { Sheet, SheetOpening } from '../../stencil/types.js';

/** Where a curve is nearest is drawn to this, mm: a tenth of the line that shows it. The distance itself is that of the curve. */
const FLATTEN_MM = 0.02;

/** The opening that comes nearest to a place of a sheet. */
export interface NearOpening {
  readonly number: number;
  /** From the place to the opening's outline; 0 where the place lies in the opening. */
  readonly mm: number;
  readonly inside: boolean;
  /** Where the outline is nearest, sheet mm; the place itself where it lies inside. */
  readonly foot: Point;
}

/** The opening (first or second cut) that comes nearest to a place; null for a sheet without openings. Time grows with the openings, not with their squares. */
export function nearOpening({ openings }: Pick<Sheet, 'openings'>, at: Point): NearOpening | null {
  let best: { readonly own: SheetOpening; readonly contours: readonly Contour[]; readonly mm: number } | null = null;
  for (const own of openings) {
    // No part of an opening is nearer than its box.
    if (best !== null && boxDistance(own.box, at) >= best.mm) continue;
    for (const contours of [own.firstCut, own.secondCut]) {
      if (contours.length === 0) continue;
      if (insideContours(contours, at)) return { number: own.number, mm: 0, inside: true, foot: at };
      const mm = contourDistance(contours, at);
      if (best === null || mm < best.mm) best = { own, contours, mm };
    }
  }
  if (best === null) return null;
  return { number: best.own.number, mm: best.mm, inside: false, foot: footOn(best.contours, at) };
}

function footOn(contours: readonly Contour[], at: Point): Point {
  let foot = at;
  let far = Infinity;
  for (const { coords } of contours) {
    let [x, y] = [coords[0], coords[1]];
    const side = (nx: number, ny: number): void => {
      const [dx, dy] = [nx - x, ny - y];
      const square = dx * dx + dy * dy;
      const t = square === 0 ? 0 : Math.min(1, Math.max(0, ((at.x - x) * dx + (at.y - y) * dy) / square));
      const p = { x: x + t * dx, y: y + t * dy };
      const mm = distance(p, at);
      if (mm < far) {
        far = mm;
        foot = p;
      }
      x = nx;
      y = ny;
    };
    for (let k = 0; k + 7 < coords.length; k += 6) flattenCubic(coords, k, FLATTEN_MM, side);
  }
  return foot;
}
