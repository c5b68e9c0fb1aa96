import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boxContour, circleContour, polyline, transformContour } from '../geometry/contour.js';
import { evaluateCubic } from '../geometry/curve.js';
import { contourDistance } from '../geometry/point-tests.js';
import type { Contour, Point } from '../geometry/types.js';
import { type FlatRing, flatRing } from './flat-ring.js';
import { nearestPlaces } from './nearest-places.js';

const ring = (contour: Contour): FlatRing => flatRing(contour, 0) as FlatRing;

/** A closed curve through points around a middle, with smooth nodes where `bend` is not 0 and corners where it is. */
function blob(middle: Point, radii: readonly number[], bend: number): Contour {
  const n = radii.length;
  const at = (k: number): Point => {
    const a = (2 * Math.PI * k) / n;
    return { x: middle.x + radii[k % n] * Math.cos(a), y: middle.y + radii[k % n] * Math.sin(a) };
  };
  const coords = [at(0).x, at(0).y];
  for (let k = 0; k < n; k++) {
    const [o, p, q, r] = [at(k + n - 1), at(k), at(k + 1), at(k + 2)];
    coords.push(p.x + bend * (q.x - o.x), p.y + bend * (q.y - o.y));
    coords.push(q.x - bend * (r.x - p.x), q.y - bend * (r.y - p.y), q.x, q.y);
  }
  return { closed: true, coords: Float64Array.from(coords) };
}

/** Places spread over a contour. */
function spread({ coords }: Contour, parts: number): Point[] {
  const points: Point[] = [];
  for (let o = 0; o + 7 < coords.length; o += 6) {
    for (let i = 0; i < parts; i++) points.push(evaluateCubic(coords, o, i / parts));
  }
  return points;
}

describe('the nearest places of two outlines', () => {
  it('of two circles, two boxes, a circle and a slanting line: by formula', () => {
    const circles = nearestPlaces(ring(circleContour({ x: 0, y: 0 }, 3)), ring(circleContour({ x: 7, y: 4 }, 2)));
    expect(Math.abs(circles.lengthMm - (Math.hypot(7, 4) - 5))).toBeLessThan(1e-4);
    const box = { x0: 0, y0: 0, x1: 1, y1: 1 };
    const boxes = nearestPlaces(ring(boxContour(box)), ring(boxContour({ x0: 4, y0: 5, x1: 6, y1: 6 })));
    expect(boxes.lengthMm).toBeCloseTo(5, 12);
    expect([boxes.from, boxes.to]).toEqual([
      { x: 1, y: 1 },
      { x: 4, y: 5 },
    ]);
    const slope = polyline(
      [
        { x: 20, y: 0 },
        { x: 0, y: 20 },
        { x: 40, y: 40 },
      ],
      { closed: true },
    );
    const found = nearestPlaces(ring(circleContour({ x: 0, y: 0 }, 5)), ring(slope));
    expect(Math.abs(found.lengthMm - (10 * Math.SQRT2 - 5))).toBeLessThan(1e-4);
    expect(found.to.x).toBeCloseTo(10, 4);
  });

  it('of an ellipse around a smaller one: between the ends of the short axes', () => {
    const oval = (a: number, b: number): Contour =>
      transformContour(circleContour({ x: 0, y: 0 }, 1), [a, 0, 0, b, 0, 0]);
    const { lengthMm } = nearestPlaces(ring(oval(12, 5)), ring(oval(20, 7)));
    expect(Math.abs(lengthMm - 2)).toBeLessThan(1e-4);
  });

  it('lie on the curves and are as near as any of many places spread over them', () => {
    const radius = fc.double({ min: 4, max: 9, noNaN: true });
    const shape = fc.record({
      radii: fc.array(radius, { minLength: 3, maxLength: 9 }),
      bend: fc.constantFrom(0, 0.1, 1 / 6, 0.25),
    });
    fc.assert(
      fc.property(shape, shape, fc.double({ min: 0, max: 6.28, noNaN: true }), (p, q, angle) => {
        const a = blob({ x: 0, y: 0 }, p.radii, p.bend);
        const b = blob({ x: 30 * Math.cos(angle), y: 30 * Math.sin(angle) }, q.radii, q.bend);
        const found = nearestPlaces(ring(a), ring(b));
        expect(contourDistance([a], found.from)).toBeLessThan(1e-6);
        expect(contourDistance([b], found.to)).toBeLessThan(1e-6);
        expect(Math.hypot(found.from.x - found.to.x, found.from.y - found.to.y)).toBeCloseTo(found.lengthMm, 9);
        const others = spread(b, 40);
        const least = spread(a, 40).reduce(
          (best, u) => others.reduce((m, v) => Math.min(m, Math.hypot(u.x - v.x, u.y - v.y)), best),
          Infinity,
        );
        expect(found.lengthMm).toBeLessThanOrEqual(least + 1e-6);
      }),
      { numRuns: 150 },
    );
  });
});
