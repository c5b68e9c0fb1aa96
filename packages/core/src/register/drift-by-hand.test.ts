import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Point } from '../geometry/types.js';
import { latticePoint, makeLattice } from '../repeat/lattice.js';
import type { Repeat } from '../repeat/types.js';
import { driftOf, placementsUnderDrift } from './drift.js';
import { joinsOf } from './drift-joins.js';
import { moveBy } from './drift-motion.js';
import { lastPath } from './drift-paths.js';
import type { Drift, DriftedPlacement } from './drift-types.js';
import { gridSteps, walkPlacements } from './drift-walk.js';
import { holesAt } from './sheets.test-help.js';

const REPEATS: readonly Repeat[] = [
  { kind: 'straight', step: { p: 0, q: 1 } },
  { kind: 'drop', step: { p: 1, q: 2 } },
  { kind: 'drop', step: { p: 2, q: 3 } },
  { kind: 'brick', step: { p: 1, q: 3 } },
];
const off = fc.integer({ min: -8, max: 8 }).map((n) => n / 10);
const cases = fc.record({
  repeat: fc.constantFrom(...REPEATS),
  stray: fc.array(off, { minLength: 6, maxLength: 6 }),
  down: fc.integer({ min: 2, max: 5 }),
  across: fc.integer({ min: 2, max: 5 }),
});

function made({
  repeat,
  stray: [a, b, c, d, e, f],
  down,
  across,
}: {
  repeat: Repeat;
  stray: number[];
  down: number;
  across: number;
}): Drift {
  const holes = holesAt([0, 0], [600 + a, b], [600 + c, 340 + d], [e, 340 + f]);
  return driftOf(holes, { widthMm: 600, heightMm: 340, repeat }, { down, across, toleranceMm: 0.5 });
}

const away = (p: Point, q: Point) => Math.hypot(p.x - q.x, p.y - q.y);

/** All joins between placements that lie beside each other, by where both have the ends of their shared seam. */
function joinsByHand(drift: Drift, placed: readonly DriftedPlacement[]) {
  const { sheet, holes } = drift.model;
  const dots = drift.model.dots;
  // The job's place on the sheet as it is: a dot of the sheet where there is one, else the same shares of the sides.
  const onSheet = (p: Point): Point => {
    const own = dots.find(({ jobAt }) => away(jobAt, p) < 1e-6);
    if (own) return own.at;
    const [u, v] = [p.x / sheet.widthMm, p.y / sheet.heightMm];
    const mix = (one: Point, other: Point, t: number) => ({
      x: one.x + t * (other.x - one.x),
      y: one.y + t * (other.y - one.y),
    });
    return mix(mix(holes.upperLeft, holes.upperRight, u), mix(holes.lowerLeft, holes.lowerRight, u), v);
  };
  const lattice = makeLattice(sheet.repeat, sheet.widthMm, sheet.heightMm);
  return placed.flatMap((later, k) =>
    placed.slice(0, k).flatMap((earlier) => {
      const [p, q] = [latticePoint(lattice, earlier.step), latticePoint(lattice, later.step)];
      const x = [Math.max(p.x, q.x), Math.min(p.x, q.x) + sheet.widthMm];
      const y = [Math.max(p.y, q.y), Math.min(p.y, q.y) + sheet.heightMm];
      const [wide, high] = [x[1] - x[0], y[1] - y[0]];
      // A seam of some length and no width.
      if (Math.min(wide, high) < -1e-6 || Math.max(wide, high) < 1e-6 || Math.min(wide, high) > 1e-6) return [];
      const ends = [0, 1].map((end) => {
        const [one, other] = [
          moveBy(earlier.motion, onSheet({ x: x[end] - p.x, y: y[end] - p.y })),
          moveBy(later.motion, onSheet({ x: x[end] - q.x, y: y[end] - q.y })),
        ];
        return { mm: away(one, other), at: { x: (one.x + other.x) / 2, y: (one.y + other.y) / 2 } };
      });
      return [{ later, earlier, ends, mm: Math.max(...ends.map(({ mm }) => mm)) }];
    }),
  );
}

describe('joins of a cloth', () => {
  it('are off by what the two placements miss at the worse end of their seam', () => {
    fc.assert(
      fc.property(cases, (one) => {
        const drift = made(one);
        const placed = placementsUnderDrift(drift);
        const all = joinsByHand(drift, placed);
        const walk = walkPlacements(drift.model, gridSteps(drift.model, drift.down, drift.across));
        const told = [...walk.values()].flatMap((line) =>
          [...line.values()].flatMap((placement) => joinsOf(drift.model, walk, placement)),
        );
        expect(told).toHaveLength(all.length);
        for (const join of told) {
          const own = all.find(
            ({ later, earlier }) =>
              later.column === join.column &&
              later.row === join.row &&
              earlier.column === join.with.column &&
              earlier.row === join.with.row,
          );
          expect(own?.mm).toBeCloseTo(join.mm, 6);
          expect([own?.later.step, own?.earlier.step]).toEqual([join.step, join.with.step]);
          // It is told at an end of the seam that is off by as much.
          const ends = own?.ends.filter(({ mm, at }) => Math.abs(mm - join.mm) < 1e-6 && away(at, join.at) < 1e-6);
          expect(ends?.length).toBeGreaterThan(0);
        }
        const worst = Math.max(...all.map(({ mm }) => mm));
        expect(drift.worst?.mm).toBeCloseTo(worst, 5);
        const last = placed[placed.length - 1];
        const lasts = all.filter(({ later }) => later === last).map(({ mm }) => mm);
        expect(drift.last).toMatchObject({ column: last.column, row: last.row });
        expect(drift.last?.mm).toBeCloseTo(Math.max(...lasts), 6);
        const over = placed.find((p) => all.some(({ later, mm }) => later === p && mm > 0.5 + 1e-6));
        expect(drift.firstOver && [drift.firstOver.column, drift.firstOver.row]).toEqual(
          over === undefined ? null : [over.column, over.row],
        );
      }),
      { numRuns: 40 },
    );
  });

  it('of which the later placement was stepped from the earlier are off by the second dot alone', () => {
    fc.assert(
      fc.property(cases, (one) => {
        const drift = made(one);
        const walk = walkPlacements(drift.model, gridSteps(drift.model, drift.down, drift.across));
        let stepped = 0;
        for (const line of walk.values()) {
          for (const placement of line.values()) {
            for (const join of joinsOf(drift.model, walk, placement)) {
              if (!join.stepped || one.repeat.kind !== 'straight') continue;
              stepped++;
              const own = join.row === join.with.row ? drift.between : drift.within;
              expect(join.mm).toBeCloseTo(Math.abs(own?.secondDotMm ?? 9), 6);
            }
          }
        }
        // Every placement of a later column is stepped from its neighbour, and the second of the first column from the first.
        if (one.repeat.kind === 'straight') expect(stepped).toBeGreaterThan(one.down * (one.across - 1));
      }),
      { numRuns: 40 },
    );
  });
});

describe('what a line does in all', () => {
  it('is told by its first and its last placement, against the job’s places', () => {
    fc.assert(
      fc.property(cases, (one) => {
        const drift = made(one);
        const placed = placementsUnderDrift(drift);
        const lattice = makeLattice(one.repeat, 600, 340);
        const at = (column: number, row: number) => {
          const found = placed.find((p) => p.column === column && p.row === row);
          if (found === undefined) throw new Error(`no placement ${column}, ${row}`);
          return { job: latticePoint(lattice, found.step), real: moveBy(found.motion, { x: 0, y: 0 }), found };
        };
        const rows = one.repeat.kind === 'brick';
        const first = at(0, 0);
        for (const [line, end, steps] of [
          [drift.within, rows ? at(one.across - 1, 0) : at(0, one.down - 1), (rows ? one.across : one.down) - 1],
          [drift.between, rows ? at(0, one.down - 1) : at(one.across - 1, 0), (rows ? one.down : one.across) - 1],
        ] as const) {
          const wanted = { x: end.job.x - first.job.x, y: end.job.y - first.job.y };
          const real = { x: end.real.x - first.real.x, y: end.real.y - first.real.y };
          const angle = Math.atan2(real.y, real.x) - Math.atan2(wanted.y, wanted.x);
          const [length, own] = [Math.hypot(wanted.x, wanted.y), Math.hypot(real.x, real.y)];
          expect(line?.over.steps).toBe(steps);
          expect(1000 * Math.tan(((line?.leanDeg ?? 9) * Math.PI) / 180)).toBeCloseTo(line?.leanMmPerM ?? 0, 9);
          expect(line?.over.growthMm).toBeCloseTo(own * Math.cos(angle) - length, 6);
          expect(line?.over.sidewaysMm).toBeCloseTo(own * Math.sin(angle), 6);
          expect(line?.over.leanDeg).toBeCloseTo((angle * 180) / Math.PI, 6);
          expect(line?.over.leanMmPerM).toBeCloseTo(1000 * Math.tan(angle), 6);
          expect(line?.over.turnDeg).toBeCloseTo((end.found.motion.angleRad * 180) / Math.PI, 9);
        }
      }),
      { numRuns: 40 },
    );
  });

  it('has the radius on which the first three first dots of a line lie', () => {
    fc.assert(
      fc.property(fc.array(off, { minLength: 6, maxLength: 6 }), (stray) => {
        const drift = made({ repeat: REPEATS[0], stray, down: 3, across: 3 });
        const placed = placementsUnderDrift(drift);
        for (const [line, ids] of [
          [drift.within, [0, 1, 2]],
          [drift.between, [0, 3, 6]],
        ] as const) {
          const [p, q, r] = ids.map((k) => placed[k].motion);
          const twice = Math.abs((q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x));
          if (line?.radiusMm === null || line === null || twice < 20) continue;
          // Circumradius: the product of the sides over four times the area.
          expect((away(p, q) * away(q, r) * away(p, r)) / (2 * twice) / line.radiusMm).toBeCloseTo(1, 4);
        }
      }),
      { numRuns: 40 },
    );
  });
});

describe('the way to the last placement', () => {
  it('lays one sheet after the other until it is there, each hole on the print of its partner', () => {
    fc.assert(
      fc.property(cases, (one) => {
        const drift = made(one);
        const { last, before } = lastPath(drift.model, drift);
        const lattice = makeLattice(one.repeat, 600, 340);
        const placed = placementsUnderDrift(drift);
        expect(last.step).toEqual(placed[placed.length - 1].step);
        expect(before?.step).toEqual(placed[placed.length - 2].step);
        const dot = (name: string) => drift.model.dots.find((d) => d.name === name);
        for (const path of [last, before]) {
          let from = { i: 0, j: 0 };
          for (const { name, laying, names, mark } of path?.laid ?? []) {
            const [i, j] = name.split(',').map(Number);
            const base = latticePoint(lattice, from);
            for (const which of ['first', 'second'] as const) {
              expect(laying[which].dot).toEqual(dot(names[which].dot)?.at);
              expect(laying[which].mark).toEqual(dot(names[which].mark)?.at);
              // On the job's sheet a hole lies on its mark when the sheet has made its step.
              const by = latticePoint(lattice, { i: i - from.i, j: j - from.j });
              const [hole, print] = [dot(names[which].dot)?.jobAt, dot(names[which].mark)?.jobAt];
              expect(away({ x: (hole?.x ?? 0) + by.x, y: (hole?.y ?? 0) + by.y }, print ?? by)).toBeLessThan(1e-6);
            }
            const there = { x: base.x + laying.first.mark.x, y: base.y + laying.first.mark.y };
            expect(away(mark, there)).toBeLessThan(1e-6);
            from = { i, j };
          }
          expect(from).toEqual(path?.step);
        }
        expect(
          lastPath(drift.model, {
            down: one.repeat.kind === 'brick' ? 3 : 1,
            across: one.repeat.kind === 'brick' ? 1 : 3,
          }).before,
        ).toBeNull();
      }),
      { numRuns: 30 },
    );
  });
});
