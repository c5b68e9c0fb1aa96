import { expect, it } from 'vitest';
import { findPaper } from '../units/paper-sizes.js';
import { type CoverCheck, coverCheck } from './cover-check.js';
import { layPages } from './lay-pages.js';
import type { PagePlan, PlannedPage } from './types.js';

/** Three columns and two rows, wider than high, corrected by the printer's scale unlike across and along. */
const plan = layPages(
  { widthMm: 520, heightMm: 430 },
  {
    paper: findPaper('A4'),
    marginMm: 6,
    overlapMm: 9,
    strip: { leftMm: 7, bottomMm: 20 },
    orientation: 'portrait',
    scaleAcross: 1.01,
    scaleAlong: 0.98,
  },
);

type Change = (page: PlannedPage) => Partial<PlannedPage>;

/** The plan with the page of a place changed. */
function changed(row: number, column: number, change: Change): PagePlan {
  const pages = plan.pages.map((page) =>
    page.row === row && page.column === column ? { ...page, ...change(page) } : page,
  );
  return { ...plan, pages };
}

const edge =
  (side: 'x0' | 'y0' | 'x1' | 'y1', mm: number): Change =>
  ({ windowMm }) => ({ windowMm: { ...windowMm, [side]: windowMm[side] + mm } });

/** `toPage` as [a, b, c, d, e, f]. */
const matrix =
  (entry: number, by: number): Change =>
  ({ toPage }) => ({ toPage: toPage.map((v, k) => (k === entry ? v + by : v)) as unknown as PlannedPage['toPage'] });

it('has a plan of three by two pages without any error', () => {
  expect([plan.columns, plan.rows]).toEqual([3, 2]);
  const { complete, gapMm, overlapErrorMm, placeErrorMm } = coverCheck(plan);
  expect([complete, gapMm]).toEqual([true, 0]);
  expect(Math.max(overlapErrorMm, placeErrorMm)).toBeLessThan(1e-9);
});

it.each([
  // The outer edges of the drawing: what a window falls short of it is a gap.
  ['short of the left', 1, 0, edge('x0', 3), { complete: false, gapMm: 3 }],
  ['short of the top', 0, 1, edge('y0', 4), { complete: false, gapMm: 4 }],
  ['short of the right', 0, 2, edge('x1', -5), { complete: false, gapMm: 5 }],
  ['short of the bottom', 1, 1, edge('y1', -6), { complete: false, gapMm: 6 }],
  ['beyond the left', 1, 0, edge('x0', -3), { complete: true, gapMm: 0 }],
  ['beyond the bottom', 1, 1, edge('y1', 6), { complete: true, gapMm: 0 }],
  // Between neighbours 9 mm may go before anything is missing.
  ['less over the right neighbour', 0, 1, edge('x1', -8), { complete: true, gapMm: 0, overlapErrorMm: 8 }],
  ['apart from the right neighbour', 1, 1, edge('x1', -11), { complete: false, gapMm: 2, overlapErrorMm: 11 }],
  ['more over the right neighbour', 0, 1, edge('x1', 8), { complete: true, gapMm: 0, overlapErrorMm: 8 }],
  ['less over the lower neighbour', 0, 1, edge('y1', -7), { complete: true, gapMm: 0, overlapErrorMm: 7 }],
  ['apart from the lower neighbour', 0, 2, edge('y1', -12), { complete: false, gapMm: 3, overlapErrorMm: 12 }],
  ['more over the lower neighbour', 0, 1, edge('y1', 7), { complete: true, gapMm: 0, overlapErrorMm: 7 }],
  // Neighbours in a row begin and end level, those in a column side by side.
  ['lower than the right neighbour', 0, 0, edge('y0', 2), { overlapErrorMm: 2 }],
  ['higher than the right neighbour', 0, 0, edge('y0', -2), { overlapErrorMm: 2 }],
  ['ending above the right neighbour', 1, 0, edge('y1', -2), { overlapErrorMm: 2 }],
  ['ending below the right neighbour', 1, 0, edge('y1', 2), { overlapErrorMm: 2 }],
  ['right of the lower neighbour', 0, 0, edge('x0', 2.5), { overlapErrorMm: 2.5 }],
  ['left of the lower neighbour', 0, 0, edge('x0', -2.5), { overlapErrorMm: 2.5 }],
  ['ending left of the lower neighbour', 0, 2, edge('x1', -2.5), { overlapErrorMm: 2.5 }],
  ['ending right of the lower neighbour', 0, 2, edge('x1', 2.5), { overlapErrorMm: 2.5 }],
  // Where the page sets it: page mm, so an edge counts with the printer's scale.
  ['set to the right', 1, 1, matrix(4, 1.5), { complete: true, overlapErrorMm: 0, placeErrorMm: 1.5 }],
  ['set to the left', 1, 1, matrix(4, -1.5), { placeErrorMm: 1.5 }],
  ['set lower', 0, 1, matrix(5, 1.25), { placeErrorMm: 1.25 }],
  ['set higher', 0, 1, matrix(5, -1.25), { placeErrorMm: 1.25 }],
  ['a wide window', 0, 2, edge('x1', 2), { placeErrorMm: 2 * 1.01 }],
  ['a high window', 1, 0, edge('y1', 2), { placeErrorMm: 2 * 0.98 }],
  ['a window that begins early across', 1, 2, edge('x0', -2), { placeErrorMm: 2 * 1.01 }],
  ['a window that begins early along', 1, 2, edge('y0', -3), { placeErrorMm: 3 * 0.98 }],
  ['slanted across', 1, 2, matrix(2, 0.01), { placeErrorMm: 0.01 * 430 }],
  ['slanted along', 1, 2, matrix(1, 0.01), { placeErrorMm: 0.01 * 520 }],
] as const)('measures %s', (_, row, column, change, wanted: Partial<CoverCheck>) => {
  const check = coverCheck(changed(row, column, change));
  if (wanted.complete !== undefined) expect(check.complete).toBe(wanted.complete);
  for (const key of ['gapMm', 'overlapErrorMm', 'placeErrorMm'] as const) {
    if (wanted[key] !== undefined) expect(check[key], key).toBeCloseTo(wanted[key], 9);
  }
});

it('takes rounding for no gap', () => {
  expect(coverCheck(changed(0, 2, edge('x1', -0.9e-6))).complete).toBe(true);
  expect(coverCheck(changed(0, 2, edge('x1', -1.1e-6))).complete).toBe(false);
});

it('asks for one page in each place of the grid', () => {
  const [first, ...others] = plan.pages;
  expect(coverCheck({ ...plan, pages: others }).complete).toBe(false);
  expect(coverCheck({ ...plan, pages: [...plan.pages, first] }).complete).toBe(false);
  expect(coverCheck({ ...plan, pages: [first, first, ...others.slice(1)] }).complete).toBe(false);
  expect(coverCheck({ ...plan, pages: [...plan.pages].reverse() }).complete).toBe(true);
});

it('measures how far whole columns and rows lie over each other', () => {
  const moved = (on: (page: PlannedPage) => boolean, x: number, y: number): CoverCheck => {
    const pages = plan.pages.map((page) => {
      const { x0, y0, x1, y1 } = page.windowMm;
      return on(page) ? { ...page, windowMm: { x0: x0 + x, y0: y0 + y, x1: x1 + x, y1: y1 + y } } : page;
    });
    return coverCheck({ ...plan, pages });
  };
  for (const by of [4, -4, 10]) {
    const gapMm = Math.max(0, by - 9);
    const column = moved((page) => page.column === 2, by, 0);
    expect(column.overlapErrorMm).toBeCloseTo(Math.abs(by), 9);
    expect(column.gapMm).toBeCloseTo(by < 0 ? -by : gapMm, 9);
    const row = moved((page) => page.row === 1, 0, by);
    expect(row.overlapErrorMm).toBeCloseTo(Math.abs(by), 9);
    expect(row.gapMm).toBeCloseTo(by < 0 ? -by : gapMm, 9);
  }
});

it('finds nothing to measure between pages where there are none, or one', () => {
  expect(coverCheck({ ...plan, pages: [] })).toEqual({ complete: false, gapMm: 0, overlapErrorMm: 0, placeErrorMm: 0 });
  const one = layPages({ widthMm: 90, heightMm: 120 }, { paper: findPaper('A4'), marginMm: 6, overlapMm: 9 });
  expect(coverCheck(one)).toEqual({ complete: true, gapMm: 0, overlapErrorMm: 0, placeErrorMm: 0 });
});
