import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { shareOut } from './share-out.js';

type Pair = readonly [number, number];

describe('sharing out over two sheets', () => {
  it('leaves on the first sheet what stands in no way, and sends the fewer to the second', () => {
    expect(shareOut(3, [])).toEqual({ onB: [false, false, false], left: [] });
    // A star round 0: its middle alone goes.
    const star: Pair[] = [1, 2, 3, 4].map((k) => [0, k]);
    expect(shareOut(6, star)).toEqual({ onB: [true, false, false, false, false, false], left: [] });
  });

  it('parts every pair where no ring of odd length forbids it', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.nat(19), fc.nat(19)), { maxLength: 40 }), (raw) => {
        // Even numbers against odd ones: no odd ring.
        const apart = raw.map(([a, b]): Pair => [2 * a, 2 * b + 1]);
        const { onB, left } = shareOut(40, apart);
        expect(left).toEqual([]);
        const paired = new Set(apart.flat());
        onB.forEach((b, k) => {
          if (!paired.has(k)) expect(b).toBe(false);
        });
        expect(2 * onB.filter((b) => b).length).toBeLessThanOrEqual(paired.size);
      }),
    );
  });

  it('gives back the pairs that it can not part: one of an odd ring, and what stands in its own way', () => {
    const five: Pair[] = [0, 1, 2, 3, 4].map((k) => [k, (k + 1) % 5]);
    const { left, onB } = shareOut(5, five);
    expect(left).toHaveLength(1);
    expect(onB.filter((b) => b).length).toBeLessThanOrEqual(2);
    expect(shareOut(2, [[1, 1]]).left).toEqual([[1, 1]]);
    expect(() => shareOut(2, [[0, 2]])).toThrow(/0 and 2/);
  });

  it('parts at least half of any pairs, and says truly which are left', () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.tuple(fc.nat(11), fc.nat(11)).filter(([a, b]) => a !== b),
          { maxLength: 60 },
        ),
        (apart) => {
          const { onB, left } = shareOut(12, apart);
          expect(left).toEqual(apart.filter(([a, b]) => onB[a] === onB[b]));
          expect(2 * left.length).toBeLessThanOrEqual(apart.length);
        },
      ),
    );
  });
});
