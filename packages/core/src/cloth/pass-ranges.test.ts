import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeLattice } from '../repeat/lattice.js';
import { numberRuns, passRanges } from './pass-ranges.js';
import { makePlan } from './plan.js';
import { planSheet } from './plan-sheet.test-help.js';
import type { Plan } from './plan-types.js';

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

describe('rows of a pass', () => {
  it('are told column by column, those alike together', () => {
    const lattice = makeLattice({ kind: 'straight', step: { p: 0, q: 1 } }, 210, 330);
    const made = makePlan([planSheet(lattice)], lattice, { cloth: { widthMm: 951, lengthMm: 2300 } });
    const lines = passRanges(made);
    for (const [k, line] of lines.entries()) {
      const own = made.placements.filter(({ pass }) => pass === k + 1);
      const columns = [...new Set(own.map(({ column }) => column))];
      const rows = [...new Set(own.map(({ row }) => row))];
      expect(line).toBe(`  pass ${k + 1}: columns ${numberRuns(columns)}: rows ${numberRuns(rows)}.`);
    }
    const at = (pass: number, column: number, row: number) => ({ pass, column, row }) as Plan['placements'][number];
    const passes = [1, 2].map((pass) => ({ pass, placements: 0, walkMm: 0 }));
    expect(passRanges({ passes, placements: [at(1, 3, 4), at(2, 1, 1), at(2, 1, 2), at(2, 2, 9)] })).toEqual([
      '  pass 1: column 3: row 4.',
      '  pass 2: column 1: rows 1, 2; column 2: row 9.',
    ]);
    // Six groups are said, of seven the last is not.
    const many = (count: number) =>
      passRanges({
        passes: passes.slice(0, 1),
        placements: Array.from({ length: count }, (_, k) => at(1, k + 1, k + 1)),
      })[0];
    expect(many(6)).toMatch(/column 6: row 6\.$/);
    expect(many(7)).toMatch(/column 6: row 6; …\.$/);
    expect(numberRuns([1, 3, 4, 8, 10, 15])).toBe('1, 3, 4, 8, 10, 15');
    expect(numberRuns([1, 3, 4, 8, 10, 15, 17])).toBe('1, 3, 4, 8, 10, 15, …');
  });
});
