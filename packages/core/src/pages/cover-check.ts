import type { PagePlan } from './types.js';

/** How well a plan's pages, laid back together, give the drawing. */
export interface CoverCheck {
  /** Every point of the drawing lies in a window, and every place of the grid has its page. */
  readonly complete: boolean;
  /** The widest strip of the drawing that no window shows, mm. */
  readonly gapMm: number;
  /** The largest difference between a neighbours' overlap and the plan's, mm. */
  readonly overlapErrorMm: number;
  /** The farthest that a page sets its window beyond the content area or short of its corner, page mm. */
  readonly placeErrorMm: number;
}

/** A gap below this is rounding, mm. */
const ROUNDING_MM = 1e-6;

/**
 * Checks a page plan from its windows alone, apart from how they were made: that they cover the drawing, that neighbours overlap by
 * what the plan says, and that every page puts its window where the content belongs.
 */
export function coverCheck(plan: PagePlan): CoverCheck {
  let gapMm = 0;
  let overlapErrorMm = 0;
  let placeErrorMm = 0;
  let places = 0;
  const at = (row: number, column: number) => plan.pages.find((page) => page.row === row && page.column === column);
  for (let row = 0; row < plan.rows; row++) {
    for (let column = 0; column < plan.columns; column++) {
      const page = at(row, column);
      if (page === undefined) continue;
      places++;
      const { x0, y0, x1, y1 } = page.windowMm;
      const [a, b, c, d, e, f] = page.toPage;
      for (const [x, y, cornerX, cornerY] of [
        [x0, y0, plan.contentMm.x0, plan.contentMm.y0],
        [x1, y1, plan.contentMm.x1, plan.contentMm.y1],
      ]) {
        placeErrorMm = Math.max(
          placeErrorMm,
          Math.abs(a * x + c * y + e - cornerX),
          Math.abs(b * x + d * y + f - cornerY),
        );
      }
      if (column === 0) gapMm = Math.max(gapMm, x0);
      if (row === 0) gapMm = Math.max(gapMm, y0);
      if (column === plan.columns - 1) gapMm = Math.max(gapMm, plan.widthMm - x1);
      if (row === plan.rows - 1) gapMm = Math.max(gapMm, plan.heightMm - y1);
      const right = at(row, column + 1);
      const below = at(row + 1, column);
      if (right !== undefined) {
        gapMm = Math.max(gapMm, right.windowMm.x0 - x1);
        overlapErrorMm = Math.max(overlapErrorMm, Math.abs(x1 - right.windowMm.x0 - plan.overlapMm));
        overlapErrorMm = Math.max(overlapErrorMm, Math.abs(right.windowMm.y0 - y0), Math.abs(right.windowMm.y1 - y1));
      }
      if (below !== undefined) {
        gapMm = Math.max(gapMm, below.windowMm.y0 - y1);
        overlapErrorMm = Math.max(overlapErrorMm, Math.abs(y1 - below.windowMm.y0 - plan.overlapMm));
        overlapErrorMm = Math.max(overlapErrorMm, Math.abs(below.windowMm.x0 - x0), Math.abs(below.windowMm.x1 - x1));
      }
    }
  }
  const complete = places === plan.rows * plan.columns && places === plan.pages.length && gapMm <= ROUNDING_MM;
  return { complete, gapMm, overlapErrorMm, placeErrorMm };
}
