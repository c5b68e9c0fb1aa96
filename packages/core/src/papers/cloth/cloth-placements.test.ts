import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeLattice } from '../../repeat/lattice.js';
import type { Lattice } from '../../repeat/types.js';
import { clothPlacements } from './cloth-placements.js';

const STRAIGHT = { kind: 'straight', step: { p: 0, q: 1 } } as const;
const HALF_DROP = { kind: 'drop', step: { p: 1, q: 2 } } as const;
const BRICK = { kind: 'brick', step: { p: 1, q: 2 } } as const;

describe('clothPlacements', () => {
  // Counted apart from this code, by a loop over all lattice points around the cloth.
  it.each([
    ['straight', STRAIGHT, 180, 240, 360, 12000, 100],
    ['half-drop', HALF_DROP, 180, 240, 360, 12000, 101],
    ['brick', BRICK, 180, 240, 360, 12000, 125],
    ['straight', STRAIGHT, 200, 300, 1118, 914.4, 24],
    ['half-drop', HALF_DROP, 200, 300, 1118, 914.4, 24],
    ['brick', BRICK, 200, 300, 1118, 914.4, 26],
  ] as const)('%s', (_, repeat, w, h, width, length, count) => {
    expect(clothPlacements(makeLattice(repeat, w, h), width, length)).toHaveLength(count);
  });

  it('does not count a unit that only touches, rounding aside', () => {
    expect(clothPlacements(makeLattice(STRAIGHT, 0.1, 0.1), 0.3, 0.1)).toHaveLength(3);
    expect(clothPlacements(makeLattice(STRAIGHT, 180, 240), 180, 240)).toEqual([{ i: 0, j: 0, at: { x: 0, y: 0 } }]);
  });

  it.each([
    [0, 100],
    [100, 0],
    [-5, 100],
    [Number.NaN, 100],
  ])('is empty on a cloth of %d × %d mm', (width, length) => {
    expect(clothPlacements(makeLattice(STRAIGHT, 10, 10), width, length)).toEqual([]);
  });

  it('covers the cloth exactly once, whatever the step', () => {
    const size = fc.integer({ min: 20, max: 200 });
    fc.assert(
      fc.property(
        fc.constantFrom('drop' as const, 'brick' as const),
        fc.integer({ min: 1, max: 7 }),
        fc.integer({ min: 1, max: 7 }),
        size,
        size,
        fc.integer({ min: 1, max: 600 }),
        fc.integer({ min: 1, max: 600 }),
        (kind, p, more, w, h, width, length) => {
          const lattice = makeLattice({ kind, step: { p, q: p + more } }, w, h);
          expect(coveredArea(lattice, width, length)).toBeCloseTo(width * length, 3);
        },
      ),
    );
  });
});

/** The area of the cloth under all placements; equal to the cloth's where they neither overlap nor leave gaps. */
function coveredArea(lattice: Lattice, width: number, length: number): number {
  const { widthMm, heightMm } = lattice;
  return clothPlacements(lattice, width, length).reduce((sum, { at }) => {
    const across = Math.min(width, at.x + widthMm) - Math.max(0, at.x);
    const along = Math.min(length, at.y + heightMm) - Math.max(0, at.y);
    expect(across > 0 && along > 0).toBe(true);
    return sum + across * along;
  }, 0);
}
