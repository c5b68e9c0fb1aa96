import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sheetDots, sheetSteps } from '../register/dots.js';
import { fractionalPart } from '../repeat/fraction.js';
import { makeLattice } from '../repeat/lattice.js';
import type { Repeat } from '../repeat/types.js';
import { groundLine } from './ground-line.js';
import { markingWalk } from './marking-walk.js';
import { firstField, type LaidPlacement, layPlacements } from './placements.js';

const HALF_DROP: Repeat = { kind: 'drop', step: { p: 1, q: 2 } };

function lay(repeat: Repeat, width: number, length: number, align: 'left' | 'centre' = 'left') {
  const lattice = makeLattice(repeat, 180, 240);
  const usable = { x0: 10, y0: 20, x1: 10 + width, y1: 20 + length };
  const origin = firstField(lattice, usable, align);
  return { lattice, origin, placements: layPlacements(lattice, usable, { origin, fill: 'cover', start: 'above' }) };
}

describe('markingWalk', () => {
  it('goes down the ground line and then from each column to the next', () => {
    const { lattice, placements } = lay(HALF_DROP, 360, 480);
    expect(markingWalk(placements, lattice)).toEqual([
      { id: 'c1r1', from: null },
      { id: 'c1r2', from: 'c1r1' },
      { id: 'c2r2', from: 'c1r1' },
      { id: 'c2r3', from: 'c1r2' },
      // Half a placement above the cloth: stepped back from the one below it.
      { id: 'c2r1', from: 'c2r2' },
    ]);
  });

  it('marks every placement once, by steps that the dots allow, from one that is marked', () => {
    const repeats = fc
      .tuple(fc.constantFrom('drop', 'brick'), fc.integer({ min: 0, max: 6 }), fc.integer({ min: 1, max: 7 }))
      .map(([kind, p, q]): Repeat => {
        const step = fractionalPart({ p, q });
        return step.p === 0 ? { kind: 'straight', step } : { kind: kind as 'drop' | 'brick', step };
      });
    const mm = fc.integer({ min: 250, max: 1200 });
    fc.assert(
      fc.property(repeats, mm, mm, fc.constantFrom('left', 'centre'), (repeat, width, length, align) => {
        const { lattice, placements } = lay(repeat, width, length, align as 'left' | 'centre');
        const walk = markingWalk(placements, lattice);
        expect(walk.map((s) => s.id).sort()).toEqual(placements.map((p) => p.id).sort());
        const field = { x0: 0, y0: 0, x1: lattice.widthMm, y1: lattice.heightMm };
        const dots = sheetDots(field, repeat, { diameterMm: 1 }).map((d) => d.at);
        const own = sheetSteps(field, repeat, sheetDots(field, repeat, { diameterMm: 1 })).map((s) => s.vector);
        const places = new Map(placements.map((p) => [p.id, p.field]));
        const marked = new Set<string>();
        let byOwnSteps = 0;
        for (const { id, from } of walk) {
          if (from !== null) {
            expect(marked.has(from)).toBe(true);
            const [a, b] = [places.get(from)!, places.get(id)!];
            const [dx, dy] = [b.x0 - a.x0, b.y0 - a.y0];
            const pairs = dots.filter((d) => dots.some((e) => Math.hypot(e.x - d.x - dx, e.y - d.y - dy) < 1e-6));
            expect(pairs.length).toBeGreaterThanOrEqual(2);
            const same = (v: { x: number; y: number }) =>
              Math.hypot(Math.abs(dx) - Math.abs(v.x), Math.abs(dy) - Math.abs(v.y)) < 1e-6;
            byOwnSteps += own.some(same) ? 1 : 0;
          }
          marked.add(id);
        }
        // The other way round is taken once a column at most, where none of it has a neighbour for the sheet's own step.
        const lines = new Set(placements.map((p) => (repeat.kind === 'brick' ? p.row : p.column))).size;
        expect(byOwnSteps).toBeGreaterThanOrEqual(walk.filter((s) => s.from !== null).length - lines);
      }),
      { numRuns: 100 },
    );
  });
});

describe('a line that has no neighbour for its own step', () => {
  // Columns of a drop share a seam with two of the column beside them: one by the sheet's own step, one the other way.
  const walk = (p: number, places: readonly (readonly [i: number, j: number])[]) => {
    const placements = places.map(([i, j]) => ({ id: `${i},${j}`, step: { i, j } }) as LaidPlacement);
    return markingWalk(placements, makeLattice({ kind: 'drop', step: { p, q: 3 } }, 180, 240)).map(
      ({ id, from }) => `${id} from ${from}`,
    );
  };

  it('begins by the other way, to the right and to the left', () => {
    // A third: along, or one further on (one back to the left). Two thirds: one further on, or along.
    expect(
      walk(1, [
        [0, 1],
        [1, 0],
      ]),
    ).toEqual(['0,1 from null', '1,0 from 0,1']);
    expect(
      walk(2, [
        [0, 0],
        [1, 0],
      ]),
    ).toEqual(['0,0 from null', '1,0 from 0,0']);
    expect(
      walk(2, [
        [0, 1],
        [1, 0],
      ]),
    ).toEqual(['0,1 from null', '1,0 from 0,1']);
    expect(
      walk(1, [
        [0, 0],
        [-1, 1],
      ]),
    ).toEqual(['0,0 from null', '-1,1 from 0,0']);
    expect(
      walk(2, [
        [0, 1],
        [-1, 1],
      ]),
    ).toEqual(['0,1 from null', '-1,1 from 0,1']);
    expect(
      walk(1, [
        [0, 5],
        [1, 0],
      ]),
    ).toEqual(['0,5 from null', '1,0 from null']);
  });

  it('takes its own step where there is one, and goes on from there to both ends', () => {
    expect(
      walk(1, [
        [0, 1],
        [0, 2],
        [1, 0],
        [1, 1],
        [1, 2],
        [1, 3],
      ]),
    ).toEqual(['0,1 from null', '0,2 from 0,1', '1,1 from 0,1', '1,2 from 0,2', '1,3 from 1,2', '1,0 from 1,1']);
    // Of those that only the other way leads to, the first; the rest from it.
    expect(
      walk(1, [
        [0, 2],
        [1, 0],
        [1, 1],
      ]),
    ).toEqual(['0,2 from null', '1,1 from 0,2', '1,0 from 1,1']);
    // The first line begins at the origin where there is a placement, else with its first.
    expect(
      walk(1, [
        [0, -1],
        [0, 0],
        [0, 1],
      ]),
    ).toEqual(['0,0 from null', '0,1 from 0,0', '0,-1 from 0,0']);
    expect(
      walk(1, [
        [0, 3],
        [0, 2],
      ]),
    ).toEqual(['0,2 from null', '0,3 from 0,2']);
  });
});

describe('groundLine', () => {
  it('has a mark at every fifth placement, measured from one zero', () => {
    const { lattice, origin, placements } = lay(HALF_DROP, 360, 3000);
    const dot = { name: 'A', at: { x: 2, y: 3 } };
    const ground = groundLine(placements, lattice, { origin, every: 5, dot });
    expect(ground).toMatchObject({ xMm: 12, zero: { x: 12, y: 23 }, dot: 'A', fromMm: 20, toMm: 20 + 13 * 240 });
    expect(ground?.marks.map(({ id, acrossMm, alongMm }) => [id, acrossMm, alongMm])).toEqual([
      ['c1r1', 0, 0],
      ['c1r6', 0, 1200],
      ['c1r11', 0, 2400],
      ['c2r1', 180, -120],
      ['c2r6', 180, 1080],
      ['c2r11', 180, 2280],
    ]);
  });
});
