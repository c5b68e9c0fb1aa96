import { describe, expect, it } from 'vitest';
import { planFindings } from '../findings/plan.js';
import { driftOf } from '../register/drift.js';
import { groundLineRestarts } from '../register/drift-restarts.js';
import { holesAt } from '../register/sheets.test-help.js';
import { makeLattice } from '../repeat/lattice.js';
import { makePlan } from './plan.js';
import { planSheet } from './plan-sheet.test-help.js';
import type { Plan } from './plan-types.js';

const lattice = makeLattice({ kind: 'straight', step: { p: 0, q: 1 } }, 200, 300);
const plain = makePlan([planSheet(lattice)], lattice, { cloth: { widthMm: 800, lengthMm: 1500 } });
/** A plan of which there is nothing to say. */
const quiet: Plan = {
  ...plain,
  masks: [],
  panels: null,
  trimmedWidthMm: 0,
  leftover: { ...plain.leftover, acrossMm: 0 },
  cloth: { ...plain.cloth, shrinkAcrossPercent: 0, shrinkAlongPercent: 0, headWasteMm: 0, sideWasteMm: 0 },
  wear: { ...plain.wear, gauze: true },
  choice: { ...plain.choice, wipeEvery: null },
};
const found = (more: Partial<Plan>) => planFindings({ ...quiet, ...more });
const cloth = (more: Partial<Plan['cloth']>) => found({ cloth: { ...quiet.cloth, ...more } });
const only = (findings: ReturnType<typeof planFindings>) => {
  expect(findings).toHaveLength(1);
  return findings[0];
};

describe('what is to know of a plan', () => {
  it('is nothing where nothing is', () => {
    expect(found({})).toEqual([]);
  });

  it('comes worst first', () => {
    const panels = { columns: 0 } as NonNullable<Plan['panels']>;
    const mixed = found({
      panels,
      leftover: { ...quiet.leftover, acrossMm: 30 },
      cloth: { ...quiet.cloth, headWasteMm: 20, shrinkAlongPercent: null },
      wear: { ...quiet.wear, gauze: false, sheets: [{ ...plain.wear.sheets[0], needed: 3 }] },
    });
    expect(mixed.map(({ severity }) => severity)).toEqual(['fix', 'look', 'look', 'look', 'note']);
    const none = found({ placements: [], cloth: { ...quiet.cloth, headWasteMm: 20 } });
    expect(none.map(({ severity }) => severity)).toEqual(['stop', 'note']);
  });

  it('tells strips that are left or trimmed from half a mm on', () => {
    expect(found({ leftover: { ...quiet.leftover, acrossMm: 0.5 } })).toEqual([]);
    const left = only(found({ fill: 'whole', leftover: { ...quiet.leftover, acrossMm: 0.6 } }));
    expect(left).toMatchObject({ code: 'plan-width-left', measure: { leftoverMm: 0.6 } });
    expect(left.message).toContain('stays plain');
    expect(only(found({ fill: 'cover', leftover: { ...quiet.leftover, acrossMm: 9 } })).message).toContain(
      'cut placements',
    );
    const narrow = only(found({ trimmedWidthMm: 12, leftover: { ...quiet.leftover, acrossMm: 9 } }));
    expect(narrow).toMatchObject({ code: 'plan-narrow', measure: { trimmedWidthMm: 12 } });
    expect(found({ trimmedWidthMm: 0.5 })).toEqual([]);
  });

  it('asks for shrinkage that was not measured, and says what 5 % of the length are', () => {
    const both = only(cloth({ shrinkAcrossPercent: null, shrinkAlongPercent: null }));
    expect(both.message).toContain('across and along');
    expect(both.measure?.lostMm).toBeCloseTo(0.05 * plain.cloth.table.lengthMm, 9);
    expect(only(cloth({ shrinkAlongPercent: null })).message).toContain('shrinks along was');
    expect(only(cloth({ shrinkAcrossPercent: null })).message).toContain('shrinks across was');
  });

  it('says where the pattern begins late, and what to mask', () => {
    expect(only(cloth({ headWasteMm: 20 })).message).toMatch(/columns .* up to 20 mm in.* start of the cloth/);
    expect(only(cloth({ sideWasteMm: 30 })).message).toMatch(/rows .* up to 30 mm in/);
    const mask = { ...plain.masks[0], side: 'left' as const, onClothMm: 12, beyondMm: 0.4 };
    const one = only(found({ masks: [mask] }));
    expect(one.message).toBe('At the left: mask 12 mm of the cloth, since placements reach over it.');
    expect(found({ masks: [{ ...mask, onClothMm: 0.5 }] })).toEqual([]);
    expect(only(found({ masks: [{ ...mask, onClothMm: 0.5, beyondMm: 40 }] })).message).toContain('waste 40 mm wide');
  });

  it('counts cut sheets of bare paper only, from two on', () => {
    const wear = (gauze: boolean, ...needed: number[]) =>
      found({ wear: { ...quiet.wear, gauze, sheets: needed.map((n) => ({ ...plain.wear.sheets[0], needed: n })) } });
    expect(only(wear(false, 1, 4, 2)).measure).toMatchObject({ needed: 4 });
    expect(wear(false, 1, 1)).toEqual([]);
    expect(wear(true, 4)).toEqual([]);
    expect(only(found({ choice: { ...quiet.choice, wipeEvery: 7 } })).message).toContain('after every 7 placements');
  });
});

describe('fresh starts in one line', () => {
  it('are not enough where a single step opens the join by more than the tolerance', () => {
    // The lower side is 3 mm shorter than the upper one: each join within the column is off by it.
    const holes = holesAt([0, 0], [200, 0], [198.5, 300], [1.5, 300]);
    const drift = driftOf(
      holes,
      { widthMm: 200, heightMm: 300, repeat: lattice.repeat },
      { down: 5, across: 1, toleranceMm: 0.5 },
    );
    const starts = groundLineRestarts(drift);
    expect(starts.within).toBe(false);
    expect(starts.placementsEvery).toBe(1);
    expect(starts.worstJoinMm).toBeGreaterThan(0.5);
    expect(groundLineRestarts(drift, 5).within).toBe(true);
  });
});
