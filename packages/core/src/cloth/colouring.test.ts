import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { LatticeStep } from '../repeat/types.js';
import { colourSteps } from './colouring.js';
import { cosetOf, sublattices } from './sublattices.js';

function grid(across: number, along: number): LatticeStep[] {
  const steps: LatticeStep[] = [];
  for (let i = 0; i < across; i++) for (let j = 0; j < along; j++) steps.push({ i, j });
  return steps;
}

/** Offsets with their opposites. */
function both(...pairs: readonly (readonly [number, number])[]): LatticeStep[] {
  return pairs.flatMap(([i, j]) => [
    { i, j },
    { i: -i + 0, j: -j + 0 },
  ]);
}

const EIGHT = both([0, 1], [1, -1], [1, 0], [1, 1]);
const SIX = both([0, 1], [1, 0], [1, -1]);

describe('sublattices', () => {
  // OEIS A000203, the sum of divisors: the number of sublattices of index 1 to 12.
  it('are as many as the sum of the divisors of their index', () => {
    expect(Array.from({ length: 12 }, (_, k) => sublattices(k + 1).length)).toEqual([
      1, 3, 4, 7, 6, 12, 8, 15, 13, 18, 12, 28,
    ]);
  });

  it('divide the plane into as many cosets as their index', () => {
    for (const sub of [...sublattices(6), ...sublattices(7)]) {
      const seen = new Map<number, LatticeStep[]>();
      for (const { i, j } of grid(12, 12)) {
        const step = { i: i - 6, j: j - 6 };
        const coset = cosetOf(sub, step);
        seen.set(coset, [...(seen.get(coset) ?? []), step]);
      }
      expect([...seen.keys()].sort((a, b) => a - b)).toEqual(Array.from({ length: sub.a * sub.d }, (_, k) => k));
      for (const [first, ...others] of seen.values()) {
        for (const { i, j } of others) expect(cosetOf(sub, { i: i - first.i, j: j - first.j })).toBe(0);
      }
    }
  });
});

/** The fewest colours of a small graph, by trying them all. */
function fewest(steps: readonly LatticeStep[], apart: readonly LatticeStep[]): number {
  const keys = new Set(apart.map(({ i, j }) => `${i},${j}`));
  const foes = steps.map((a) => steps.flatMap((b, k) => (keys.has(`${b.i - a.i},${b.j - a.j}`) ? [k] : [])));
  const colours = steps.map(() => -1);
  const paint = (k: number, used: number, most: number): boolean => {
    if (k === steps.length) return true;
    for (let colour = 0; colour <= Math.min(used, most - 1); colour++) {
      if (foes[k].some((other) => colours[other] === colour)) continue;
      colours[k] = colour;
      if (paint(k + 1, Math.max(used, colour + 1), most)) return true;
      colours[k] = -1;
    }
    return false;
  };
  for (let most = 1; ; most++) {
    if (paint(0, 0, most)) return most;
  }
}

describe('colourSteps', () => {
  it.each([
    ['eight neighbours', grid(6, 9), EIGHT, 4],
    ['six neighbours', grid(6, 9), SIX, 3],
    ['four neighbours', grid(6, 9), both([0, 1], [1, 0]), 2],
    ['a single column', grid(1, 20), EIGHT, 2],
    ['two columns', grid(2, 20), EIGHT, 4],
    ['no conflicts', grid(4, 4), [], 1],
    [
      'all within two',
      grid(7, 7),
      grid(5, 5)
        .map(({ i, j }) => ({ i: i - 2, j: j - 2 }))
        .filter(({ i, j }) => i !== 0 || j !== 0),
      9,
    ],
  ])('needs the least number for %s', (_, steps, apart, count) => {
    expect(colourSteps(steps, apart)).toMatchObject({ count, least: count });
  });

  it('takes by first-fit the first colour that no neighbour has yet', () => {
    expect(colourSteps(grid(1, 9), both([0, 1])).greedy).toBe(2);
    expect(colourSteps(grid(1, 9), both([0, 1], [0, 2])).greedy).toBe(3);
    expect(colourSteps(grid(3, 3), both([0, 1], [1, 0])).greedy).toBe(2);
  });

  it('has nothing to colour in nothing', () => {
    expect(colourSteps([], EIGHT)).toMatchObject({ count: 0, least: 0, greedy: 0 });
  });

  it('is right, never above first-fit or one above the most conflicts, and its bound holds', () => {
    const offset = fc.tuple(fc.integer({ min: 0, max: 3 }), fc.integer({ min: -3, max: 3 }));
    fc.assert(
      fc.property(
        fc.uniqueArray(offset, { minLength: 1, maxLength: 6, selector: String }),
        fc.integer({ min: 1, max: 4 }),
        fc.integer({ min: 1, max: 5 }),
        (raw, across, along) => {
          const apart = both(...raw.filter(([i, j]) => i > 0 || j > 0));
          const steps = grid(across, along);
          const result = colourSteps(steps, apart);
          const keys = new Set(apart.map(({ i, j }) => `${i},${j}`));
          let most = 0;
          steps.forEach((a, k) => {
            const foes = steps.flatMap((b, l) => (keys.has(`${b.i - a.i},${b.j - a.j}`) ? [l] : []));
            most = Math.max(most, foes.length);
            for (const l of foes) expect(result.colours[l]).not.toBe(result.colours[k]);
          });
          expect(new Set(result.colours).size).toBe(result.count);
          expect(result.count).toBeLessThanOrEqual(result.greedy);
          expect(result.greedy).toBeLessThanOrEqual(most + 1);
          const exact = fewest(steps, apart);
          expect(result.least).toBeLessThanOrEqual(exact);
          expect(result.count).toBeGreaterThanOrEqual(exact);
        },
      ),
      { numRuns: 200 },
    );
  });
});
