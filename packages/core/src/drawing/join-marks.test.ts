import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { apply, invert } from '../geometry/matrix.js';
import type { Contour, Matrix, Point } from '../geometry/types.js';
import { layPages } from '../pages/lay-pages.js';
import type { PagePlan, PlannedPage } from '../pages/types.js';
import { joinMarks } from './join-marks.js';
import { sampleFont } from './sample-font.test-help.js';
import type { Item, TextItem } from './types.js';

const font = sampleFont();

function planOf(scaleAcross = 1, scaleAlong = 1, overlapMm = 10): PagePlan {
  const strip = { leftMm: 11, bottomMm: 30 };
  return layPages(
    { widthMm: 485, heightMm: 625 },
    { paper: { widthMm: 210, heightMm: 297 }, marginMm: 6.35, overlapMm, strip, scaleAcross, scaleAlong },
  );
}

interface Seen {
  readonly trims: readonly Contour[];
  readonly lays: readonly Contour[];
  readonly marks: readonly Contour[];
  readonly codes: readonly TextItem[];
}

function seen(items: readonly Item[]): Seen {
  const dash = (mm: number) =>
    items.flatMap((item) => (item.kind === 'path' && item.line?.dashMm?.[0] === mm ? item.contours : []));
  const inside = items.flatMap((item) => (item.kind === 'clip' ? item.items : []));
  return {
    trims: dash(4),
    lays: dash(0.9),
    marks: inside.flatMap((item) => (item.kind === 'path' ? item.contours : [])),
    codes: inside.filter((item): item is TextItem => item.kind === 'text'),
  };
}

/** The corners of a contour on the drawing, to 1e-6 mm. */
function onDrawing(page: PlannedPage, { coords }: Contour): string {
  const back = invert(page.toPage) as Matrix;
  const corners: string[] = [];
  for (let k = 0; k < coords.length; k += 6) {
    const p: Point = apply(back, { x: coords[k], y: coords[k + 1] });
    corners.push(`${p.x.toFixed(5)},${p.y.toFixed(5)}`);
  }
  return corners.join(' ').replaceAll('-0.00000', '0.00000');
}

describe('joinMarks', () => {
  const plan = planOf();
  const page = (name: string) => plan.pages.find((one) => one.name === name) as PlannedPage;

  it('trims only edges that have a neighbour on the left or above', () => {
    const trims = plan.pages.map((one) => seen(joinMarks(plan, one, font)).trims.length);
    expect(trims).toEqual(plan.pages.map(({ row, column }) => Number(row > 0) + Number(column > 0)));
  });

  it('carries the codes of all its neighbours, twice each', () => {
    const codes = seen(joinMarks(plan, page('B1'), font)).codes.map(({ text }) => text);
    expect(codes.sort()).toEqual(['A1·B1', 'A1·B1', 'B1·B2', 'B1·B2', 'B1·C1', 'B1·C1']);
  });

  it('draws a neighbour’s trimmed edge where the neighbour trims', () => {
    const { lays } = seen(joinMarks(plan, page('A1'), font));
    const back = invert(page('A1').toPage) as Matrix;
    const places = lays.map(({ coords }) => apply(back, { x: coords[0], y: coords[1] }));
    expect(places[0].x).toBeCloseTo(page('A2').windowMm.x0, 9);
    expect(places[1].y).toBeCloseTo(page('B1').windowMm.y0, 9);
  });

  it('has no marks on a lone page', () => {
    const one = layPages(
      { widthMm: 100, heightMm: 100 },
      { paper: { widthMm: 210, heightMm: 297 }, marginMm: 5, overlapMm: 10 },
    );
    expect(joinMarks(one, one.pages[0], font)).toEqual([]);
  });

  it('sets the marks of two neighbours on the same places of the drawing', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.95, max: 1.05, noNaN: true }),
        fc.double({ min: 0.95, max: 1.05, noNaN: true }),
        fc.constantFrom(0, 2, 10, 25),
        (across, along, overlap) => {
          const scaled = planOf(across, along, overlap);
          const marksOf = new Map(
            scaled.pages.map((one) => [
              one.name,
              seen(joinMarks(scaled, one, font)).marks.map((contour) => onDrawing(one, contour)),
            ]),
          );
          for (const one of scaled.pages) {
            const neighbours = scaled.pages.filter(
              ({ row, column }) => Math.abs(row - one.row) + Math.abs(column - one.column) === 1,
            );
            const theirs = new Set(neighbours.flatMap(({ name }) => marksOf.get(name) ?? []));
            const own = marksOf.get(one.name) ?? [];
            // Two places an overlap, each with a hair line and its lozenges.
            expect(own).toHaveLength(neighbours.length * 2 * (overlap > 0 ? 3 : 2));
            for (const mark of own) expect(theirs.has(mark)).toBe(true);
          }
        },
      ),
      { numRuns: 20 },
    );
  });
});
