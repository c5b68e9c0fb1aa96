import { describe, expect, it } from 'vitest';
import { makeLattice } from '../repeat/lattice.js';
import type { Repeat } from '../repeat/types.js';
import { fittingSizes } from './unit-sizes.js';

const STRAIGHT: Repeat = { kind: 'straight', step: { p: 0, q: 1 } };
const HALF_DROP: Repeat = { kind: 'drop', step: { p: 1, q: 2 } };

describe('fittingSizes', () => {
  // Closed form: n units of width U/n, scale U/(n·w).
  it('gives the nearest smaller and larger unit, the nearest first', () => {
    expect(fittingSizes(makeLattice(STRAIGHT, 200, 300), 1118)).toEqual([
      {
        repeats: 6,
        scale: expect.closeTo(0.931667, 6),
        widthMm: expect.closeTo(186.3333, 4),
        heightMm: expect.closeTo(279.5, 9),
      },
      {
        repeats: 5,
        scale: expect.closeTo(1.118, 9),
        widthMm: expect.closeTo(223.6, 9),
        heightMm: expect.closeTo(335.4, 9),
      },
    ]);
  });

  it('takes even numbers for a half-drop, multiples of three for a third', () => {
    expect(fittingSizes(makeLattice(HALF_DROP, 200, 300), 1118).map((s) => s.repeats)).toEqual([6, 4]);
    const third: Repeat = { kind: 'drop', step: { p: 2, q: 3 } };
    expect(fittingSizes(makeLattice(third, 200, 300), 1400).map((s) => s.repeats)).toEqual([6, 9]);
  });

  it('says so when the unit fits as it is', () => {
    expect(fittingSizes(makeLattice(HALF_DROP, 90.1, 300), 4 * 90.1)).toEqual([
      { repeats: 4, scale: 1, widthMm: expect.closeTo(90.1, 9), heightMm: 300 },
    ]);
  });

  it('has only a smaller unit for a cloth narrower than one', () => {
    expect(fittingSizes(makeLattice(STRAIGHT, 400, 300), 360).map((s) => [s.repeats, s.scale])).toEqual([[1, 0.9]]);
  });

  it("gives a turned unit's own width and height", () => {
    // The unit's height of 300 lies across the cloth.
    const [size] = fittingSizes(makeLattice(STRAIGHT, 300, 200), 330, { turned: true });
    expect(size).toEqual({ repeats: 1, scale: expect.closeTo(1.1, 9), widthMm: expect.closeTo(220, 9), heightMm: 330 });
  });
});
