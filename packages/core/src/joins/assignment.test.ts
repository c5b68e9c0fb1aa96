import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { pairInOrder } from './assignment.js';
import { wrapSigned } from './seam.js';

interface Score {
  count: number;
  sum: number;
}

/** Every assignment that keeps the order, tried one by one. */
function bruteForce(own: readonly number[], partner: readonly number[], reach: number, period: number | null): Score {
  const turn = (v: number) => (period === null ? v : v - period * Math.floor(v / period));
  const a = own.map(turn).sort((p, q) => p - q);
  const b = partner.map(turn).sort((p, q) => p - q);
  const limit = period === null ? reach : Math.min(reach, period / 2);
  let best: Score = { count: 0, sum: 0 };
  const chosen: number[] = [];
  function visit(i: number, sum: number): void {
    if (i === a.length) {
      const steps = chosen.filter((j, k) => k > 0 && j < chosen[k - 1]).length;
      const closing = chosen.length > 1 && chosen[0] < chosen[chosen.length - 1] ? 1 : 0;
      const inOrder = period === null ? steps === 0 : steps + closing <= 1;
      const better = chosen.length > best.count || (chosen.length === best.count && sum < best.sum);
      if (inOrder && better) best = { count: chosen.length, sum };
      return;
    }
    visit(i + 1, sum);
    for (let j = 0; j < b.length; j++) {
      const distance = Math.abs(period === null ? b[j] - a[i] : wrapSigned(b[j] - a[i], period));
      if (distance > limit || chosen.includes(j)) continue;
      chosen.push(j);
      visit(i + 1, sum + distance);
      chosen.pop();
    }
  }
  visit(0, 0);
  return best;
}

function score(own: readonly number[], partner: readonly number[], reach: number, period: number | null): Score {
  const pairs = pairInOrder(own, partner, { reachMm: reach, periodMm: period });
  for (const pair of pairs) {
    const offset = partner[pair.partner] - own[pair.own];
    expect(pair.offsetMm).toBeCloseTo(period === null ? offset : wrapSigned(offset, period), 9);
    expect(Math.abs(pair.offsetMm)).toBeLessThanOrEqual(reach);
  }
  expect(new Set(pairs.map((p) => p.own)).size).toBe(pairs.length);
  expect(new Set(pairs.map((p) => p.partner)).size).toBe(pairs.length);
  return { count: pairs.length, sum: pairs.reduce((sum, pair) => sum + Math.abs(pair.offsetMm), 0) };
}

// Steps of 0.37 keep clear of distances that equal the reach or half the circle exactly.
const places = (most: number) =>
  fc.array(fc.integer({ min: 0, max: 26 }), { maxLength: most }).map((l) => l.map((k) => k * 0.37));

describe('pairInOrder', () => {
  it('finds the optimum on a line, compared with trying everything', () => {
    fc.assert(
      fc.property(places(6), places(6), fc.constantFrom(0.5, 1.7, 3, 20), (own, partner, reach) => {
        const [got, want] = [score(own, partner, reach, null), bruteForce(own, partner, reach, null)];
        expect(got.count).toBe(want.count);
        expect(got.sum).toBeCloseTo(want.sum, 6);
      }),
      { numRuns: 400 },
    );
  });

  it('finds the optimum round a circle, compared with trying everything', () => {
    fc.assert(
      fc.property(
        places(6),
        places(6),
        fc.constantFrom(0.5, 1.7, 3, 6),
        fc.constantFrom(7.01, 10.03),
        (own, partner, reach, period) => {
          const [got, want] = [score(own, partner, reach, period), bruteForce(own, partner, reach, period)];
          expect(got.count).toBe(want.count);
          expect(got.sum).toBeCloseTo(want.sum, 6);
        },
      ),
      { numRuns: 600 },
    );
  });

  it('does not depend on where the circle begins', () => {
    fc.assert(
      fc.property(places(12), places(12), fc.double({ min: -30, max: 30, noNaN: true }), (own, partner, turn) => {
        const still = score(own, partner, 2.9, 10.03);
        const turned = score(
          own.map((p) => p + turn),
          partner.map((p) => p + turn),
          2.9,
          10.03,
        );
        expect(turned.count).toBe(still.count);
        expect(turned.sum).toBeCloseTo(still.sum, 6);
      }),
    );
  });

  it('prefers more pairs to closer ones, and never goes beyond the reach', () => {
    const options = { reachMm: 3, periodMm: null };
    expect(pairInOrder([0, 2], [2, 4], options).map((p) => [p.own, p.partner])).toEqual([
      [0, 0],
      [1, 1],
    ]);
    expect(pairInOrder([0], [3.001], options)).toEqual([]);
    expect(pairInOrder([0], [-2.5], { reachMm: 3, periodMm: 100 })).toEqual([{ own: 0, partner: 0, offsetMm: -2.5 }]);
    expect(pairInOrder([99], [1], { reachMm: 3, periodMm: 100 })).toEqual([{ own: 0, partner: 0, offsetMm: 2 }]);
    expect(pairInOrder([], [1], options)).toEqual([]);
  });

  it.each([
    ['spread', 6000],
    ['dense, no empty stretch anywhere', 600],
    ['very dense', 250],
  ])('pairs 2,000 ends round a circle: %s', (_, period) => {
    // A fixed sequence with no pattern (multiples of the golden ratio), the partner side wobbling and with gaps.
    const own = Array.from({ length: 1000 }, (_v, k) => ((k * 0.6180339887) % 1) * period);
    const partner = own.map((p, k) => p + 0.3 * Math.sin(k)).filter((_p, k) => k % 50 !== 7);
    const pairs = pairInOrder(own, partner, { reachMm: 3, periodMm: period });
    expect(pairs.length).toBe(partner.length);
  });
});
