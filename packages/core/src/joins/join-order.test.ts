import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Side } from '../geometry/types.js';
import { makeLattice } from '../repeat/lattice.js';
import type { SeamStretch } from '../repeat/types.js';
import { checkJoins } from './checked.test-help.js';
import { ownPlace, partnerPlace, seamsOf, wrap, wrapSigned } from './seam.js';

const W = 200;
const H = 100;
const OUT = { left: { x: -1, y: 0 }, right: { x: 1, y: 0 }, top: { x: 0, y: -1 }, bottom: { x: 0, y: 1 } } as const;

function stretch(side: Side, from: number, ink: string): SeamStretch {
  const end = (atMm: number, kind: 'begin' | 'end') => ({
    atMm,
    kind,
    tangent: OUT[side],
    runsOn: true,
    corner: false,
    moved: false,
  });
  return { side, ink, from: end(from, 'begin'), to: end(from + 4, 'end'), carried: false };
}

describe('joins', () => {
  // Whole mm, so that many lie at one place; half of them have no partner.
  const one = fc.record({
    side: fc.constantFrom<Side>('left', 'right', 'top', 'bottom'),
    from: fc.integer({ min: 1, max: 18 }).map((k) => 5 * k),
    ink: fc.constantFrom('#000000', '#0000ff', '#ff0000'),
  });

  it('come by seam, by place, by ink, whatever order the drawing has', () => {
    const lattice = makeLattice({ kind: 'straight', step: { p: 0, q: 1 } }, W, H);
    fc.assert(
      fc.property(fc.uniqueArray(one, { selector: (s) => `${s.side} ${s.from} ${s.ink}`, maxLength: 14 }), (list) => {
        const stretches = list.map(({ side, from, ink }) => stretch(side, from, ink));
        const { joins, findings } = checkJoins(stretches, lattice);
        const keys = joins.map(({ seam, atMm, ink }) => [seam === 'right' ? 0 : 1, atMm, ink] as const);
        const sorted = keys.toSorted((a, b) => a[0] - b[0] || a[1] - b[1] || (a[2] < b[2] ? -1 : a[2] > b[2] ? 1 : 0));
        expect(keys).toEqual(sorted);
        const again = checkJoins(stretches.toReversed(), lattice);
        expect(again.joins).toEqual(joins);
        expect(again.findings).toEqual(findings);
      }),
      { numRuns: 200 },
    );
  });
});

describe('places of a seam that closes on itself', () => {
  it('lie from its start to just before its end, and as near to each other as they are', () => {
    fc.assert(
      fc.property(fc.integer({ min: -900, max: 900 }), fc.integer({ min: 1, max: 97 }), (value, period) => {
        const at = wrap(value, period);
        expect(at).toBeGreaterThanOrEqual(0);
        expect(at).toBeLessThan(period);
        expect(Number.isInteger((value - at) / period)).toBe(true);
        expect(Math.abs(wrapSigned(value, period))).toBeLessThanOrEqual(period / 2);
        expect(wrap(wrapSigned(value, period), period)).toBe(at);
      }),
    );
    // A hair below a whole turn is rounded up to one: that is the start.
    expect(wrap(-1e-20, 100)).toBe(0);
  });

  it.each(['drop', 'brick'] as const)('are found again from the other side: %s', (kind) => {
    const seams = seamsOf(makeLattice({ kind, step: { p: 1, q: 3 } }, 120, 90));
    for (const seam of seams) {
      for (const place of [0, 1, 29.5, 44, 80]) {
        expect(ownPlace(seam, seam.partnerSide, partnerPlace(seam, place))).toBeCloseTo(place, 9);
        expect(ownPlace(seam, seam.ownSide, place)).toBe(place);
      }
    }
  });
});
