import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Point } from '../geometry/types.js';
import {
  latticePoint,
  makeLattice,
  nearestStep,
  pointsWithin,
  reduceBasis,
  stepsOnto,
  straightTile,
  unitOf,
} from './lattice.js';
import type { LatticeStep, Repeat } from './types.js';

const REPEATS: readonly Repeat[] = [
  { kind: 'straight', step: { p: 0, q: 1 } },
  { kind: 'drop', step: { p: 1, q: 2 } },
  { kind: 'drop', step: { p: 2, q: 5 } },
  { kind: 'brick', step: { p: 1, q: 2 } },
  { kind: 'brick', step: { p: 1, q: 3 } },
];
const repeats = fc.constantFrom(...REPEATS);
const sides = fc.tuple(fc.integer({ min: 20, max: 300 }), fc.integer({ min: 20, max: 300 }));
const places = fc.record({ x: fc.integer({ min: -900, max: 900 }), y: fc.integer({ min: -900, max: 900 }) });

/** All steps of a patch around the origin, wide enough for what is asked below. */
const PATCH: readonly LatticeStep[] = Array.from({ length: 121 }, (_, k) => ({
  i: Math.floor(k / 11) - 5,
  j: (k % 11) - 5,
}));

describe('a lattice', () => {
  it('has the basis of its repeat: columns of a drop sit lower, rows of a brick to the right', () => {
    const basis = (repeat: Repeat) => {
      const { a, b } = makeLattice(repeat, 120, 80);
      return [a, b];
    };
    expect(basis(REPEATS[0])).toEqual([
      { x: 120, y: 0 },
      { x: 0, y: 80 },
    ]);
    expect(basis(REPEATS[2])).toEqual([
      { x: 120, y: 32 },
      { x: 0, y: 80 },
    ]);
    expect(basis(REPEATS[4])).toEqual([
      { x: 120, y: 0 },
      { x: 40, y: 80 },
    ]);
  });

  it('puts every step at the sum of its basis, far ones too', () => {
    fc.assert(
      fc.property(
        repeats,
        sides,
        fc.integer({ min: -999, max: 999 }),
        fc.integer({ min: -999, max: 999 }),
        (repeat, [w, h], i, j) => {
          const lattice = makeLattice(repeat, w, h);
          const at = latticePoint(lattice, { i, j });
          expect(at.x).toBeCloseTo(i * lattice.a.x + j * lattice.b.x, 6);
          expect(at.y).toBeCloseTo(i * lattice.a.y + j * lattice.b.y, 6);
        },
      ),
    );
  });

  it('tiles straight by whole units after q columns of a drop or q rows of a brick', () => {
    expect(straightTile(makeLattice(REPEATS[0], 120, 80))).toEqual({ widthMm: 120, heightMm: 80 });
    expect(straightTile(makeLattice(REPEATS[2], 120, 80))).toEqual({ widthMm: 600, heightMm: 80 });
    expect(straightTile(makeLattice(REPEATS[4], 120, 80))).toEqual({ widthMm: 120, heightMm: 240 });
  });
});

describe('the unit of a place', () => {
  it('is the one whose rectangle holds it, whatever the repeat', () => {
    fc.assert(
      fc.property(repeats, sides, places, (repeat, [w, h], p) => {
        const lattice = makeLattice(repeat, w, h);
        const corner = latticePoint(lattice, unitOf(lattice, p));
        expect(p.x - corner.x).toBeGreaterThanOrEqual(-1e-9);
        expect(p.x - corner.x).toBeLessThan(w + 1e-9);
        expect(p.y - corner.y).toBeGreaterThanOrEqual(-1e-9);
        expect(p.y - corner.y).toBeLessThan(h + 1e-9);
      }),
    );
  });

  it('lies to the left in a lower row of a brick, and above in a column of a drop further right', () => {
    expect(unitOf(makeLattice(REPEATS[3], 100, 60), { x: 10, y: 70 })).toEqual({ i: -1, j: 1 });
    expect(unitOf(makeLattice(REPEATS[1], 100, 60), { x: 110, y: 10 })).toEqual({ i: 1, j: -1 });
    expect(unitOf(makeLattice(REPEATS[0], 100, 60), { x: 110, y: 10 })).toEqual({ i: 1, j: 0 });
  });
});

describe('steps onto a box', () => {
  const corner = fc.tuple(fc.integer({ min: -60, max: 60 }), fc.integer({ min: -60, max: 60 }));
  const size = fc.tuple(fc.integer({ min: 1, max: 90 }), fc.integer({ min: 1, max: 90 }));
  const boxes = fc.tuple(corner, size).map(([[x0, y0], [w, h]]) => ({ x0, y0, x1: x0 + w, y1: y0 + h }));

  it('are all those, and only those, that lay the one over the other by an area', () => {
    fc.assert(
      fc.property(
        repeats,
        fc.tuple(fc.integer({ min: 50, max: 90 }), fc.integer({ min: 50, max: 90 })),
        boxes,
        boxes,
        (repeat, [w, h], box, target) => {
          const lattice = makeLattice(repeat, w, h);
          const over = PATCH.filter((step) => {
            const v = latticePoint(lattice, step);
            const wide = Math.min(box.x1 + v.x, target.x1) - Math.max(box.x0 + v.x, target.x0);
            const high = Math.min(box.y1 + v.y, target.y1) - Math.max(box.y0 + v.y, target.y0);
            return wide > 0 && high > 0;
          });
          const names = (steps: readonly LatticeStep[]) => steps.map(({ i, j }) => `${i},${j}`).sort();
          expect(names(stepsOnto(lattice, box, target))).toEqual(names(over));
        },
      ),
    );
  });

  it('come column by column, row by row in a brick', () => {
    const unit = { x0: 1, y0: 1, x1: 99, y1: 59 };
    const around = { x0: -100, y0: -60, x1: 200, y1: 120 };
    const drop = stepsOnto(makeLattice(REPEATS[1], 100, 60), unit, around);
    expect(drop.map(({ i }) => i)).toEqual(drop.map(({ i }) => i).toSorted((a, b) => a - b));
    const brick = stepsOnto(makeLattice(REPEATS[3], 100, 60), unit, around);
    expect(brick.map(({ j }) => j)).toEqual(brick.map(({ j }) => j).toSorted((a, b) => a - b));
  });
});

describe('distances in a lattice', () => {
  it('the nearest step is nearer than any other, and leaves the rest of the vector', () => {
    fc.assert(
      fc.property(
        repeats,
        sides,
        fc.record({ x: fc.integer({ min: -200, max: 200 }), y: fc.integer({ min: -200, max: 200 }) }),
        (repeat, [w, h], vector) => {
          const lattice = makeLattice(repeat, w, h);
          const { step, rest } = nearestStep(lattice, vector);
          const at = latticePoint(lattice, step);
          expect(rest.x).toBeCloseTo(vector.x - at.x, 9);
          expect(rest.y).toBeCloseTo(vector.y - at.y, 9);
          // Of a lattice that is not too flat the nearest point is among the neighbours of any near one.
          if (Math.max(w, h) > 2.5 * Math.min(w, h)) return;
          const least = Math.min(
            ...PATCH.map(({ i, j }) => {
              const v = latticePoint(lattice, { i: step.i + i, j: step.j + j });
              return Math.hypot(vector.x - v.x, vector.y - v.y);
            }),
          );
          expect(Math.hypot(rest.x, rest.y)).toBeCloseTo(least, 9);
        },
      ),
    );
  });

  it('counts the points within a radius: a 3-4-5 triangle counts', () => {
    const square = makeLattice(REPEATS[0], 10, 10);
    // Gauss's circle problem (OEIS A000328): 1, 5, 13, 29, 49, 81 points within 0, 1, 2, 3, 4, 5 steps.
    expect([0, 1, 2, 3, 4, 5].map((n) => pointsWithin(square, 10 * n))).toEqual([1, 5, 13, 29, 49, 81]);
    expect(pointsWithin(square, 49.99)).toBe(69);
  });
});

describe('the shortest basis', () => {
  const area = (a: Point, b: Point) => a.x * b.y - a.y * b.x;
  const dot = (a: Point, b: Point) => a.x * b.x + a.y * b.y;

  it('spans the same lattice, and its vectors are short and nearly square to one another', () => {
    const vectors = fc.record({ x: fc.integer({ min: -50, max: 50 }), y: fc.integer({ min: -50, max: 50 }) });
    fc.assert(
      fc.property(vectors, vectors, (a, b) => {
        fc.pre(area(a, b) !== 0);
        const { u, v } = reduceBasis(a, b);
        expect(Math.abs(area(u, v))).toBe(Math.abs(area(a, b)));
        for (const given of [a, b]) {
          // Whole coordinates in the new basis, by Cramer's rule.
          expect(Math.abs(area(given, v) % area(u, v))).toBe(0);
          expect(Math.abs(area(u, given) % area(u, v))).toBe(0);
        }
        expect(2 * Math.abs(dot(u, v))).toBeLessThanOrEqual(dot(u, u));
        expect(dot(u, u)).toBeLessThanOrEqual(dot(v, v));
      }),
    );
  });

  it('is none of parallel vectors', () => {
    expect(() => reduceBasis({ x: 2, y: 4 }, { x: 3, y: 6 })).toThrow(RangeError);
  });
});
