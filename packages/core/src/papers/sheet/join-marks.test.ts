import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ClearSpace, NO_OWNER, turnedCorners } from '../../draw/clear-space.js';
import { textTurnedBox } from '../../draw/label-box.js';
import type { Item, TextItem } from '../../draw/types.js';
import { apply, invert } from '../../geometry/matrix.js';
import type { Contour, Matrix, Point } from '../../geometry/types.js';
import { layPages } from '../../pages/lay-pages.js';
import type { PagePlan, PlannedPage } from '../../pages/types.js';
import { sampleFont } from '../guide/sample-font.test-help.js';
import { joinMarks } from './join-marks.js';

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
    const codes = seen(joinMarks(plan, page('P3'), font)).codes.map(({ text }) => text);
    expect(codes.sort()).toEqual(['P1·P3', 'P1·P3', 'P3·P4', 'P3·P4', 'P3·P5', 'P3·P5']);
  });

  it('draws a neighbour’s trimmed edge where the neighbour trims', () => {
    const { lays } = seen(joinMarks(plan, page('P1'), font));
    const back = invert(page('P1').toPage) as Matrix;
    const places = lays.map(({ coords }) => apply(back, { x: coords[0], y: coords[1] }));
    expect(places[0].x).toBeCloseTo(page('P2').windowMm.x0, 9);
    expect(places[1].y).toBeCloseTo(page('P3').windowMm.y0, 9);
  });

  it('has no marks on a lone page', () => {
    const one = layPages(
      { widthMm: 100, heightMm: 100 },
      { paper: { widthMm: 210, heightMm: 297 }, marginMm: 5, overlapMm: 10 },
    );
    expect(joinMarks(one, one.pages[0], font)).toEqual([]);
  });

  it('moves marks along the overlap until their codes are clear, the same for both pages, and leaves out a code that has no place', () => {
    const space = new ClearSpace();
    // Lines 3 mm apart across the upper half of the sheet's left two thirds: no code fits between them.
    for (let y = 0; y < 300; y += 3) space.addLine(0, y, 330, y, NO_OWNER);
    const codesOn = (name: string) => {
      const one = page(name);
      const back = invert(one.toPage) as Matrix;
      return seen(
        joinMarks(plan, one, font, { all: space, dots: new ClearSpace(), words: new ClearSpace() }),
      ).codes.map((code) => ({
        code,
        at: apply(back, code),
      }));
    };
    const all = plan.pages.flatMap(({ name }) => codesOn(name));
    expect(all.length).toBeGreaterThan(0);
    expect(all.length).toBeLessThan(
      plan.pages.reduce((sum, { name }) => sum + seen(joinMarks(plan, page(name), font)).codes.length, 0),
    );
    for (const { code, at } of all) {
      const back = { ...code, ...at };
      const corners = turnedCorners(textTurnedBox(back, font));
      const box = {
        x0: Math.min(...corners.map(({ x }) => x)),
        y0: Math.min(...corners.map(({ y }) => y)),
        x1: Math.max(...corners.map(({ x }) => x)),
        y1: Math.max(...corners.map(({ y }) => y)),
      };
      expect(space.isClear(box), code.text).toBe(true);
    }
    // Every code that one page shows, its neighbour shows at the same place.
    const key = ({ code, at }: { code: TextItem; at: Point }) => `${code.text} ${at.x.toFixed(6)} ${at.y.toFixed(6)}`;
    const counts = new Map<string, number>();
    for (const one of all) counts.set(key(one), (counts.get(key(one)) ?? 0) + 1);
    expect([...counts.values()].every((n) => n === 2)).toBe(true);
  });

  it('keeps marks off words where there is a place for them', () => {
    const free = seen(joinMarks(plan, page('P1'), font)).marks.map((c) => onDrawing(page('P1'), c));
    const words = new ClearSpace();
    // A word where the first mark of P1·P2 would stand.
    const { y0, y1, x1 } = page('P1').windowMm;
    const at = { x: x1 - 5, y: y0 + 0.22 * (y1 - y0) };
    words.addBox({ x0: at.x - 4, y0: at.y - 2, x1: at.x + 4, y1: at.y + 2 }, NO_OWNER);
    const moved = seen(
      joinMarks(plan, page('P1'), font, { all: new ClearSpace(), dots: new ClearSpace(), words }),
    ).marks;
    const back = invert(page('P1').toPage) as Matrix;
    expect(moved.map((c) => onDrawing(page('P1'), c))).not.toEqual(free);
    for (const { coords } of moved) {
      for (let k = 0; k + 1 < coords.length; k += 2) {
        const p = apply(back, { x: coords[k], y: coords[k + 1] });
        expect(Math.abs(p.x - at.x) < 4 && Math.abs(p.y - at.y) < 2).toBe(false);
      }
    }
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
