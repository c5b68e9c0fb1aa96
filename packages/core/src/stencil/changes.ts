import { boxIndex } from '../geometry/cluster.js';
import { translateContour } from '../geometry/contour.js';
import { fillArea } from '../geometry/fill.js';
import { type Grid, type GridPath, makeGrid } from '../geometry/grid.js';
import { CurveMarks } from '../geometry/marks.js';
import { combine } from '../geometry/polygons.js';
import { isThick } from '../geometry/thick.js';
import type { Box, Contour } from '../geometry/types.js';
import type { Sheet, SheetChanges, SheetOpening } from './types.js';

/** Strips thinner than this are no change, mm: a knife's accuracy. */
const KNIFE_MM = 0.2;
/** A grid of 0.1 µm; its size is of no account where nothing repeats. */
const GRID: Grid = makeGrid(1_000, 1_000);
/** Outlines that differ by less are the same, mm: the rounding of the grid. */
const SAME_MM = 1e-3;

/** An opening moved to the field's own places, with its area made when it is asked for. */
interface Placed {
  readonly number: number;
  readonly contours: readonly Contour[];
  readonly box: Box;
  area(): readonly GridPath[];
}

/**
 * What has to be done to a sheet that was cut after `oldSheet` so that it becomes `newSheet`. Openings are told by their numbers; places count from the
 * field's upper left, so that a wider border changes nothing. `cutAgain`: an opening reaches where paper was; `patch`: paper is wanted
 * where something was cut, or the opening is gone; `fresh`: a number that the old sheet does not have. Strips thinner than 0.2 mm do
 * not count.
 */
export function sheetChanges(oldSheet: Sheet, newSheet: Sheet): SheetChanges {
  const before = placedOpenings(oldSheet);
  const after = placedOpenings(newSheet);
  const old = new Map(before.map((o) => [o.number, o]));
  const now = new Map(after.map((o) => [o.number, o]));
  const oldIndex = overlapping(before);
  const newIndex = overlapping(after);
  const cutAgain: number[] = [];
  const patch: number[] = [];
  for (const opening of after) {
    const was = old.get(opening.number);
    if (was === undefined || sameOutlines(was.contours, opening.contours)) continue;
    if (reachesPast(opening, oldIndex(opening.box))) cutAgain.push(opening.number);
  }
  for (const opening of before) {
    const is = now.get(opening.number);
    if (is !== undefined && sameOutlines(is.contours, opening.contours)) continue;
    if (reachesPast(opening, newIndex(opening.box))) patch.push(opening.number);
  }
  return { cutAgain, patch, fresh: after.filter((o) => !old.has(o.number)).map((o) => o.number) };
}

function placedOpenings({ openings, field }: Sheet): Placed[] {
  return openings.map((opening) => {
    const contours = movedContours(opening, field);
    let area: readonly GridPath[] | null = null;
    return {
      number: opening.number,
      contours,
      box: {
        x0: opening.box.x0 - field.x0,
        y0: opening.box.y0 - field.y0,
        x1: opening.box.x1 - field.x0,
        y1: opening.box.y1 - field.y0,
      },
      area: () => {
        // Without the marks of its curves: each opening has a book of its own, and nothing is drawn from this.
        area ??= fillArea(contours, 'nonzero', GRID).paths.map((ring) => ring.map(({ x, y }) => ({ x, y })));
        return area;
      },
    };
  });
}

function movedContours({ firstCut, secondCut }: SheetOpening, field: Box): Contour[] {
  return [...firstCut, ...secondCut].map((c) => translateContour(c, { x: -field.x0, y: -field.y0 }));
}

/** Finds the openings whose boxes overlap one. */
function overlapping(openings: readonly Placed[]): (box: Box) => Placed[] {
  if (openings.length === 0) return () => [];
  const index = boxIndex(openings.map((o) => o.box));
  return (box) => index.search(box.x0, box.y0, box.x1, box.y1).map((k) => openings[k]);
}

/** Whether an opening reaches, by more than a knife's accuracy, where none of the others is. */
function reachesPast(opening: Placed, others: readonly Placed[]): boolean {
  const past = combine(
    'difference',
    opening.area(),
    others.flatMap((o) => o.area()),
    { book: new CurveMarks() },
  );
  return isThick(past, KNIFE_MM * GRID.sx);
}

function sameOutlines(a: readonly Contour[], b: readonly Contour[]): boolean {
  return (
    a.length === b.length &&
    a.every(({ coords }, k) => {
      const others = b[k].coords;
      return coords.length === others.length && coords.every((v, n) => Math.abs(v - others[n]) <= SAME_MM);
    })
  );
}
