import { apply } from '../geometry/matrix.js';
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
  const { contentMm, overlapMm, widthMm, heightMm, rows, columns, pages } = plan;
  const at = (row: number, column: number) => pages.find((page) => page.row === row && page.column === column);
  const gaps: number[] = [];
  const overlapErrors: number[] = [];
  const placeErrors: number[] = [];
  for (const { row, column, windowMm, toPage } of pages) {
    const { x0, y0, x1, y1 } = windowMm;
    const low = apply(toPage, { x: x0, y: y0 });
    const high = apply(toPage, { x: x1, y: y1 });
    placeErrors.push(low.x - contentMm.x0);
    placeErrors.push(low.y - contentMm.y0);
    placeErrors.push(high.x - contentMm.x1);
    placeErrors.push(high.y - contentMm.y1);
    if (column === 0) gaps.push(x0);
    if (row === 0) gaps.push(y0);
    if (column === columns - 1) gaps.push(widthMm - x1);
    if (row === rows - 1) gaps.push(heightMm - y1);
    const right = at(row, column + 1)?.windowMm;
    const below = at(row + 1, column)?.windowMm;
    if (right !== undefined) {
      gaps.push(right.x0 - x1);
      overlapErrors.push(x1 - right.x0 - overlapMm);
      overlapErrors.push(right.y0 - y0);
      overlapErrors.push(right.y1 - y1);
    }
    if (below !== undefined) {
      gaps.push(below.y0 - y1);
      overlapErrors.push(y1 - below.y0 - overlapMm);
      overlapErrors.push(below.x0 - x0);
      overlapErrors.push(below.x1 - x1);
    }
  }
  const places = Array.from({ length: rows * columns }, (_, k) => at(Math.floor(k / columns), k % columns));
  const filled = pages.length === places.length && places.every((page) => page !== undefined);
  const gapMm = Math.max(0, ...gaps);
  return {
    complete: filled && gapMm <= ROUNDING_MM,
    gapMm,
    overlapErrorMm: Math.max(0, ...overlapErrors.map(Math.abs)),
    placeErrorMm: Math.max(0, ...placeErrors.map(Math.abs)),
  };
}
