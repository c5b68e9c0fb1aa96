import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Box } from '../geometry/types.js';
import { fractionalPart } from '../repeat/fraction.js';
import { makeLattice, nearestStep } from '../repeat/lattice.js';
import type { Repeat } from '../repeat/types.js';
import { cornerDots, dotFrame, sheetDots, sheetRepeat, sheetSteps } from './dots.js';

const field: Box = { x0: 40, y0: 30, x1: 240, y1: 330 };
const drop = (p: number, q: number): Repeat => ({ kind: 'drop', step: { p, q } });
const brick = (p: number, q: number): Repeat => ({ kind: 'brick', step: { p, q } });
const straight: Repeat = { kind: 'straight', step: { p: 0, q: 1 } };

const repeats = fc
  .record({
    kind: fc.constantFrom('straight', 'drop', 'brick'),
    p: fc.integer({ min: 1, max: 63 }),
    q: fc.integer({ min: 2, max: 64 }),
  })
  .map(({ kind, p, q }): Repeat => {
    const step = fractionalPart({ p, q });
    return kind === 'straight' || step.p === 0 ? straight : { kind: kind as 'drop' | 'brick', step };
  });

describe('sheetRepeat', () => {
  it.each([
    [drop(1, 2), 1, 1, drop(1, 2)],
    [drop(1, 2), 2, 1, straight],
    [drop(1, 2), 1, 2, drop(1, 4)],
    [drop(1, 3), 2, 1, drop(2, 3)],
    [drop(2, 3), 2, 3, drop(1, 9)],
    [brick(1, 2), 1, 2, straight],
    [brick(1, 2), 3, 1, brick(1, 6)],
    [brick(1, 3), 2, 2, brick(1, 3)],
    [straight, 3, 4, straight],
  ])('%j on %d × %d', (repeat, across, down, expected) => {
    expect(sheetRepeat(repeat, across, down)).toEqual(expected);
  });

  it('steps by vectors of the unit, and as densely as the sheet is large', () => {
    fc.assert(
      fc.property(repeats, fc.integer({ min: 1, max: 8 }), fc.integer({ min: 1, max: 8 }), (repeat, across, down) => {
        const unit = makeLattice(repeat, 100, 70);
        const sheet = makeLattice(sheetRepeat(repeat, across, down), 100 * across, 70 * down);
        for (const v of [sheet.a, sheet.b]) {
          const { rest } = nearestStep(unit, v);
          expect(Math.hypot(rest.x, rest.y)).toBeLessThan(1e-9);
        }
        const area = sheet.a.x * sheet.b.y - sheet.a.y * sheet.b.x;
        expect(area / (100 * 70)).toBeCloseTo(across * down, 9);
      }),
    );
  });
});

describe('sheetDots', () => {
  const places = (repeat: Repeat, sides?: { right: boolean; bottom: boolean }) =>
    sheetDots(field, repeat, { diameterMm: 1, ...(sides && { sides }) }).map(
      ({ name, at }) => `${name} ${Number(at.x.toFixed(6))},${Number(at.y.toFixed(6))}`,
    );

  it('has the corners, clockwise', () => {
    expect(places(straight)).toEqual(['A 40,30', 'B 240,30', 'C 240,330', 'D 40,330']);
  });

  it('has midpoints in a half-drop and a half brick', () => {
    expect(places(drop(1, 2))).toEqual(['A 40,30', 'B 240,30', 'C 240,180', 'D 240,330', 'E 40,330', 'F 40,180']);
    expect(places(brick(1, 2))).toEqual(['A 40,30', 'B 140,30', 'C 240,30', 'D 240,330', 'E 140,330', 'F 40,330']);
  });

  it('has them at f on one side and at 1 − f on the other', () => {
    expect(places(drop(1, 3))).toEqual(['A 40,30', 'B 240,30', 'C 240,130', 'D 240,330', 'E 40,330', 'F 40,230']);
  });

  it('leaves out what no step needs', () => {
    expect(places(drop(1, 2), { right: false, bottom: true })).toHaveLength(4);
    expect(places(brick(1, 2), { right: true, bottom: false })).toHaveLength(4);
    expect(places(drop(1, 2), { right: true, bottom: false })).toHaveLength(6);
  });

  it('tells leading dots from trailing ones', () => {
    const dots = sheetDots(field, drop(1, 3), { diameterMm: 1.5 });
    expect(dots.filter(({ lead }) => lead).map(({ name }) => name)).toEqual(['A', 'B', 'E', 'F']);
    expect(dots.every(({ diameterMm }) => diameterMm === 1.5)).toBe(true);
  });

  it('makes trailing dots large enough to sight through', () => {
    const dots = sheetDots(field, drop(1, 3), { diameterMm: 1, sightMm: 1.5 });
    expect(dots.map(({ lead, diameterMm }) => [lead, diameterMm])).toEqual(
      dots.map(({ lead }) => [lead, lead ? 1 : 1.5]),
    );
    expect(dots.filter(({ diameterMm }) => diameterMm === 1.5).map(({ name }) => name)).toEqual(['C', 'D']);
  });

  it('finds the corners again, wherever the field was moved to', () => {
    const moved = { x0: field.x0 - 3, y0: field.y0 + 7, x1: field.x1 - 3, y1: field.y1 + 7 };
    const dots = sheetDots(moved, brick(1, 3), { diameterMm: 1 });
    expect(dotFrame(dots)).toEqual(moved);
    const { corners, extra } = cornerDots(dots);
    expect(Object.values(corners).map(({ name }) => name)).toEqual(['A', 'C', 'D', 'F']);
    expect(extra.map(({ name }) => name)).toEqual(['B', 'E']);
    expect(() => cornerDots(dots.slice(1))).toThrow(RangeError);
    expect(() => dotFrame([])).toThrow(RangeError);
  });
});

describe('sheetSteps', () => {
  it('steps a drop above one half upwards', () => {
    const dots = sheetDots(field, drop(2, 3), { diameterMm: 1 });
    const [right, bottom] = sheetSteps(field, drop(2, 3), dots);
    expect(right.vector.x).toBe(200);
    expect(right.vector.y).toBeCloseTo(-100, 9);
    expect(bottom.vector).toEqual({ x: 0, y: 300 });
  });

  it('takes only the steps that are asked for', () => {
    const sides = { right: false, bottom: true };
    const dots = sheetDots(field, drop(1, 2), { diameterMm: 1, sides });
    expect(sheetSteps(field, drop(1, 2), dots, sides).map(({ to }) => to)).toEqual(['bottom']);
    expect(() => sheetSteps(field, drop(1, 2), dots)).toThrow(RangeError);
  });

  it('finds two disjoint pairs for every step of any repeat and any number of units on the sheet', () => {
    fc.assert(
      fc.property(
        repeats,
        fc.integer({ min: 1, max: 8 }),
        fc.integer({ min: 1, max: 8 }),
        fc.double({ min: 20, max: 900, noNaN: true }),
        fc.double({ min: 20, max: 900, noNaN: true }),
        (repeat, across, down, unitW, unitH) => {
          const own = sheetRepeat(repeat, across, down);
          const box = { x0: 40, y0: 40, x1: 40 + unitW * across, y1: 40 + unitH * down };
          const dots = sheetDots(box, own, { diameterMm: 1 });
          const at = (name: string) => dots.find((dot) => dot.name === name)?.at ?? { x: Number.NaN, y: Number.NaN };
          const unit = makeLattice(repeat, unitW, unitH);
          const steps = sheetSteps(box, own, dots);
          expect(steps).toHaveLength(2);
          for (const { to, vector, pairs } of steps) {
            const [a, b] = pairs;
            expect(new Set([a.from, a.to, b.from, b.to]).size).toBe(4);
            for (const pair of pairs) {
              expect(at(pair.to).x - at(pair.from).x).toBeCloseTo(vector.x, 6);
              expect(at(pair.to).y - at(pair.from).y).toBeCloseTo(vector.y, 6);
            }
            const { rest } = nearestStep(unit, vector);
            expect(Math.hypot(rest.x, rest.y)).toBeLessThan(1e-6);
            // As far apart as half the side that the step leaves over, in all repeats.
            const apart = Math.hypot(at(a.from).x - at(b.from).x, at(a.from).y - at(b.from).y);
            const side = to === 'right' ? box.y1 - box.y0 : box.x1 - box.x0;
            expect(apart).toBeGreaterThanOrEqual(side / 2 - 1e-6);
          }
          // Together the two steps cover the cloth once.
          const det = steps[0].vector.x * steps[1].vector.y - steps[0].vector.y * steps[1].vector.x;
          expect(det / ((box.x1 - box.x0) * (box.y1 - box.y0))).toBeCloseTo(1, 9);
        },
      ),
    );
  });
});
