import { expect, it } from 'vitest';
import type { Item } from '../draw/types.js';
import { boxContour } from '../geometry/contour.js';
import { printOverPlanDrawing } from '../papers/proof/overlay.js';
import type { PrintDifference } from '../proof/types.js';
import { secondCutJob } from './second-cut-job.test-help.js';

/** Every path of a drawing, wherever it stands. */
function paths(items: readonly Item[]): Extract<Item, { kind: 'path' }>[] {
  return items.flatMap((item) => (item.kind === 'path' ? [item] : 'items' in item ? paths(item.items) : []));
}

it('lays the print over the plan on a page of the sheet’s own size', () => {
  const [sheet] = secondCutJob().sheets;
  const box = { x0: 100, y0: 60, x1: 120, y1: 80 };
  const printed = [boxContour({ ...box, x1: 110 })];
  const difference = (kind: PrintDifference['kind']): PrintDifference => ({
    kind,
    number: 1,
    areaMm2: 40,
    deepMm: 2,
    at: { x: 105, y: 70 },
    box,
  });
  const about = { title: 'Reed bars', date: '2026-05-04' };
  const plain = printOverPlanDrawing({ printed, differences: [] }, sheet, about);
  expect(plain).toMatchObject(about);
  expect(plain.pages).toHaveLength(1);
  expect(plain.pages[0]).toMatchObject({ widthMm: sheet.widthMm, heightMm: sheet.heightMm });
  const all = paths(plain.pages[0].items);
  const first = sheet.openings.flatMap(({ firstCut }) => firstCut);
  const second = sheet.openings.flatMap(({ secondCut }) => secondCut);
  expect(all.filter(({ fill }) => fill !== undefined).map(({ contours }) => contours.length)).toEqual([1]);
  expect(all.map(({ contours }) => contours.length)).toEqual(expect.arrayContaining([first.length, second.length]));
  expect(all.some(({ contours }) => contours.length === sheet.dots.length)).toBe(true);
  // What is beside the plan is filled in another colour; what is missing is hatched.
  const fills = (kind: PrintDifference['kind']) =>
    paths(printOverPlanDrawing({ printed, differences: [difference(kind)] }, sheet, about).pages[0].items);
  expect(new Set(fills('extra').flatMap(({ fill }) => fill ?? [])).size).toBe(2);
  expect(fills('missing').length).toBeGreaterThan(all.length);
});
