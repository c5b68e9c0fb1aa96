import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { circleContour, contoursBox, polyline, translateContour } from '../geometry/contour.js';
import type { Box } from '../geometry/types.js';
import type { Shape } from '../motif/types.js';
import { attachedShapes } from './attached-shapes.js';
import { drawnCopies } from './copies.js';
import { latticePoint, makeLattice } from './lattice.js';
import { OffsetForest } from './offset-forest.js';
import { HALF_DROP, STRAIGHT, shapeOf, THIRD_BRICK } from './random-cell.test-help.js';
import type { Lattice, LatticeStep } from './types.js';

const W = 100;
const H = 60;

const leaf = polyline(
  [
    { x: 0, y: 0 },
    { x: 12, y: 3 },
    { x: 9, y: 11 },
  ],
  { closed: true },
);
const at = (x: number, y: number, ink?: string): Shape => shapeOf([translateContour(leaf, { x, y })], ink);
const boxesOf = (shapes: readonly Shape[]) => shapes.map(({ contours }) => contoursBox(contours));
const familiesOf = (shapes: readonly Shape[], lattice: Lattice) => drawnCopies(shapes, boxesOf(shapes), lattice);

describe('copies drawn around the unit', () => {
  it('are found at every step of the lattice, near ones and far ones, and that in the unit is kept', () => {
    for (const repeat of [STRAIGHT, HALF_DROP, THIRD_BRICK]) {
      const lattice = makeLattice(repeat, W, H);
      for (const [i, j] of [
        [1, 0],
        [0, 1],
        [-1, 0],
        [0, -1],
        [1, 1],
        [-1, 1],
        [2, -1],
      ]) {
        const v = latticePoint(lattice, { i, j });
        const shapes = [at(40 + v.x, 20 + v.y), at(40, 20)];
        expect(familiesOf(shapes, lattice), `${repeat.kind} ${i},${j}`).toEqual([{ kept: 1, copies: [0] }]);
      }
    }
  });

  it('are not what is off by more than 0.02 mm, of another ink or shape, or drawn twice at one place', () => {
    const lattice = makeLattice(STRAIGHT, W, H);
    const pair = (other: Shape) => familiesOf([at(40, 20), other], lattice);
    expect(pair(at(140.019, 20))).toHaveLength(1);
    expect(pair(at(140.021, 20))).toEqual([]);
    expect(pair(at(140, 19.981))).toHaveLength(1);
    expect(pair(at(140, 19.979))).toEqual([]);
    expect(pair(at(140, 20, '#ff0000'))).toEqual([]);
    expect(pair(at(40, 20))).toEqual([]);
    expect(pair(shapeOf([translateContour(leaf, { x: 140, y: 20 }), circleContour({ x: 150, y: 30 }, 1)]))).toEqual([]);
    const bent = translateContour(leaf, { x: 140, y: 20 });
    const coords = bent.coords.map((value, k) => (k === 8 ? value + 0.5 : value));
    expect(pair(shapeOf([{ ...bent, coords }]))).toEqual([]);
    expect(drawnCopies([at(40, 20), at(140, 20)], [boxesOf([at(40, 20)])[0], null], lattice)).toEqual([]);
  });

  it('are families of several: of each that is kept which lies most in the unit', () => {
    const lattice = makeLattice(STRAIGHT, W, H);
    // Half of the first lies in the unit, three quarters of the second.
    const shapes = [at(-6, 20), at(94, 20), at(-3, 20 + H), at(97, 20), at(-106, 20), at(50, 5)];
    const found = familiesOf(shapes, lattice).map(({ kept, copies }) => [kept, ...copies]);
    expect(found).toHaveLength(2);
    expect(found.map((list) => list.toSorted((p, q) => p - q))).toEqual([
      [0, 1, 4],
      [2, 3],
    ]);
    expect([0, 1]).toContain(found[0][0]);
    expect(found[1][0]).toBe(3);
  });
});

describe('what belongs to a carried shape', () => {
  const lattice = makeLattice(STRAIGHT, W, H);
  const box = (x0: number, y0: number, x1: number, y1: number): Box => ({ x0, y0, x1, y1 });
  const of = (
    boxes: readonly (Box | null)[],
    outside: readonly number[],
    carried: readonly number[],
    inks = boxes.map(() => 'a'),
  ) => attachedShapes(outside, carried, { boxes, inks, lattice });
  const carried = box(90, 20, 110, 40);

  it('lies within 3 mm of it, or of what belongs to it, on any side', () => {
    for (const [near, far] of [
      [box(112.9, 25, 120, 30), box(113.1, 25, 120, 30)],
      [box(101, 42.9, 105, 50), box(101, 43.1, 105, 50)],
      [box(101, 10, 105, 17.1), box(101, 10, 105, 16.9)],
    ]) {
      expect(of([carried, near], [1], [0])).toEqual([1]);
      expect(of([carried, far], [1], [0])).toEqual([]);
    }
    // From neighbour to neighbour.
    expect(of([carried, box(112, 25, 115, 30), box(117, 25, 120, 30), box(125, 25, 130, 30)], [1, 2, 3], [0])).toEqual([
      1, 2,
    ]);
    expect(of([carried, box(112, 25, 115, 30)], [1], [])).toEqual([]);
    expect(of([carried], [], [0])).toEqual([]);
  });

  it('is not a neighbour drawn for show: one whose place in the unit is drawn already, in its ink', () => {
    const show = box(112, 25, 118, 31);
    const home = box(12, 25, 18, 31);
    expect(of([carried, show, home], [1], [0])).toEqual([]);
    expect(of([carried, show, home], [1], [0], ['a', 'a', 'b'])).toEqual([1]);
    expect(of([carried, show, null], [1], [0])).toEqual([1]);
    // More than half of what both cover, or it is another shape: 6 × 6 moved by 2 shares 24 of 48.
    expect(of([carried, show, box(14.1, 25, 20.1, 31)], [1], [0])).toEqual([1]);
    expect(of([carried, show, box(13.9, 25, 19.9, 31)], [1], [0])).toEqual([]);
    expect(of([carried, show, box(12, 27.1, 18, 33.1)], [1], [0])).toEqual([1]);
    expect(of([carried, show, box(12, 22.9 + 0.2, 18, 28.9 + 0.2)], [1], [0])).toEqual([]);
  });
});

describe('members joined by steps of the lattice', () => {
  const steps = fc.record({ i: fc.integer({ min: -3, max: 3 }), j: fc.integer({ min: -3, max: 3 }) });
  const joins = fc.array(fc.tuple(fc.integer({ min: 0, max: 6 }), fc.integer({ min: 0, max: 6 }), steps), {
    maxLength: 12,
  });

  it('lie where a walk over the joins brings them, and wind by as many directions as its cycles have', () => {
    fc.assert(
      fc.property(joins, (list) => {
        const forest = new OffsetForest(7);
        for (const [a, b, step] of list) forest.join(a, b, step);
        for (let start = 0; start < 7; start++) {
          const places = new Map<number, LatticeStep>([[start, { i: 0, j: 0 }]]);
          const cycles: LatticeStep[] = [];
          const todo = [start];
          for (let k = todo.pop(); k !== undefined; k = todo.pop()) {
            const here = places.get(k) as LatticeStep;
            for (const [a, b, { i, j }] of list) {
              // `b` moved by the step is connected to `a`.
              for (const [from, to, sign] of [
                [a, b, 1],
                [b, a, -1],
              ]) {
                if (from !== k) continue;
                const there = { i: here.i + sign * i, j: here.j + sign * j };
                const known = places.get(to);
                if (known === undefined) {
                  places.set(to, there);
                  todo.push(to);
                } else if (known.i !== there.i || known.j !== there.j)
                  cycles.push({ i: there.i - known.i, j: there.j - known.j });
              }
            }
          }
          const own = forest.find(start);
          for (let k = 0; k < 7; k++) expect(forest.find(k).root === own.root).toBe(places.has(k));
          const two = cycles.some((p) => cycles.some((q) => p.i * q.j - p.j * q.i !== 0));
          expect(forest.rank(start)).toBe(two ? 2 : cycles.length > 0 ? 1 : 0);
          if (cycles.length > 0) continue;
          for (const [k, { i, j }] of places) {
            const found = forest.find(k);
            expect([found.i - own.i, found.j - own.j]).toEqual([i, j]);
          }
        }
      }),
      { numRuns: 60 },
    );
  });
});
