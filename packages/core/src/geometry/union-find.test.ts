import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { UnionFind } from './union-find.js';

const COUNT = 12;
const number = fc.integer({ min: 0, max: COUNT - 1 });

/** Sets as labels that are painted over, the naive way. */
function painted(pairs: readonly (readonly [number, number])[]): number[][] {
  let labels = Array.from({ length: COUNT }, (_, k) => k);
  for (const [a, b] of pairs) labels = labels.map((label) => (label === labels[b] ? labels[a] : label));
  const firsts = [...new Set(labels)];
  return firsts.map((label) => labels.flatMap((own, k) => (own === label ? [k] : [])));
}

describe('UnionFind', () => {
  it('puts together what is joined, by whatever way', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(number, number)), (pairs) => {
        const sets = new UnionFind(COUNT);
        for (const [a, b] of pairs) sets.join(a, b);
        expect(sets.groups()).toEqual(painted(pairs));
        for (const group of sets.groups()) for (const k of group) expect(sets.find(k)).toBe(group[0]);
      }),
    );
  });

  it('takes more things and hangs one root under another', () => {
    const sets = new UnionFind();
    expect([sets.add(), sets.add(), sets.add()]).toEqual([0, 1, 2]);
    expect(sets.hang(0, 2)).toBe(2);
    expect([sets.find(0), sets.find(1), sets.count]).toEqual([2, 1, 3]);
  });
});
