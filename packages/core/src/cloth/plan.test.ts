import { describe, expect, it } from 'vitest';
import { makeLattice } from '../repeat/lattice.js';
import type { Repeat } from '../repeat/types.js';
import { InputError } from '../units/input-error.js';
import { makePlan } from './plan.js';
import { planSheet } from './plan-sheet.test-help.js';
import type { PlanOptions } from './plan-options.js';
import type { Plan } from './plan-types.js';

export const STRAIGHT: Repeat = { kind: 'straight', step: { p: 0, q: 1 } };
export const HALF_DROP: Repeat = { kind: 'drop', step: { p: 1, q: 2 } };

function planOf(repeat: Repeat, size: readonly [number, number], options: PlanOptions): Plan {
  const lattice = makeLattice(repeat, ...size);
  return makePlan([planSheet(lattice)], lattice, options);
}

describe('makePlan', () => {
  it('x', () => {
    for (const [r, l] of [
      [STRAIGHT, 25000 * 240],
      [HALF_DROP, 25000 * 240],
      [{ kind: 'brick', step: { p: 1, q: 2 } } as Repeat, 25000 * 240],
    ] as const) {
      const t = performance.now();
      const plan = planOf(r, [180, 240], { cloth: { widthMm: 180 * 4, lengthMm: l } });
      console.log(r.kind, plan.placements.length, performance.now() - t, plan.choice.count, plan.choice.least);
    }
    expect(InputError).toBeDefined();
  });
});
