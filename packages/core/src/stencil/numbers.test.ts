import fc from 'fast-check';
import { expect, it } from 'vitest';
import { numberOpenings } from './numbers.js';

const at = (x: number, y: number, areaMm2 = 100) => ({ at: { x, y }, areaMm2 });
const leaves = [at(10, 10), at(40, 10), at(70, 10), at(10, 50)];

it('numbers in cutting order', () => {
  const { numbers, kept } = numberOpenings(leaves, [2, 0, 1, 3]);
  expect(numbers).toEqual([2, 3, 1, 4]);
  expect(kept.map(({ number, x, y }) => [number, x, y])).toEqual([
    [1, 70, 10],
    [2, 10, 10],
    [3, 40, 10],
    [4, 10, 50],
  ]);
});

it('keeps numbers with their shapes when one moves, one goes and one comes', () => {
  const { kept } = numberOpenings(leaves, [2, 0, 1, 3]);
  const next = numberOpenings([at(10, 51), at(71, 10), at(10, 10), at(100, 100)], [3, 2, 1, 0], kept);
  expect(next.numbers).toEqual([4, 1, 2, 5]);
});

it('never gives a number again, not even the highest when its opening is gone', () => {
  const first = numberOpenings(leaves, [0, 1, 2, 3]);
  const second = numberOpenings(leaves.slice(0, 3), [0, 1, 2], first.kept);
  expect(second.kept).toContainEqual({ number: 4, x: 0, y: 0, areaMm2: 0 });
  const third = numberOpenings([...leaves.slice(0, 3), at(0, 0)], [0, 1, 2, 3], second.kept);
  expect(third.numbers).toEqual([1, 2, 3, 5]);
});

it('takes an opening of another size, or farther off, for another', () => {
  const { kept } = numberOpenings([at(10, 10)], [0]);
  expect(numberOpenings([at(10, 10, 170)], [0], kept).numbers).toEqual([2]);
  expect(numberOpenings([at(10, 10, 55)], [0], kept).numbers).toEqual([2]);
  expect(numberOpenings([at(13.1, 10)], [0], kept).numbers).toEqual([2]);
  expect(numberOpenings([at(12.9, 10, 150)], [0], kept).numbers).toEqual([1]);
  // A large one may move by a fifth of its size.
  const large = numberOpenings([at(10, 10, 10_000)], [0]).kept;
  expect(numberOpenings([at(28, 10, 10_000)], [0], large).numbers).toEqual([1]);
});

it('gives the number to the best match', () => {
  const { kept } = numberOpenings([at(10, 10), at(12, 10)], [0, 1]);
  expect(numberOpenings([at(12.4, 10), at(10.4, 10)], [0, 1], kept).numbers).toEqual([2, 1]);
});

it('gives every opening a number of its own, and the same ones when nothing changed', () => {
  const one = fc.record({
    x: fc.integer({ min: 0, max: 60 }),
    y: fc.integer({ min: 0, max: 60 }),
    a: fc.integer({ min: 1, max: 400 }),
  });
  const list = fc.array(one, { maxLength: 60 }).map((all) => all.map(({ x, y, a }) => at(x, y, a)));
  fc.assert(
    fc.property(list, list, (before, after) => {
      const first = numberOpenings(
        before,
        before.map((_, k) => k),
      );
      const again = numberOpenings(before, before.map((_, k) => k).reverse(), first.kept);
      expect(again.kept).toEqual(first.kept);
      const { numbers } = numberOpenings(
        after,
        after.map((_, k) => k),
        first.kept,
      );
      expect(new Set(numbers).size).toBe(after.length);
    }),
  );
});
