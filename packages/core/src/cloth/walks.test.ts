import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { driftModel } from '../register/drift-model.js';
import { composeMotions, repeatMotion } from '../register/drift-motion.js';
import type { DriftModel } from '../register/drift-types.js';
import { columnRow, gridSteps, type Walk, walkedList, walkPlacements } from '../register/drift-walk.js';
import { rectangleHoles } from '../register/repunch.js';
import { holesAt } from '../register/sheets.test-help.js';
import { latticePoint, makeLattice } from '../repeat/lattice.js';
import type { LatticeStep, Repeat } from '../repeat/types.js';

const W = 200;
const H = 120;
const REPEATS: readonly Repeat[] = [
  { kind: 'straight', step: { p: 0, q: 1 } },
  { kind: 'drop', step: { p: 1, q: 2 } },
  { kind: 'drop', step: { p: 2, q: 3 } },
  { kind: 'brick', step: { p: 1, q: 3 } },
];
const TRUE = rectangleHoles(W, H);
const SKEW = holesAt([0, 0], [201, 1], [200.5, 121], [-0.5, 119.5]);

const modelOf = (repeat: Repeat, holes = TRUE) => driftModel(holes, { widthMm: W, heightMm: H, repeat });

describe('columns and rows of a cloth', () => {
  it.each(REPEATS)('of $kind $step are counted from 0, each place once', (repeat) => {
    const model = modelOf(repeat);
    const counted = gridSteps(model, 4, 7).map((step) => columnRow(model, step));
    expect(new Set(counted.map(({ column, row }) => `${column},${row}`)).size).toBe(28);
    for (const { column, row } of counted) {
      expect(column >= 0 && column < 7 && row >= 0 && row < 4).toBe(true);
    }
  });

  it('are those of the job’s places: each column of a drop begins where it is not above the first', () => {
    for (const repeat of REPEATS) {
      const model = modelOf(repeat);
      const lattice = makeLattice(repeat, W, H);
      for (const step of gridSteps(model, 4, 7)) {
        const { column, row } = columnRow(model, step);
        const { x, y } = latticePoint(lattice, step);
        const [across, down] = [x / W - column, y / H - row];
        expect(across).toBeGreaterThan(-1e-9);
        expect(across).toBeLessThan(1 - 1e-9);
        expect(down).toBeGreaterThan(-1e-9);
        expect(down).toBeLessThan(1 - 1e-9);
      }
    }
  });
});

/** Whether every placement lies where its steps from the one it is said to be laid from bring it. */
function follows(model: DriftModel, walk: Walk): void {
  for (const line of walk.values()) {
    for (const { motion, from } of line.values()) {
      if (from === null) continue;
      const start = walk.get(from.line)?.get(from.pos);
      expect(start).toBeDefined();
      const again = from.moves.reduce(
        (at, { kind, count }) => {
          return composeMotions(at, repeatMotion((model[kind] as NonNullable<DriftModel['within']>).motion, count));
        },
        start?.motion as typeof motion,
      );
      expect(Math.hypot(again.x - motion.x, again.y - motion.y)).toBeLessThan(1e-9);
    }
  }
}

const patches = fc.uniqueArray(fc.tuple(fc.integer({ min: -3, max: 4 }), fc.integer({ min: -3, max: 4 })), {
  minLength: 1,
  maxLength: 14,
  selector: ([i, j]) => `${i},${j}`,
});

describe('a walk over any placements', () => {
  it('brings a true sheet to the job’s places, whatever is left out', () => {
    fc.assert(
      fc.property(fc.constantFrom(...REPEATS), patches, (repeat, places) => {
        const model = modelOf(repeat);
        const steps = places.map(([i, j]): LatticeStep => ({ i, j }));
        const walk = walkPlacements(model, steps);
        const list = walkedList(model, walk);
        expect(list.map(({ step }) => `${step.i},${step.j}`).sort()).toEqual(
          places.map(([i, j]) => `${i},${j}`).sort(),
        );
        for (const { step, motion, column, row } of list) {
          const at = latticePoint(makeLattice(repeat, W, H), step);
          expect(motion.x).toBeCloseTo(at.x, 6);
          expect(motion.y).toBeCloseTo(at.y, 6);
          expect({ column, row }).toEqual(columnRow(model, step));
        }
        follows(model, walk);
      }),
      { numRuns: 60 },
    );
  });

  it('steps each placement from its neighbour in the line before where that is there, else along its own line from the nearest', () => {
    fc.assert(
      fc.property(fc.constantFrom(...REPEATS), patches, (repeat, places) => {
        const model = modelOf(repeat, SKEW);
        const walk = walkPlacements(
          model,
          places.map(([i, j]) => ({ i, j })),
        );
        follows(model, walk);
        const lines = [...walk.keys()];
        expect(lines).toEqual(lines.toSorted((a, b) => a - b));
        lines.forEach((line, k) => {
          const own = [...(walk.get(line)?.values() ?? [])];
          for (const { from, pos } of own) {
            if (from === null) {
              expect(k).toBe(0);
              expect(pos).toBe(Math.min(...own.map((one) => one.pos)));
              continue;
            }
            if (from.line !== line) {
              expect(from.line).toBe(lines[k - 1]);
              expect(from.moves.at(-1)).toEqual({ kind: 'between', count: line - from.line });
              continue;
            }
            // Of those of its line that were laid from the line before, or first, none is nearer.
            const roots = own.filter((one) => one.from === null || one.from.line !== line);
            const nearest = Math.min(...roots.map((one) => Math.abs(one.pos - pos)));
            expect(Math.abs(from.pos - pos)).toBe(nearest);
            expect(from.moves).toEqual([{ kind: 'within', count: pos - from.pos }]);
          }
          // Where no neighbour is there, one placement is laid by way of the nearest place of the line before.
          const detours = own.filter(({ from }) => from !== null && from.line !== line && from.moves.length === 2);
          if (detours.length === 0) return;
          expect(detours).toHaveLength(1);
          const before = [...(walk.get(lines[k - 1])?.keys() ?? [])];
          const [{ from, pos }] = detours;
          const ahead = from?.moves[0].count ?? 0;
          const step = model.between?.by ?? { i: 0, j: 0 };
          const slide = (line - lines[k - 1]) * (model.lines === 'columns' ? step.j : step.i);
          const least = Math.min(...before.map((b) => Math.abs(pos - slide - b)));
          expect(Math.abs(ahead)).toBe(least);
        });
      }),
      { numRuns: 60 },
    );
  });

  it('goes over the nearer end of the line before where no neighbour is there, to the nearest of its own', () => {
    const model = modelOf(REPEATS[0], SKEW);
    const detour = (...own: number[]) => {
      const steps = [0, 1, 2].map((j) => ({ i: 0, j })).concat(own.map((j) => ({ i: 1, j })));
      const found = [...(walkPlacements(model, steps).get(1)?.values() ?? [])].filter(({ from }) => from?.line === 0);
      expect(found).toHaveLength(1);
      const [{ pos, from }] = found;
      return [pos, from?.pos, ...(from?.moves ?? []).map(({ kind, count }) => `${kind} ${count}`)];
    };
    expect(detour(9, 10)).toEqual([9, 2, 'within 7', 'between 1']);
    expect(detour(-10, -9)).toEqual([-9, 0, 'within -9', 'between 1']);
    expect(detour(-4, 9)).toEqual([-4, 0, 'within -4', 'between 1']);
    expect(detour(-8, 9)).toEqual([9, 2, 'within 7', 'between 1']);
  });

  it('lays the first where the job has it, and refuses steps that it lacks', () => {
    const model = modelOf(REPEATS[1], SKEW);
    const [first] = walkedList(model, walkPlacements(model, [{ i: 2, j: -1 }]));
    expect(first.motion).toMatchObject({ x: 2 * W, y: 0 });
    const lone = driftModel(
      SKEW,
      { widthMm: W, heightMm: H, repeat: REPEATS[0] },
      { sides: { right: false, bottom: true } },
    );
    expect(() =>
      walkPlacements(lone, [
        { i: 0, j: 0 },
        { i: 1, j: 0 },
      ]),
    ).toThrow(/from line to line/);
    expect(() =>
      walkPlacements(lone, [
        { i: 0, j: 0 },
        { i: 0, j: 3 },
      ]),
    ).not.toThrow();
  });
});
