import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { latticePoint, makeLattice } from '../repeat/lattice.js';
import type { LatticeStep, Repeat } from '../repeat/types.js';
import { InputError } from '../units/input-error.js';
import { driftOf, marksUnderDrift, placementsUnderDrift } from './drift.js';
import { placementsAlongWalk, type SteppedFrom } from './drift-along.js';
import { holesAt } from './sheets.test-help.js';

const STRAIGHT: Repeat = { kind: 'straight', step: { p: 0, q: 1 } };
const THIRD: Repeat = { kind: 'drop', step: { p: 1, q: 3 } };
const CLOTH = { down: 6, across: 5, toleranceMm: 0.5 };
const OFF = holesAt([0, 0], [600.4, 0], [600.1, 450.5], [-0.3, 449.8]);

describe('placements along a walk', () => {
  it('that goes as drift does lie as drift has them', () => {
    const drift = driftOf(OFF, { widthMm: 600, heightMm: 450, repeat: STRAIGHT }, CLOTH);
    const own = placementsUnderDrift(drift);
    const walk = own.map(({ step: { i, j } }): SteppedFrom => {
      if (i > 0) return { step: { i, j }, from: { i: i - 1, j } };
      return { step: { i, j }, from: j === 0 ? null : { i, j: j - 1 } };
    });
    const laid = placementsAlongWalk(drift, walk);
    for (const [k, { motion }] of laid.entries()) {
      expect(motion.x).toBeCloseTo(own[k].motion.x, 8);
      expect(motion.y).toBeCloseTo(own[k].motion.y, 8);
      expect(motion.angleRad).toBeCloseTo(own[k].motion.angleRad, 12);
    }
    expect(marksUnderDrift(drift, laid)).toHaveLength(30);
  });

  it('there and back is where it began, and laid by measure is at its place', () => {
    const drift = driftOf(OFF, { widthMm: 600, heightMm: 450, repeat: STRAIGHT }, CLOTH);
    const [, , back, measured] = placementsAlongWalk(drift, [
      { step: { i: 0, j: 0 }, from: null },
      { step: { i: 0, j: 1 }, from: { i: 0, j: 0 } },
      { step: { i: 0, j: 0 }, from: { i: 0, j: 1 } },
      { step: { i: 3, j: 2 }, from: null },
    ]);
    expect(Math.hypot(back.motion.x, back.motion.y)).toBeLessThan(1e-9);
    expect(measured.motion).toEqual({ angleRad: 0, x: 1800, y: 900 });
  });

  it('a true sheet stays in place whichever way a drop is stepped', () => {
    const ways: readonly LatticeStep[] = [
      { i: 1, j: 0 },
      { i: 1, j: -1 },
      { i: -1, j: 0 },
      { i: -1, j: 1 },
      { i: 0, j: 1 },
      { i: 0, j: -1 },
    ];
    const drift = driftOf(
      holesAt([0, 0], [600, 0], [600, 450], [0, 450]),
      { widthMm: 600, heightMm: 450, repeat: THIRD },
      CLOTH,
    );
    fc.assert(
      fc.property(fc.array(fc.constantFrom(...ways), { minLength: 1, maxLength: 40 }), (moves) => {
        let from: LatticeStep = { i: 0, j: 0 };
        const walk: SteppedFrom[] = [{ step: from, from: null }];
        for (const { i, j } of moves) {
          const step = { i: from.i + i, j: from.j + j };
          walk.push({ step, from });
          from = step;
        }
        for (const { step, motion } of placementsAlongWalk(drift, walk)) {
          const at = latticePoint(makeLattice(THIRD, 600, 450), step);
          expect(Math.hypot(motion.x - at.x, motion.y - at.y)).toBeLessThan(1e-8);
        }
      }),
    );
  });

  it.each<[string, SteppedFrom[], RegExp]>([
    ['a placement before the one it is stepped from', [{ step: { i: 1, j: 0 }, from: { i: 0, j: 0 } }], /not laid yet/],
    [
      'one that is no neighbour',
      [
        { step: { i: 0, j: 0 }, from: null },
        { step: { i: 2, j: 2 }, from: { i: 0, j: 0 } },
      ],
      /step from a neighbour/,
    ],
  ])('refuses %s', (_, walk, message) => {
    const drift = driftOf(OFF, { widthMm: 600, heightMm: 450, repeat: THIRD }, CLOTH);
    expect(() => placementsAlongWalk(drift, walk)).toThrow(InputError);
    expect(() => placementsAlongWalk(drift, walk)).toThrow(message);
  });
});
