import fc from 'fast-check';
import { expect, it } from 'vitest';
import { makeLattice } from '../repeat/lattice.js';
import { numberRuns, passRanges } from './pass-ranges.js';
import { makePlan } from './plan.js';
import { planSheet } from './plan-sheet.test-help.js';

it('writes runs and steps', () => {
  expect(numberRuns([3, 1, 2, 4])).toBe('1-4');
  expect(numberRuns([1, 3, 5, 7])).toBe('1, 3 … 7');
  expect(numberRuns([1, 2])).toBe('1, 2');
  expect(numberRuns([2, 5, 9, 10, 11])).toBe('2, 5, 9-11');
  expect(numberRuns([])).toBe('');
});

it('says every number that fits, and no other', () => {
  fc.assert(
    fc.property(fc.uniqueArray(fc.integer({ min: 1, max: 40 }), { minLength: 1 }), (numbers) => {
      const text = numberRuns(numbers);
      if (text.endsWith('…')) return;
      const read = new Set<number>();
      for (const part of text.matchAll(/(\d+), (\d+) … (\d+)|(\d+)-(\d+)|(\d+)/g)) {
        const [, a, b, c, d, e, f] = part.map(Number);
        if (!Number.isNaN(f)) read.add(f);
        else if (!Number.isNaN(d)) for (let n = d; n <= e; n++) read.add(n);
        else for (let n = a; n <= c; n += b - a) read.add(n);
      }
      expect([...read].sort((p, q) => p - q)).toEqual([...numbers].sort((p, q) => p - q));
    }),
  );
});

it('keeps a line a pass however many placements there are', () => {
  const lattice = makeLattice({ kind: 'straight', step: { p: 0, q: 1 } }, 20, 20);
  const plan = makePlan([planSheet(lattice)], lattice, { cloth: { widthMm: 1000, lengthMm: 20_000 } });
  const lines = passRanges(plan);
  expect(lines).toHaveLength(plan.passes.length);
  for (const line of lines) expect(line.length).toBeLessThan(200);
});
