import { describe, expect, it } from 'vitest';
import type { Point, Side } from '../geometry/types.js';
import { makeLattice } from '../repeat/lattice.js';
import type { SeamStretch } from '../repeat/types.js';
import { checkJoins } from './checked.test-help.js';
import { JOIN_DEFAULTS, POINT_MM } from './options.js';

const straight = makeLattice({ kind: 'straight', step: { p: 0, q: 1 } }, 200, 100);

function on(side: 'left' | 'right', from: number, to: number): SeamStretch {
  const tangent: Point = { x: side === ('right' satisfies Side) ? 1 : -1, y: 0 };
  const end = (atMm: number, kind: 'begin' | 'end') => ({ atMm, kind, tangent, runsOn: true, corner: false });
  return { side, ink: '#000000', from: end(from, 'begin'), to: end(to, 'end'), carried: false };
}

const states = (stretches: readonly SeamStretch[]) => checkJoins(stretches, straight).joins.map(({ state }) => state);

/** A tip just wide enough to count, and one just too narrow. */
const WIDE = POINT_MM * 1.2;
const NARROW = POINT_MM * 0.8;

describe('a tip that is just wide enough to count on one side of the seam', () => {
  it('meets one that is just too narrow on the other, where a knife can’t tell them apart', () => {
    expect(states([on('right', 50, 50 + WIDE), on('left', 50, 50 + NARROW)])).toEqual(['meets', 'meets']);
    expect(states([on('right', 50, 50 + NARROW), on('left', 50, 50 + WIDE)])).toEqual(['meets', 'meets']);
  });

  it('does not meet one farther off than that, though within the reach of whole openings', () => {
    const away = (JOIN_DEFAULTS.gapMinMm + JOIN_DEFAULTS.reachMm) / 2;
    expect(states([on('right', 50, 50 + WIDE), on('left', 50 + away, 50 + away + NARROW)])).toEqual(['open', 'open']);
    expect(states([on('right', 50 + away, 50 + away + NARROW), on('left', 50, 50 + WIDE)])).toEqual(['open', 'open']);
  });

  it('that is too narrow on both sides is no join at all', () => {
    expect(states([on('right', 50, 50 + NARROW), on('left', 50, 50 + NARROW)])).toEqual([]);
    expect(states([on('right', 50, 50 + NARROW)])).toEqual([]);
  });
});
