import type { Join } from '@okuri/core';
import { checkJoins, makeLattice, type SeamStretch } from '@okuri/core/inside';
import { expect, it } from 'vitest';
import { offsetWay } from '../words/joins';
import { joinEnds, joinScale } from './join-ends';

const lattice = makeLattice({ kind: 'drop', step: { p: 1, q: 2 } }, 100, 60);

function stretch(side: 'left' | 'right', from: number, to: number): SeamStretch {
  const tangent = { x: side === 'right' ? 1 : -1, y: 0 };
  const end = (atMm: number, kind: 'begin' | 'end') => ({ atMm, kind, tangent, runsOn: true, corner: false });
  return { side, ink: '#000000', from: end(from, 'begin'), to: end(to, 'end') } as unknown as SeamStretch;
}

const joinsOf = (...stretches: SeamStretch[]): readonly Join[] => checkJoins(stretches, lattice).joins;

it('lays both ends of a join side by side on the cloth, away from its edges', () => {
  // Right y meets left y − 30 in a half-drop; here it misses it by 1.6 mm.
  const [first] = joinsOf(stretch('right', 40, 46), stretch('left', 11.6, 17.6));
  expect(first.state).toBe('off');
  const { at, own, partner } = joinEnds(first, lattice);
  // The unit at step (1, 1) lies at 100, 30 + 60.
  expect(own).toEqual({ at: { x: 200, y: 130 }, way: { x: 1, y: 0 } });
  expect(partner?.at.y).toBeCloseTo(131.6, 9);
  expect(partner?.way).toEqual({ x: -1, y: 0 });
  expect(at.y).toBeCloseTo(130.8, 9);
  expect(offsetWay(first)).toBe(', lower on the other side');
});

it('shows an open end alone, on the side on which it is', () => {
  const [right] = joinsOf(stretch('right', 40, 46));
  expect(joinEnds(right, lattice)).toEqual({
    at: { x: 200, y: 130 },
    own: { at: { x: 200, y: 130 }, way: { x: 1, y: 0 } },
    partner: null,
  });
  const [left] = joinsOf(stretch('left', 10, 16));
  expect(joinEnds(left, lattice)).toEqual({
    at: { x: 200, y: 130 },
    own: null,
    partner: { at: { x: 200, y: 130 }, way: { x: -1, y: 0 } },
  });
});

it('comes nearer the less the ends miss each other, within bounds', () => {
  const scale = (offsetMm: number | null, state: Join['state'] = 'off') => joinScale({ offsetMm, state });
  expect(scale(1)).toBeGreaterThan(scale(2));
  expect(scale(0.1)).toBe(60);
  expect(scale(-9)).toBe(10);
  expect(scale(null, 'open')).toBe(14);
  expect(scale(0, 'meets')).toBe(14);
});
