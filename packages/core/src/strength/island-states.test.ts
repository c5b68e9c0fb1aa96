import { describe, expect, it } from 'vitest';
import { boxContour, circleContour, reverseContour } from '../geometry/contour.js';
import type { Contour } from '../geometry/types.js';
import { islandStates } from './island-states.js';
import type { CutPaper } from './types.js';

const EDGE = { x0: 0, y0: 0, x1: 200, y1: 100 };
const box = (x0: number, y0: number, x1: number, y1: number): Contour => boxContour({ x0, y0, x1, y1 });
const rim = reverseContour;
const paperOf = (...openings: (readonly Contour[])[]): CutPaper => ({
  edge: EDGE,
  outlines: openings.flatMap((contours, opening) => contours.map((contour) => ({ contour, opening }))),
});

/** A ring 2 mm wide whose hole is `x0 … x1 × 40 … 60`. */
const ring = (x0: number, x1: number): Contour[] => [box(x0 - 2, 38, x1 + 2, 62), rim(box(x0, 40, x1, 60))];

/** The same ring cut only as far as a line across it: a U, open to the right. */
const openRing = (x0: number, x1: number, line: number): Contour[] => {
  const [x, y] = [x0 - 2, 38];
  const c = [x, y, line, y, line, y + 2, x0, y + 2, x0, 60, line, 60, line, 62, x, 62];
  expect(line).toBeLessThan(x1);
  const points = Array.from({ length: c.length / 2 }, (_, k) => ({ x: c[2 * k], y: c[2 * k + 1] }));
  const coords = [points[0].x, points[0].y];
  for (let k = 0; k < points.length; k++) {
    const o = points[k];
    const p = points[(k + 1) % points.length];
    coords.push((2 * o.x + p.x) / 3, (2 * o.y + p.y) / 3, (o.x + 2 * p.x) / 3, (o.y + 2 * p.y) / 3, p.x, p.y);
  }
  return [{ closed: true, coords: Float64Array.from(coords) }];
};

describe('islands through the states of cutting', () => {
  it('loose after the first cut, after the second, after the release: each once, with its state', () => {
    const tied = [openRing(20, 60, 40)[0]];
    const first = paperOf(ring(100, 110), openRing(150, 190, 170), tied);
    const second = paperOf(ring(100, 110), ring(150, 190), tied);
    const release = paperOf(ring(100, 110), ring(150, 190), ring(20, 60));
    const islands = islandStates(first, second, release);
    expect(islands.map((i) => [i.id, i.dropsAt, i.opening, i.areaMm2])).toEqual([
      ['1', 'first', 0, expect.closeTo(200, 9)],
      ['2', 'second', 1, expect.closeTo(800, 9)],
      ['3', 'release', 2, expect.closeTo(800, 9)],
    ]);
    expect(islandStates(first, second, null).map((i) => i.id)).toEqual(['1', '2']);
    expect(islandStates(first, first, null).map((i) => i.dropsAt)).toEqual(['first']);
  });

  it('an island that the second cut trims is listed once, as it fell', () => {
    const trim = box(150, 45, 160, 55);
    const islands = islandStates(paperOf(ring(100, 180)), paperOf(ring(100, 180), [trim]), null);
    expect(islands).toHaveLength(1);
    expect(islands[0]).toMatchObject({ id: '1', dropsAt: 'first' });
    expect(islands[0].areaMm2).toBeCloseTo(1600, 9);
  });

  it('an island that the second cut divides: the larger part is the island, the smaller one is listed anew', () => {
    // The bar joins the ring above and below.
    const divided = [ring(100, 180)[0], rim(box(100, 40, 150, 60)), rim(box(155, 40, 180, 60))];
    const islands = islandStates(paperOf(ring(100, 180)), paperOf(divided), null);
    expect(islands.map((i) => [i.id, i.dropsAt, i.areaMm2])).toEqual([
      ['1', 'first', expect.closeTo(1600, 9)],
      ['2', 'second', expect.closeTo(500, 9)],
    ]);
  });

  it('an island on an island: within names it as listed, whether that one fell before or not', () => {
    const inner = [circleContour({ x: 140, y: 50 }, 6), rim(circleContour({ x: 140, y: 50 }, 4))];
    const before = paperOf(ring(20, 30), inner, openRing(100, 180, 150));
    const after = paperOf(ring(20, 30), inner, ring(100, 180));
    const islands = islandStates(before, after, null);
    // The inner one is loose at once; the outer one only when the held margin is cut.
    expect(islands.map((i) => [i.id, i.dropsAt, i.within, i.depth])).toEqual([
      ['1', 'first', null, 0],
      ['2', 'first', null, 0],
      ['3', 'second', null, 0],
    ]);
    expect(islands[2].areaMm2).toBeCloseTo(1600 - Math.PI * 36, 3);
    const late = islandStates(
      paperOf(ring(100, 180)),
      paperOf(ring(100, 180), [circleContour({ x: 140, y: 50 }, 6)]),
      paperOf(ring(100, 180), inner),
    );
    expect(late.map((i) => [i.id, i.dropsAt, i.within, i.depth])).toEqual([
      ['1', 'first', null, 0],
      ['2', 'release', '1', 1],
    ]);
  });

  it('an island that the second cut takes away wholly stays listed', () => {
    const islands = islandStates(paperOf(ring(100, 110)), paperOf([box(98, 38, 112, 62)]), null);
    expect(islands.map((i) => [i.id, i.dropsAt])).toEqual([['1', 'first']]);
  });
});
