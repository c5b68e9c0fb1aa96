import { describe, expect, it } from 'vitest';
import { circleContour, contourArea, polyline } from './contour.js';
import { fillArea } from './fill.js';
import { makeGrid } from './grid.js';
import { CurveMarks } from './marks.js';
import { combine } from './polygons.js';
import { curveArea, polygonArea } from './traced-area.test-help.js';

const grid = makeGrid(200, 200);

function pentagram(): ReturnType<typeof polyline> {
  const points = Array.from({ length: 5 }, (_, k) => {
    const a = (2 * Math.PI * 2 * k) / 5 - Math.PI / 2;
    return { x: 50 + Math.cos(a), y: 50 + Math.sin(a) };
  });
  return polyline(points, { closed: true });
}

describe('areas of fills', () => {
  // Pentagram of circumradius 1, worked out from the golden ratio by an independent program; fill rules as in SVG 1.1, 11.3.
  it.each([
    ['nonzero', 1.122569941],
    ['evenodd', 0.775676752],
  ] as const)('read a pentagram by the %s rule', (rule, area) => {
    const big = pentagram();
    const scaled = { closed: true, coords: big.coords.map((v) => 50 + (v - 50) * 40) };
    expect(curveArea(fillArea([scaled], rule, grid), grid) / 1600).toBeCloseTo(area, 5);
  });

  it.each([0.3, 1, 10, 80])('are those of the curve, not of its polygon (circle of %d mm)', (r) => {
    const circle = circleContour({ x: 100, y: 100 }, r);
    const area = fillArea([circle], 'nonzero', grid);
    expect(curveArea(area, grid) / contourArea(circle)).toBeCloseTo(1, 7);
    // The polygon stays within ⅔ · tolerance · perimeter.
    expect(Math.abs(polygonArea(area, grid) - contourArea(circle))).toBeLessThan((2 / 3) * 0.005 * 2 * Math.PI * r);
  });

  it('have the closed forms of Bézier areas', () => {
    // ½∮(x dy − y dx) of single cubics with their closing chord; values by exact integration in an independent program.
    const cubic = (...coords: number[]) => contourArea({ closed: true, coords: Float64Array.from(coords) });
    expect(cubic(0, 0, 0, 50, 100, 50, 100, 0)).toBeCloseTo(-3000, 9);
    expect(Math.abs(cubic(0, 0, 0, 0, 1 / 3, 0, 1, 1))).toBeCloseTo(0.1, 12);
  });

  it('close open contours by a straight line and drop those without an inside', () => {
    const open = polyline(
      [
        { x: 0, y: 0 },
        { x: 10, y: 0 },
        { x: 10, y: 10 },
      ],
      { closed: false },
    );
    const line = polyline(
      [
        { x: 0, y: 0 },
        { x: 10, y: 0 },
      ],
      { closed: false },
    );
    expect(curveArea(fillArea([open], 'nonzero', grid), grid)).toBeCloseTo(50, 6);
    expect(fillArea([line], 'nonzero', grid).paths).toEqual([]);
  });

  it('of two discs that overlap have the closed form of the lens', () => {
    // Lens of two circles of radius r at distance d: 2r² acos(d/2r) − (d/2)√(4r² − d²).
    const [r, d] = [20, 16];
    const a = fillArea([circleContour({ x: 60, y: 60 }, r)], 'nonzero', grid);
    const b = fillArea([circleContour({ x: 60 + d, y: 60 }, r)], 'nonzero', grid);
    const book = new CurveMarks();
    const baseA = book.include(a.book, 0, 0);
    const baseB = book.include(b.book, 0, 0);
    const moved = (area: typeof a, base: number) =>
      area.paths.map((path) => path.map((p) => ({ ...p, z: (p.z ?? 0) + base })));
    const paths = combine('intersection', moved(a, baseA), moved(b, baseB), { book });
    const lens = 2 * r * r * Math.acos(d / (2 * r)) - (d / 2) * Math.sqrt(4 * r * r - d * d);
    expect(Math.abs(curveArea({ paths, book }, grid) / lens - 1)).toBeLessThan(3e-5);
  });
});
