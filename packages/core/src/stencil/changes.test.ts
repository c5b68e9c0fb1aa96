import { expect, it } from 'vitest';
import { boxContour, circleContour, reverseContour } from '../geometry/contour.js';
import type { Contour } from '../geometry/types.js';
import { sheetChanges } from './changes.js';
import { madeOpening, madeSheet } from './made-sheet.test-help.js';
import type { Sheet, SheetOpening } from './types.js';

function opening(number: number, firstCut: readonly Contour[], secondCut: readonly Contour[] = []): SheetOpening {
  return madeOpening(number, { firstCut, secondCut });
}
function sheet(openings: readonly SheetOpening[], border = 0): Sheet {
  return madeSheet({
    widthMm: 400,
    heightMm: 400,
    field: { x0: border, y0: border, x1: border + 200, y1: border + 200 },
    openings,
  });
}
const box = (x0: number, y0: number, x1: number, y1: number) => boxContour({ x0, y0, x1, y1 });
const changes = (before: SheetOpening[], after: SheetOpening[]) => sheetChanges(sheet(before), sheet(after));
const NONE = { cutAgain: [], patch: [], fresh: [] };

it('finds nothing where nothing changed, or less than a knife can', () => {
  const before = [opening(1, [box(10, 10, 20, 20)]), opening(2, [circleContour({ x: 50, y: 50 }, 8)])];
  expect(changes(before, before)).toEqual(NONE);
  const shifted = [opening(1, [box(10.15, 10, 20.15, 20)]), opening(2, [circleContour({ x: 50, y: 50.1 }, 8.05)])];
  expect(changes(before, shifted)).toEqual(NONE);
  expect(
    sheetChanges(
      sheet(before),
      sheet([opening(1, [box(40, 40, 50, 50)]), opening(2, [circleContour({ x: 80, y: 80 }, 8)])], 30),
    ),
  ).toEqual(NONE);
});

it('cuts again where an opening reaches farther, patches where it has gone back', () => {
  const before = [opening(1, [box(10, 10, 20, 20)])];
  expect(changes(before, [opening(1, [box(10, 10, 20.25, 20)])])).toEqual({ ...NONE, cutAgain: [1] });
  expect(changes(before, [opening(1, [box(10, 10, 19.75, 20)])])).toEqual({ ...NONE, patch: [1] });
  expect(changes(before, [opening(1, [box(11, 10, 21, 20)])])).toEqual({ ...NONE, cutAgain: [1], patch: [1] });
  // A new island in it.
  const island = opening(1, [box(10, 10, 20, 20), reverseContour(box(13, 13, 16, 16))]);
  expect(changes(before, [island])).toEqual({ ...NONE, patch: [1] });
  expect(changes([island], before)).toEqual({ ...NONE, cutAgain: [1] });
});

it('tells what is gone and what is new', () => {
  const before = [opening(1, [box(10, 10, 20, 20)]), opening(2, [box(30, 10, 40, 20)])];
  const after = [opening(1, [box(10, 10, 20, 20)]), opening(5, [box(60, 10, 70, 20)])];
  expect(changes(before, after)).toEqual({ cutAgain: [], patch: [2], fresh: [5] });
});

it('patches nothing where two openings became one, and cuts only what lay between', () => {
  const before = [opening(1, [box(10, 10, 20, 20)]), opening(2, [box(22, 10, 32, 20)])];
  expect(changes(before, [opening(1, [box(10, 10, 32, 20)])])).toEqual({ ...NONE, cutAgain: [1] });
  // The other way round: a tie of paper is wanted where the one opening was.
  expect(changes([opening(1, [box(10, 10, 32, 20)])], before)).toEqual({ cutAgain: [], patch: [1], fresh: [2] });
});

it('minds no stop that moved between first and second cut', () => {
  const before = [opening(1, [box(10, 10, 20, 20)], [box(20, 10, 30, 20)])];
  expect(changes(before, [opening(1, [box(10, 10, 24, 20)], [box(24, 10, 30, 20)])])).toEqual(NONE);
});

it('takes empty sheets', () => {
  expect(changes([], [])).toEqual(NONE);
  expect(changes([], [opening(3, [box(0, 0, 5, 5)])])).toEqual({ ...NONE, fresh: [3] });
  expect(changes([opening(3, [box(0, 0, 5, 5)])], [])).toEqual({ ...NONE, patch: [3] });
});
