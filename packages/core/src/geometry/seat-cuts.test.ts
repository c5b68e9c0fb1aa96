import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { circleContour, polyline } from './contour.js';
import { fillArea } from './fill.js';
import { makeGrid } from './grid.js';
import { CurveMarks } from './marks.js';
import { areaPaths, combineAreas } from './polygons.js';
import { retraceRing } from './retrace.js';
import { seatCuts } from './seat-cuts.js';

const GRID = makeGrid(200, 200);
const EVERYWHERE = { x0: 0, y0: 0, x1: GRID.width, y1: GRID.height };

/** A disc of radius 60 at (100, 100) left of a line through it: turned by `turn`, `off` mm from the middle. */
function cutDisc(turn: number, off: number) {
  const disc = fillArea([circleContour({ x: 100, y: 100 }, 60)], 'nonzero', GRID);
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const place = (u: number, v: number) => ({ x: 100 + u * c - v * s, y: 100 + u * s + v * c });
  const half = polyline([place(-90, off), place(90, off), place(90, 90), place(-90, 90)], { closed: true });
  const clip = fillArea([half], 'nonzero', GRID);
  const book = new CurveMarks();
  book.include(disc.book, 0, 0);
  const base = book.include(clip.book, 0, 0);
  const paths = clip.paths.map((path) => path.map((p) => ({ ...p, z: (p.z as number) + base })));
  const after = book.size;
  const [ring] = areaPaths(combineAreas('difference', disc.paths, paths, { book }));
  return { ring, book, after, place };
}

/** Corners of an outline that lie on the line of the cut. */
function ends(ring: ReturnType<typeof cutDisc>['ring'], book: CurveMarks, turn: number, off: number): number[] {
  const { coords } = retraceRing(ring, book, GRID).contour;
  const found: number[] = [];
  for (let k = 0; k + 7 < coords.length; k += 6) {
    const [x, y] = [coords[k] - 100, coords[k + 1] - 100];
    if (Math.abs(y * Math.cos(turn) - x * Math.sin(turn) - off) < 1e-3) found.push(Math.hypot(x, y));
  }
  return found;
}

describe('corners where two curves cut each other', () => {
  it('come to lie where the curves meet, not their chords', () => {
    let gained = 0;
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 2 * Math.PI, noNaN: true }),
        fc.double({ min: -40, max: 40, noNaN: true }),
        (turn, off) => {
          const { ring, book, after } = cutDisc(turn, off);
          const before = ends(ring, book, turn, off);
          const seated = seatCuts(ring, { book, grid: GRID, after, within: EVERYWHERE });
          const places = ends(seated, book, turn, off);
          expect(places).toHaveLength(2);
          // The circle of eight cubics is up to 4e-6 of its radius larger; the grid is 0.1 µm.
          for (const r of places) expect(Math.abs(r - 60)).toBeLessThan(4e-4);
          gained = Math.max(gained, ...before.map((r) => Math.abs(r - 60)));
        },
      ),
    );
    // Without it some of them lie beside the circle by most of the flattening's 5 µm.
    expect(gained).toBeGreaterThan(2e-3);
  });

  it('stay where they are when they were there before, or would leave their box', () => {
    const { ring, book, after } = cutDisc(0.3, 5);
    expect(seatCuts(ring, { book, grid: GRID, after: book.size, within: EVERYWHERE })).toEqual(ring);
    const size = book.size;
    const nowhere = { x0: 0, y0: 0, x1: 1, y1: 1 };
    expect(seatCuts(ring, { book, grid: GRID, after, within: nowhere })).toEqual(ring);
    expect(book.size).toBe(size);
  });

  it('stay where the curves hardly cross', () => {
    const { ring, book, after } = cutDisc(0.3, 59.99);
    expect(seatCuts(ring, { book, grid: GRID, after, within: EVERYWHERE })).toEqual(ring);
  });
});
