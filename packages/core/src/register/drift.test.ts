import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { latticePoint, makeLattice } from '../repeat/lattice.js';
import type { Repeat } from '../repeat/types.js';
import { InputError } from '../units/input-error.js';
import { driftOf, JOIN_ROUNDING_MM, placementsUnderDrift } from './drift.js';
import { moveBy } from './drift-motion.js';
import { holesAt } from './sheets.test-help.js';
import type { Holes } from './types.js';

const STRAIGHT: Repeat = { kind: 'straight', step: { p: 0, q: 1 } };
const HALF_DROP: Repeat = { kind: 'drop', step: { p: 1, q: 2 } };

const REPEATS: readonly Repeat[] = [
  STRAIGHT,
  HALF_DROP,
  { kind: 'drop', step: { p: 1, q: 3 } },
  { kind: 'drop', step: { p: 2, q: 3 } },
  { kind: 'brick', step: { p: 1, q: 2 } },
  { kind: 'brick', step: { p: 3, q: 4 } },
];

function rectangle(w: number, h: number): Holes {
  return holesAt([0, 0], [w, 0], [w, h], [0, h]);
}

const sizes = fc.record({ w: fc.integer({ min: 50, max: 2000 }), h: fc.integer({ min: 50, max: 2000 }) });

describe('drift of true and leaning sheets', () => {
  it('a true rectangle never drifts, in any repeat', () => {
    fc.assert(
      fc.property(sizes, fc.constantFrom(...REPEATS), ({ w, h }, repeat) => {
        const drift = driftOf(
          rectangle(w, h),
          { widthMm: w, heightMm: h, repeat },
          { down: 12, across: 7, toleranceMm: 0.01 },
        );
        expect(drift.firstOver).toBeNull();
        expect(drift.worst?.mm).toBeLessThan(1e-9);
        const lattice = makeLattice(repeat, w, h);
        const places = placementsUnderDrift(drift);
        expect(places).toHaveLength(84);
        for (const { step, motion } of places) {
          const at = latticePoint(lattice, step);
          expect(Math.hypot(motion.x - at.x, motion.y - at.y)).toBeLessThan(1e-8);
        }
        for (const line of [drift.within, drift.between]) {
          expect(line?.radiusMm).toBeNull();
          expect(Math.abs(line?.over.sidewaysMm ?? 1)).toBeLessThan(1e-8);
        }
      }),
      { numRuns: 40 },
    );
  });

  it('a parallelogram steps perfectly and only leans, in any repeat', () => {
    fc.assert(
      fc.property(sizes, fc.integer({ min: -60, max: 60 }), fc.constantFrom(...REPEATS), ({ w, h }, slide, repeat) => {
        const holes = holesAt([0, 0], [w, 0], [w + slide / 10, h], [slide / 10, h]);
        const drift = driftOf(holes, { widthMm: w, heightMm: h, repeat }, { down: 9, across: 8, toleranceMm: 0.01 });
        expect(drift.worst?.mm).toBeLessThan(1e-8);
        expect(drift.within?.radiusMm ?? null).toBeNull();
        expect(drift.between?.radiusMm ?? null).toBeNull();
        if (repeat.kind !== 'straight') return;
        // Down the column the sheet slides by 1000 · slide / h mm a metre; to the right is anticlockwise of down.
        expect(drift.within?.leanMmPerM).toBeCloseTo((-1000 * slide) / 10 / h, 6);
        expect(drift.between?.leanMmPerM).toBeCloseTo(0, 9);
      }),
      { numRuns: 60 },
    );
  });

  it('a rectangle of another size grows and nothing else', () => {
    const sheet = { widthMm: 600, heightMm: 450, repeat: STRAIGHT };
    const drift = driftOf(rectangle(600.3, 449.8), sheet, { down: 11, across: 5, toleranceMm: 0.5 });
    expect(drift.within?.growthMm).toBeCloseTo(-0.2, 9);
    expect(drift.within?.over.growthMm).toBeCloseTo(-2, 9);
    expect(drift.between?.over.growthMm).toBeCloseTo(1.2, 9);
    expect(drift.worst?.mm).toBeLessThan(1e-9);
  });
});

describe('drift of trapezoids', () => {
  // Left and right run parallel; top and bottom, drawn out, meet at the apex, about which a column turns.
  const [l, r, w] = [450, 449, 600];
  const holes = holesAt([0, 0], [w, (l - r) / 2], [w, (l + r) / 2], [0, l]);
  const sheet = { widthMm: w, heightMm: l, repeat: STRAIGHT };

  it('columns bend on a circle about the apex', () => {
    const drift = driftOf(holes, sheet, { down: 41, across: 1, toleranceMm: 0.5 });
    // By similar triangles the apex lies top · l / (l − r) from the upper left hole, along the top.
    const top = Math.hypot(w, (l - r) / 2);
    expect(drift.within?.radiusMm).toBeCloseTo((top * l) / (l - r), 6);
    const turn = 2 * Math.atan2((l - r) / 2, w);
    expect(drift.within?.turnDeg).toBeCloseTo((-turn * 180) / Math.PI, 12);
    expect(drift.within?.secondDotMm).toBeCloseTo(0, 9);
    const apex = { x: (w * l) / (l - r), y: l / 2 };
    for (const { motion } of placementsUnderDrift(drift)) {
      const at = moveBy(motion, holes.upperLeft);
      expect(Math.hypot(at.x - apex.x, at.y - apex.y)).toBeCloseTo((top * l) / (l - r), 6);
    }
    // Chord and sagitta of a circle, from closed forms apart from this code.
    const radius = (top * l) / (l - r);
    const over = drift.within?.over;
    const chord = 2 * radius * Math.sin((40 * turn) / 2);
    const angle = (39 * turn) / 2;
    expect(over?.growthMm).toBeCloseTo(chord * Math.cos(angle) - 40 * l, 6);
    expect(over?.sidewaysMm).toBeCloseTo(-chord * Math.sin(angle), 6);
  });

  it('with top and bottom parallel columns run straight, each join is off by the difference, and rows bend', () => {
    const slanted = holesAt([0, 0], [600, 0], [599.8, 450], [0.2, 450]);
    const drift = driftOf(
      slanted,
      { widthMm: 600, heightMm: 450, repeat: STRAIGHT },
      { down: 6, across: 6, toleranceMm: 0.3 },
    );
    expect(drift.within?.radiusMm).toBeNull();
    expect(drift.within?.secondDotMm).toBeCloseTo(-0.4, 9);
    expect(drift.firstOver).toMatchObject({ column: 0, row: 1, stepped: true, with: { column: 0, row: 0 } });
    expect(drift.firstOver?.mm).toBeCloseTo(0.4, 9);
    const side = Math.hypot(450, 0.2);
    // The sides, drawn out below, meet at the centre of the rows.
    expect(drift.between?.radiusMm).toBeCloseTo((side * 600) / 0.4, 3);
  });

  it('joins that were not stepped grow from column to column', () => {
    const drift = driftOf(
      holes,
      { widthMm: w, heightMm: l, repeat: STRAIGHT },
      { down: 4, across: 12, toleranceMm: 2 },
    );
    const { firstOver, last, worst } = drift;
    expect(firstOver).not.toBeNull();
    expect(last).toMatchObject({ column: 11, row: 3 });
    expect((worst?.mm ?? 0) + JOIN_ROUNDING_MM).toBeGreaterThanOrEqual(last?.mm ?? Number.POSITIVE_INFINITY);
    // A smaller cloth that ends just before has no such join.
    const before = driftOf(holes, sheet, { down: 4, across: firstOver?.column ?? 0, toleranceMm: 2 });
    expect(before.firstOver).toBeNull();
  });
});

describe('what drift needs', () => {
  const sheet = { widthMm: 600, heightMm: 450, repeat: HALF_DROP };
  const cloth = { down: 3, across: 3, toleranceMm: 0.5 };

  it('says which dots were measured and which are assumed', () => {
    const free = driftOf(rectangle(600, 450), sheet, cloth);
    expect(free.model.dots.filter(({ known }) => known === 'interpolated').map(({ name }) => name)).toEqual(['C', 'F']);
    const extra = [{ name: 'C', at: { x: 600, y: 225.8 } }];
    const known = driftOf(rectangle(600, 450), { ...sheet, extra }, cloth);
    expect(known.model.dots.find(({ name }) => name === 'C')?.known).toBe('measured');
    // Stepped to the right the first dot lands on C: a column that is 0.8 mm too low, and a sheet turned by 0.8 on 225.
    expect(known.firstOver).not.toBeNull();
    expect(known.between?.growthMm).toBeCloseTo(Math.hypot(600, 225.8) - Math.hypot(600, 225), 9);
    expect(known.between?.secondDotMm).toBeCloseTo(-0.8, 9);
  });

  it('takes lattice steps of a plan, such as columns that start half a placement above', () => {
    const drift = driftOf(rectangle(600, 450), sheet, cloth);
    const steps = [0, 1, 2, 3].flatMap((i) => [-1, 0, 1, 2].map((k) => ({ i, j: k - Math.floor(i / 2) })));
    const laid = placementsUnderDrift(drift, steps);
    expect(laid).toHaveLength(16);
    for (const { step, column, row, motion } of laid) {
      const at = latticePoint(makeLattice(HALF_DROP, 600, 450), step);
      expect(Math.hypot(motion.x - at.x, motion.y - at.y)).toBeLessThan(1e-9);
      expect(column).toBe(step.i);
      expect(row).toBe(step.j + Math.floor(step.i / 2));
    }
  });

  it.each<[string, () => unknown, RegExp]>([
    ['no rows', () => driftOf(rectangle(600, 450), sheet, { ...cloth, down: 0 }), /0 placements down/],
    ['half a column', () => driftOf(rectangle(600, 450), sheet, { ...cloth, across: 1.5 }), /1\.5 placements across/],
    ['far too many', () => driftOf(rectangle(600, 450), sheet, { ...cloth, down: 9e5 }), /at most 500000/],
    [
      'no tolerance',
      () => driftOf(rectangle(600, 450), sheet, { ...cloth, toleranceMm: 0 }),
      /tolerance of joins is 0 mm/,
    ],
    ['no width', () => driftOf(rectangle(600, 450), { ...sheet, widthMm: 0 }, cloth), /width is 0 mm/],
    ['crossed holes', () => driftOf(holesAt([0, 0], [9, 0], [0, 9], [9, 9]), sheet, cloth), /go clockwise/],
    ['holes that are no numbers', () => driftOf(rectangle(Number.NaN, 9), sheet, cloth), /no number/],
    [
      'an unknown dot',
      () => driftOf(rectangle(600, 450), { ...sheet, extra: [{ name: 'Q', at: { x: 0, y: 0 } }] }, cloth),
      /name one of C, F/,
    ],
    [
      'rows of a drop',
      () => driftOf(rectangle(600, 450), sheet, { ...cloth, lines: 'rows' }),
      /walk the cloth by columns/,
    ],
    [
      'placements that need another step',
      () =>
        placementsUnderDrift(driftOf(rectangle(600, 450), { ...sheet, repeat: STRAIGHT }, { ...cloth, across: 1 }), [
          { i: 0, j: 0 },
          { i: 1, j: 0 },
        ]),
      /was not worked out for/,
    ],
  ])('refuses %s', (_, work, message) => {
    expect(work).toThrow(InputError);
    expect(work).toThrow(message);
  });
});
