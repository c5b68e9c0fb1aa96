import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cross, dot, minus, plus } from '../geometry/points.js';
import type { Point } from '../geometry/types.js';
import {
  composeMotions,
  type Laying,
  layingMotion,
  motionMatrix,
  moveBy,
  type RigidMotion,
  repeatMotion,
  STAYS,
  secondDotError,
} from '../register/drift-motion.js';

const mm = fc.integer({ min: -400, max: 400 });
const point = fc.record({ x: mm, y: mm });
const motion = fc.record({ angleRad: fc.integer({ min: -300, max: 300 }).map((n) => n / 100), x: mm, y: mm });

function at(p: Point, q: Point): void {
  expect(p.x).toBeCloseTo(q.x, 6);
  expect(p.y).toBeCloseTo(q.y, 6);
}

describe('rigid motions', () => {
  it('made one after the other are made as one', () => {
    fc.assert(
      fc.property(motion, motion, point, (outer, inner, p) => {
        at(moveBy(composeMotions(outer, inner), p), moveBy(outer, moveBy(inner, p)));
        at(moveBy(STAYS, p), p);
        const [a, b, c, d, e, f] = motionMatrix(outer);
        at(moveBy(outer, p), { x: a * p.x + c * p.y + e, y: b * p.x + d * p.y + f });
      }),
    );
  });

  it('turn to the right as seen where the angle is above zero, and then move', () => {
    at(moveBy({ angleRad: Math.PI / 2, x: 10, y: 20 }, { x: 3, y: 0 }), { x: 10, y: 23 });
    at(moveBy({ angleRad: Math.PI / 2, x: 10, y: 20 }, { x: 0, y: 3 }), { x: 7, y: 20 });
  });

  it('repeated are themselves again and again, and undone are undone', () => {
    fc.assert(
      fc.property(motion, fc.integer({ min: 0, max: 9 }), point, (one, n, p) => {
        let by: RigidMotion = STAYS;
        for (let k = 0; k < n; k++) by = composeMotions(by, one);
        at(moveBy(repeatMotion(one, n), p), moveBy(by, p));
        expect(repeatMotion(one, n).angleRad).toBeCloseTo(n * one.angleRad, 9);
        at(moveBy(repeatMotion(one, -n), moveBy(by, p)), p);
      }),
    );
    expect(repeatMotion({ angleRad: 0, x: 3, y: -2 }, 4)).toEqual({ angleRad: 0, x: 12, y: -8 });
  });

  it('of a laying bring the first dot onto its mark and the second onto the line to its own', () => {
    fc.assert(
      fc.property(point, point, point, point, (d1, m1, d2, m2) => {
        fc.pre(Math.hypot(d1.x - d2.x, d1.y - d2.y) > 5 && Math.hypot(m1.x - m2.x, m1.y - m2.y) > 5);
        const laying: Laying = { first: { dot: d1, mark: m1 }, second: { dot: d2, mark: m2 } };
        const by = layingMotion(laying);
        at(moveBy(by, d1), m1);
        const [ray, way] = [minus(moveBy(by, d2), m1), minus(m2, m1)];
        expect(cross(ray, way) / (Math.hypot(ray.x, ray.y) * Math.hypot(way.x, way.y))).toBeCloseTo(0, 6);
        expect(dot(ray, way)).toBeGreaterThan(0);
        // What is left at the second dot is how much farther its mark lies.
        const left = minus(m2, moveBy(by, d2));
        expect(Math.abs(secondDotError(laying))).toBeCloseTo(Math.hypot(left.x, left.y), 6);
        expect(Math.sign(secondDotError(laying)) * dot(left, way)).toBeGreaterThanOrEqual(-1e-6);
      }),
    );
  });

  it('and their points add as arrows do', () => {
    const [a, b] = [
      { x: 3, y: 5 },
      { x: -2, y: 7 },
    ];
    expect([plus(a, b), minus(a, b)]).toEqual([
      { x: 1, y: 12 },
      { x: 5, y: -2 },
    ]);
    expect([dot(a, b), cross(a, b), cross(b, a)]).toEqual([29, 31, -31]);
  });
});
