import { describe, expect, it } from 'vitest';
import { ClearSpace, NO_OWNER } from '../../draw/clear-space.js';
import type { Item, TextItem } from '../../draw/types.js';
import { apply, invert } from '../../geometry/matrix.js';
import type { Contour, Matrix, Point } from '../../geometry/types.js';
import { layPages } from '../../pages/lay-pages.js';
import type { PagePlan, PlannedPage } from '../../pages/types.js';
import { type JoinSpace, joinMarks } from '../sheet/join-marks.js';
import { sampleFont } from './sample-font.test-help.js';

const font = sampleFont();

/** 3 pages across and 3 down, with a printer that prints 2 % too small across and 1 % too small along. */
function planOf(overlapMm = 10): PagePlan {
  return layPages(
    { widthMm: 485, heightMm: 625 },
    {
      paper: { widthMm: 210, heightMm: 297 },
      marginMm: 6,
      overlapMm,
      strip: { leftMm: 11, bottomMm: 30 },
      scaleAcross: 1.02,
      scaleAlong: 1.01,
      orientation: 'portrait',
    },
  );
}

const plan = planOf();
/** A page by its row as a letter and its column as a number, whatever it is called. */
const page = (place: string, of = plan) =>
  of.pages.find(
    ({ row, column }) => row === place.charCodeAt(0) - 65 && column === Number(place.slice(1)) - 1,
  ) as PlannedPage;
const codeOf = (low: string, high: string) => `${page(low).name}·${page(high).name}`;

function points({ coords }: Contour): Point[] {
  return Array.from({ length: (coords.length - 2) / 6 + 1 }, (_, k) => ({ x: coords[6 * k], y: coords[6 * k + 1] }));
}

const dashed = (items: readonly Item[], mm: number) =>
  items.flatMap((item) => (item.kind === 'path' && item.line?.dashMm?.[0] === mm ? item.contours : []));
const within = (items: readonly Item[]) => items.flatMap((item) => (item.kind === 'clip' ? item.items : []));
const marks = (items: readonly Item[]) => within(items).flatMap((item) => (item.kind === 'path' ? item.contours : []));
const codes = (items: readonly Item[]) => within(items).filter((item): item is TextItem => item.kind === 'text');

/** A page's outlines on the drawing. */
function onDrawing(one: PlannedPage, contours: readonly Contour[]): Point[][] {
  const back = invert(one.toPage) as Matrix;
  return contours.map((contour) => points(contour).map((p) => apply(back, p)));
}

function close(points: readonly Point[], wanted: readonly (readonly [number, number])[]): void {
  expect(points).toHaveLength(wanted.length);
  points.forEach((p, k) => {
    expect(p.x).toBeCloseTo(wanted[k][0], 6);
    expect(p.y).toBeCloseTo(wanted[k][1], 6);
  });
}

describe('where a page is trimmed', () => {
  it('is along the left and the upper edge of its picture, 2.5 mm past it at either end', () => {
    const { x0, y0, x1, y1 } = plan.contentMm;
    const [left, top] = dashed(joinMarks(plan, page('B2'), font), 4).map(points);
    close(left, [
      [x0, y0 - 2.5],
      [x0, y1 + 2.5],
    ]);
    close(top, [
      [x0 - 2.5, y0],
      [x1 + 2.5, y0],
    ]);
    const first = dashed(joinMarks(plan, page('A2'), font), 4).map(points);
    expect(first).toHaveLength(1);
    close(first[0], [
      [x0, y0 - 2.5],
      [x0, y1 + 2.5],
    ]);
    expect(dashed(joinMarks(plan, page('A1'), font), 4)).toEqual([]);
  });

  it('is where the page below it shows its line, as long as what both show', () => {
    const [a, b] = [page('A1').windowMm, page('A2').windowMm];
    const [right, below] = onDrawing(page('A1'), dashed(joinMarks(plan, page('A1'), font), 0.9));
    close(right, [
      [b.x0, a.y0],
      [b.x0, a.y1],
    ]);
    close(below, [
      [a.x0, page('B1').windowMm.y0],
      [a.x1, page('B1').windowMm.y0],
    ]);
    // The last page lies on others, and none lies on it.
    expect(dashed(joinMarks(plan, page('C3'), font), 0.9)).toEqual([]);
  });
});

describe('lozenges of an overlap', () => {
  const shares = [0.22, 0.78];

  it('have their middles on both edges, 3 mm from corner to middle, at two places along it', () => {
    const drawn = onDrawing(page('A1'), marks(joinMarks(plan, page('A1'), font)));
    const [a, b] = [page('A1').windowMm, page('A2').windowMm];
    shares.forEach((share, k) => {
      const along = a.y0 + share * (a.y1 - a.y0);
      const [low, high, line] = drawn.slice(3 * k, 3 * k + 3);
      for (const [lozenge, edge] of [
        [low, b.x0],
        [high, a.x1],
      ] as const) {
        const corners = lozenge.slice(0, 4);
        close(corners, [
          [edge - 3, along],
          [edge, along - 3],
          [edge + 3, along],
          [edge, along + 3],
        ]);
      }
      close(line, [
        [b.x0 - 5, along],
        [a.x1 + 5, along],
      ]);
    });
    const below = drawn.slice(6, 9);
    const along = a.x0 + shares[0] * (a.x1 - a.x0);
    const edge = page('B1').windowMm.y0;
    close(below[0].slice(0, 4), [
      [along, edge - 3],
      [along - 3, edge],
      [along, edge + 3],
      [along + 3, edge],
    ]);
    close(below[2], [
      [along, edge - 5],
      [along, a.y1 + 5],
    ]);
  });

  it('are as narrow as half a narrow overlap, so that the two do not meet, and one where pages only touch', () => {
    const narrow = planOf(4);
    const [low] = onDrawing(page('A1', narrow), marks(joinMarks(narrow, page('A1', narrow), font)));
    expect(low[2].x - low[0].x).toBeCloseTo(4, 6);
    const touching = planOf(0);
    const drawn = onDrawing(page('A1', touching), marks(joinMarks(touching, page('A1', touching), font)));
    expect(drawn).toHaveLength(2 * 2 * 2);
    expect(drawn[0][2].x - drawn[0][0].x).toBeCloseTo(6, 6);
  });
});

describe('the code of an overlap', () => {
  const em = 3;
  const rise = (em * 0.7) / 2;

  it('names both pages beside the hair line, in the middle of the overlap, running along it', () => {
    const [first, , below] = codes(joinMarks(plan, page('A1'), font));
    const [a, b] = [page('A1').windowMm, page('A2').windowMm];
    const at = apply(page('A1').toPage, { x: (b.x0 + a.x1) / 2, y: a.y0 + 0.22 * (a.y1 - a.y0) });
    expect(first).toMatchObject({ text: codeOf('A1', 'A2'), turn: -90, sizeMm: em });
    // Turned to the left a text's baseline is at its right: it stands half its height right of the middle, and runs up from above the line.
    expect(first.x).toBeCloseTo(at.x + rise, 6);
    expect(first.y).toBeCloseTo(at.y - 1.2, 6);
    const low = apply(page('A1').toPage, { x: a.x0 + 0.22 * (a.x1 - a.x0), y: (page('B1').windowMm.y0 + a.y1) / 2 });
    expect(below).toMatchObject({ text: codeOf('A1', 'B1') });
    expect(below.turn).toBeUndefined();
    expect(below.x).toBeCloseTo(low.x + 1.2, 6);
    expect(below.y).toBeCloseTo(low.y + rise, 6);
  });

  const spaceOf = (more: Partial<JoinSpace>): JoinSpace => {
    return { all: new ClearSpace(), dots: new ClearSpace(), words: new ClearSpace(), ...more };
  };
  /** How far along its overlap the first mark of A1·A2 stands from where it stands with nothing in the way, mm. */
  const moved = (space: JoinSpace): number => {
    const line = (items: readonly Item[]) => onDrawing(page('A1'), marks(items))[2][0].y;
    return line(joinMarks(plan, page('A1'), font, space)) - line(joinMarks(plan, page('A1'), font));
  };
  const wanted = { x: (page('A2').windowMm.x0 + page('A1').windowMm.x1) / 2, y: 0.22 * page('A1').windowMm.y1 };
  const spot = (dx: number, dy: number) => {
    const space = new ClearSpace();
    const [x, y] = [wanted.x + dx, wanted.y + dy];
    space.addLine(x, y, x + 0.01, y, NO_OWNER);
    return space;
  };

  it('stays where nothing is in the way', () => {
    expect(moved(spaceOf({}))).toBeCloseTo(0, 9);
    // A line beyond the mark's own length and breadth is not in its way.
    expect(moved(spaceOf({ dots: spot(0, 3.5) }))).toBeCloseTo(0, 9);
    expect(moved(spaceOf({ dots: spot(11, 0) }))).toBeCloseTo(0, 9);
  });

  it('moves with its mark off a dot or a word, by the least of its steps', () => {
    for (const what of ['dots', 'words'] as const) {
      for (const [dy, least] of [
        [2.5, 0.5],
        [-2.5, 0.5],
        [0, 3],
      ]) {
        const by = moved(spaceOf({ [what]: spot(0, dy) }));
        expect(Math.abs(by)).toBeGreaterThanOrEqual(least);
        expect(Math.abs(by)).toBeLessThan(least + 0.8);
        if (dy !== 0) expect(Math.sign(by)).toBe(-Math.sign(dy));
      }
    }
    // Where the hair line ends it is in the way too: 5 mm past the edges, which are 5 mm from the middle.
    expect(moved(spaceOf({ words: spot(9.5, 0) }))).not.toBeCloseTo(0, 3);
    expect(moved(spaceOf({ words: spot(-9.5, 0) }))).not.toBeCloseTo(0, 3);
  });

  it('steps aside within the overlap before it moves along it', () => {
    // A line where the code's middle would be, above the hair line.
    const space = spaceOf({ all: spot(0, -5) });
    expect(moved(space)).toBeCloseTo(0, 9);
    const [free] = codes(joinMarks(plan, page('A1'), font));
    const [code] = codes(joinMarks(plan, page('A1'), font, space));
    expect(code.y).toBeCloseTo(free.y, 9);
    const aside = (code.x - free.x) / plan.scaleAcross;
    expect(Math.abs(aside)).toBeGreaterThan(rise);
    // It stays within the overlap with room to spare.
    expect(Math.abs(aside) + rise).toBeLessThan(5);
  });

  it('keeps to words being crossed rather than to dots, and to none rather than to lines', () => {
    const wall = (x0: number, x1: number) => {
      const space = new ClearSpace();
      for (let y = 0; y < 300; y += 1) space.addLine(x0, y, x1, y, NO_OWNER);
      return space;
    };
    const over = wall(wanted.x - 12, wanted.x + 12);
    const first = (space: JoinSpace) =>
      codes(joinMarks(plan, page('A1'), font, space)).filter(({ text }) => text === codeOf('A1', 'A2'));
    expect(first(spaceOf({ words: over }))).toHaveLength(2);
    expect(first(spaceOf({ dots: over }))).toHaveLength(0);
    expect(first(spaceOf({ all: over }))).toHaveLength(0);
    expect(moved(spaceOf({ words: over }))).toBeCloseTo(0, 9);
  });
});
