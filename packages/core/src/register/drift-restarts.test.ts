import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Repeat } from '../repeat/types.js';
import { driftOf, JOIN_ROUNDING_MM } from './drift.js';
import { joinErrorMm } from './drift-joins.js';
import { linePlace, slidBy, stepAt } from './drift-model.js';
import type { RigidMotion } from './drift-motion.js';
import { groundLineRestarts } from './drift-restarts.js';
import type { Drift } from './drift-types.js';
import { walkPlacements } from './drift-walk.js';
import { holesAt } from './sheets.test-help.js';

const STRAIGHT: Repeat = { kind: 'straight', step: { p: 0, q: 1 } };

const REPEATS: readonly Repeat[] = [
  STRAIGHT,
  { kind: 'drop', step: { p: 1, q: 2 } },
  { kind: 'drop', step: { p: 2, q: 3 } },
  { kind: 'brick', step: { p: 1, q: 3 } },
];

/** The worst join of a cloth that is laid as told: each run of lines and each run of placements on its own from the sheet's own lattice. */
function worstAsTold(drift: Drift, lineStarts: readonly number[], placementStarts: readonly number[]): number {
  const { model, down, across } = drift;
  const [lines, length] = model.lines === 'columns' ? [across, down] : [down, across];
  const motions = new Map<string, RigidMotion>();
  const vector = (step: typeof model.within) => {
    if (step === null) return { x: 0, y: 0 };
    const { dot, mark } = step.laying.first;
    return { x: mark.x - dot.x, y: mark.y - dot.y };
  };
  const [within, between] = [vector(model.within), vector(model.between)];
  const slide = model.between === null ? 0 : linePlace(model.lines, model.between.by).pos;
  const lineRuns = [0, ...lineStarts, lines];
  const runs = [0, ...placementStarts, length];
  for (let a = 0; a + 1 < lineRuns.length; a++) {
    for (let b = 0; b + 1 < runs.length; b++) {
      const steps = [];
      for (let line = lineRuns[a]; line < lineRuns[a + 1]; line++) {
        // A whole run, so that the last is stepped as the others are, even where the cloth ends within it.
        for (let row = runs[b]; row < runs[b] + runs[1]; row++) {
          steps.push(stepAt(model.lines, line, row - slidBy(model.sheet, line)));
        }
      }
      const walk = walkPlacements(model, steps);
      const start = { line: lineRuns[a], pos: runs[b] - slidBy(model.sheet, lineRuns[a]) };
      const first = walk.get(start.line)?.get(start.pos)?.motion as RigidMotion;
      const rest = start.pos - start.line * slide;
      const x = start.line * between.x + rest * within.x - first.x;
      const y = start.line * between.y + rest * within.y - first.y;
      for (const laid of walk.values()) {
        for (const { line, pos, motion } of laid.values()) {
          if (pos + slidBy(model.sheet, line) >= length) continue;
          motions.set(`${line},${pos}`, { ...motion, x: motion.x + x, y: motion.y + y });
        }
      }
    }
  }
  let worst = 0;
  for (const [key, motion] of motions) {
    const [line, pos] = key.split(',').map(Number);
    const step = stepAt(model.lines, line, pos);
    for (const neighbour of model.neighbours) {
      const there = linePlace(model.lines, { i: step.i + neighbour.by.i, j: step.j + neighbour.by.j });
      const later = motions.get(`${there.line},${there.pos}`);
      if (later !== undefined) worst = Math.max(worst, joinErrorMm(neighbour, motion, later));
    }
  }
  return worst;
}

describe('fresh starts from a ground line', () => {
  it('are not needed by a rectangle or a parallelogram', () => {
    for (const slide of [0, 4]) {
      const holes = holesAt([0, 0], [600, 0], [600 + slide, 450], [slide, 450]);
      const drift = driftOf(
        holes,
        { widthMm: 600, heightMm: 450, repeat: STRAIGHT },
        { down: 30, across: 6, toleranceMm: 0.2 },
      );
      const { worstJoinMm, ...rest } = groundLineRestarts(drift);
      expect(worstJoinMm).toBeLessThan(1e-9);
      expect(rest).toEqual({
        placementsEvery: null,
        linesEvery: null,
        placementStarts: [],
        lineStarts: [],
        within: true,
      });
    }
  });

  it('a lean opens joins where the ground line is marked by the job', () => {
    const holes = holesAt([0, 0], [600, 0], [600.3, 450], [0.3, 450]);
    const drift = driftOf(
      holes,
      { widthMm: 600, heightMm: 450, repeat: STRAIGHT },
      { down: 9, across: 1, toleranceMm: 0.7 },
    );
    // 0.3 mm sideways a placement: two may be stepped before a fresh one.
    expect(groundLineRestarts(drift, 0.7, { marks: 'job' })).toMatchObject({
      placementsEvery: 2,
      placementStarts: [2, 4, 6, 8],
      within: true,
    });
  });

  it('keep every join within the tolerance, and one line more would not', () => {
    let tried = 0;
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: -6, max: 6 }), { minLength: 5, maxLength: 5 }),
        fc.constantFrom(...REPEATS),
        fc.constantFrom(0.5, 1, 3),
        ([b, cx, cy, dx, dy], repeat, toleranceMm) => {
          const holes = holesAt([0, 0], [600 + b / 20, 0], [600 + cx / 20, 450 + cy / 20], [dx / 20, 450 + dy / 20]);
          const drift = driftOf(holes, { widthMm: 600, heightMm: 450, repeat }, { down: 11, across: 9, toleranceMm });
          const told = groundLineRestarts(drift);
          const worst = worstAsTold(drift, told.lineStarts, told.placementStarts);
          // What the tool says is never less than what comes out, and within the tolerance where it says so.
          expect(worst).toBeLessThanOrEqual(told.worstJoinMm + 1e-9);
          if (told.within) expect(worst).toBeLessThanOrEqual(toleranceMm + JOIN_ROUNDING_MM);
          const [line] = told.lineStarts;
          if (!told.within || line === undefined) return;
          // One line more before the fresh one, on a cloth that ends with it.
          const cloth = repeat.kind === 'brick' ? { down: line + 2, across: 9 } : { down: 11, across: line + 2 };
          const ends = Math.min(line + 1, repeat.kind === 'brick' ? 10 : 8);
          if (ends < line + 1) return;
          const longer = driftOf(holes, { widthMm: 600, heightMm: 450, repeat }, { ...cloth, toleranceMm });
          tried++;
          expect(worstAsTold(longer, [line + 1], told.placementStarts)).toBeGreaterThan(toleranceMm);
        },
      ),
      { numRuns: 150 },
    );
    expect(tried).toBeGreaterThan(10);
  });

  it('runs are the longest: one placement more opens the fresh join', () => {
    const holes = holesAt([0, 0], [600, 0.4], [600, 449.6], [0, 450]);
    const sheet = { widthMm: 600, heightMm: 450, repeat: STRAIGHT };
    const drift = driftOf(holes, sheet, { down: 40, across: 1, toleranceMm: 3 });
    const { placementsEvery } = groundLineRestarts(drift);
    expect(placementsEvery).not.toBeNull();
    const longer = (placementsEvery ?? 0) + 1;
    const starts = (every: number): number[] =>
      Array.from({ length: Math.ceil(40 / every) - 1 }, (_, k) => (k + 1) * every);
    expect(worstAsTold(drift, [], starts(longer))).toBeGreaterThan(3);
    expect(worstAsTold(drift, [], starts(longer - 1))).toBeLessThanOrEqual(3);
  });

  it('is not enough for a sheet whose sides differ by more than the tolerance', () => {
    const holes = holesAt([0, 0], [600, 0], [599, 450], [0, 450]);
    const drift = driftOf(
      holes,
      { widthMm: 600, heightMm: 450, repeat: STRAIGHT },
      { down: 5, across: 5, toleranceMm: 0.5 },
    );
    expect(groundLineRestarts(drift).within).toBe(false);
    // Left and right 1 mm apart: no column can be stepped from its neighbour, so every one is fresh.
    const columns = driftOf(
      holesAt([0, 0], [600, 0], [600, 449], [0, 450]),
      { widthMm: 600, heightMm: 450, repeat: STRAIGHT },
      { down: 3, across: 5, toleranceMm: 0.5 },
    );
    expect(groundLineRestarts(columns)).toMatchObject({ within: false, linesEvery: 1, lineStarts: [1, 2, 3, 4] });
  });
});
