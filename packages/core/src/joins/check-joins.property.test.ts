import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Point, Side } from '../geometry/types.js';
import type { Fraction, Lattice, Repeat, SeamEnd, SeamStretch } from '../repeat/types.js';
import { checkJoins } from './checked.test-help.js';
import { seamsOf, wrap } from './seam.js';

const INK = '#000000';
const ORDINARY_MM = 1e-6;

function latticeOf(kind: Repeat['kind'], step: Fraction, widthMm: number, heightMm: number): Lattice {
  const f = step.p / step.q;
  const a = { x: widthMm, y: kind === 'drop' ? f * heightMm : 0 };
  const b = { x: kind === 'brick' ? f * widthMm : 0, y: heightMm };
  return { repeat: { kind, step }, widthMm, heightMm, a, b };
}

const repeats = fc.oneof(
  fc.constant<[Repeat['kind'], Fraction]>(['straight', { p: 0, q: 1 }]),
  fc
    .tuple(
      fc.constantFrom<Repeat['kind']>('drop', 'brick'),
      fc.constantFrom<Fraction>(
        { p: 1, q: 2 },
        { p: 1, q: 3 },
        { p: 2, q: 3 },
        { p: 2, q: 5 },
        { p: 3, q: 7 },
        { p: 1, q: 60 },
        { p: 59, q: 60 },
      ),
    )
    .map(([kind, step]): [Repeat['kind'], Fraction] => [kind, step]),
);

/** A convex opening: a function that cuts it with a line through `p` along the unit vector `u`. */
interface Opening {
  readonly centre: Point;
  readonly radius: number;
  /** Parameters along the line, ascending, with the outline's direction (either way) at each; null where the line misses. */
  cut(p: Point, u: Point): readonly [Cut, Cut] | null;
}

interface Cut {
  readonly t: number;
  readonly direction: Point;
}

function disc(centre: Point, radius: number): Opening {
  return {
    centre,
    radius,
    cut(p, u) {
      const middle = (centre.x - p.x) * u.x + (centre.y - p.y) * u.y;
      const away = (centre.x - p.x) * u.y - (centre.y - p.y) * u.x;
      const half = Math.sqrt(radius * radius - away * away);
      if (!(half > 0)) return null;
      const at = (t: number): Cut => {
        const q = { x: p.x + t * u.x - centre.x, y: p.y + t * u.y - centre.y };
        return { t, direction: { x: -q.y / radius, y: q.x / radius } };
      };
      return [at(middle - half), at(middle + half)];
    },
  };
}

/** A straight bar `length` × `width` whose length points along `degrees`. */
function bar(centre: Point, length: number, width: number, degrees: number): Opening {
  const angle = (degrees * Math.PI) / 180;
  const e = { x: Math.cos(angle), y: Math.sin(angle) };
  const n = { x: -e.y, y: e.x };
  return {
    centre,
    radius: Math.hypot(length, width) / 2,
    cut(p, u) {
      let low: Cut = { t: -Infinity, direction: e };
      let high: Cut = { t: Infinity, direction: e };
      for (const [axis, half, direction] of [
        [e, length / 2, n],
        [n, width / 2, e],
      ] as const) {
        const start = (p.x - centre.x) * axis.x + (p.y - centre.y) * axis.y;
        const speed = u.x * axis.x + u.y * axis.y;
        if (Math.abs(speed) < 1e-12) {
          if (Math.abs(start) > half) return null;
          continue;
        }
        const [t0, t1] = [(-half - start) / speed, (half - start) / speed].sort((s, t) => s - t);
        if (t0 > low.t) low = { t: t0, direction };
        if (t1 < high.t) high = { t: t1, direction };
      }
      return low.t < high.t ? [low, high] : null;
    },
  };
}

const SIDES = ['left', 'right', 'top', 'bottom'] as const;
const OUTWARD: Readonly<Record<Side, Point>> = {
  left: { x: -1, y: 0 },
  right: { x: 1, y: 0 },
  top: { x: 0, y: -1 },
  bottom: { x: 0, y: 1 },
};

/** What the openings, laid on the torus, do at one side of the unit. */
function sideStretches(openings: readonly Opening[], lattice: Lattice, side: Side): SeamStretch[] {
  const { widthMm, heightMm, a, b } = lattice;
  const column = side === 'left' || side === 'right';
  const length = column ? heightMm : widthMm;
  const origin = { x: side === 'right' ? widthMm : 0, y: side === 'bottom' ? heightMm : 0 };
  const u = column ? { x: 0, y: 1 } : { x: 1, y: 0 };
  const pieces: [Cut, Cut][] = [];
  for (const opening of openings) {
    for (let i = -3; i <= 3; i++) {
      for (let j = -3; j <= 3; j++) {
        const p = { x: origin.x - i * a.x - j * b.x, y: origin.y - i * a.y - j * b.y };
        const cut = opening.cut(p, u);
        if (cut !== null && cut[0].t < length && cut[1].t > 0) pieces.push([cut[0], cut[1]]);
      }
    }
  }
  pieces.sort((p, q) => p[0].t - q[0].t);
  const merged: [Cut, Cut][] = [];
  for (const piece of pieces) {
    const last = merged.at(-1);
    if (last === undefined || piece[0].t > last[1].t) merged.push([...piece]);
    else if (piece[1].t > last[1].t) last[1] = piece[1];
  }
  const out = OUTWARD[side];
  const end = (cut: Cut, kind: SeamEnd['kind']): SeamEnd => {
    const corner = cut.t <= 0 || cut.t >= length;
    const outwards = cut.direction.x * out.x + cut.direction.y * out.y >= 0 ? 1 : -1;
    return {
      atMm: Math.min(length, Math.max(0, cut.t)),
      kind,
      tangent: corner ? out : { x: cut.direction.x * outwards, y: cut.direction.y * outwards },
      runsOn: true,
      corner,
    };
  };
  return merged.map(([from, to]) => ({
    side,
    ink: INK,
    from: end(from, 'begin'),
    to: end(to, 'end'),
    carried: false,
  }));
}

function allStretches(openings: readonly Opening[], lattice: Lattice): SeamStretch[] {
  return SIDES.flatMap((side) => sideStretches(openings, lattice, side));
}

const part = fc.double({ min: 0, max: 1, noNaN: true });

const scenes = fc
  .tuple(
    repeats,
    fc.array(fc.tuple(part, part, fc.double({ min: 0.3, max: 22, noNaN: true })), { minLength: 1, maxLength: 12 }),
  )
  .map(([[kind, step], discs]) => {
    const lattice = latticeOf(kind, step, 90, 70);
    return { lattice, openings: discs.map(([x, y, r]) => disc({ x: x * 90, y: y * 70 }, r)) };
  });

describe('openings laid on the torus', () => {
  it('meet at every seam and every point where seams meet, for any step', () => {
    fc.assert(
      fc.property(scenes, ({ lattice, openings }) => {
        const { joins, findings } = checkJoins(allStretches(openings, lattice), lattice);
        expect(findings).toEqual([]);
        for (const join of joins) {
          expect(join.state).toBe('meets');
          expect(join.flush).toBe(false);
          // A disc that barely touches has ends that rounding moves by the root of it.
          expect(Math.abs(join.offsetMm ?? Number.NaN)).toBeLessThan(1e-5);
        }
      }),
      { numRuns: 500 },
    );
  });

  it('meet with discs centred on, beside and reaching just to the points where seams meet', () => {
    fc.assert(
      fc.property(
        repeats,
        fc.constantFrom(0, 1),
        fc.double({ min: -5, max: 5, noNaN: true }),
        fc.double({ min: -5, max: 5, noNaN: true }),
        fc.double({ min: 0.5, max: 6, noNaN: true }),
        fc.boolean(),
        ([kind, step], which, dx, dy, r, touching) => {
          const lattice = latticeOf(kind, step, 90, 70);
          const at = which === 0 ? { x: 0, y: 0 } : kind === 'brick' ? { x: 0, y: 70 } : { x: 90, y: 0 };
          const radius = touching ? Math.max(0.1, Math.hypot(dx, dy)) : r;
          const openings = [disc({ x: at.x + dx, y: at.y + dy }, radius)];
          const { joins, findings } = checkJoins(allStretches(openings, lattice), lattice);
          expect(findings).toEqual([]);
          for (const join of joins) expect(join.state).toBe('meets');
        },
      ),
      { numRuns: 500 },
    );
  });

  it('report the shift where one side of a seam that closes on itself is shifted, round corners too', () => {
    fc.assert(
      fc.property(
        repeats,
        part,
        part,
        fc.double({ min: 4, max: 15, noNaN: true }),
        fc.double({ min: -2.9, max: 2.9, noNaN: true }),
        ([kind, step], x, y, r, d) => {
          const lattice = latticeOf(kind, step, 90, 70);
          const still = disc({ x: x * 90, y: y * 70 }, r);
          const column = kind !== 'brick';
          const moved = disc({ x: still.centre.x + (column ? 0 : d), y: still.centre.y + (column ? d : 0) }, r);
          const stretches = SIDES.flatMap((side) =>
            sideStretches([side === (column ? 'left' : 'top') ? moved : still], lattice, side),
          );
          for (const join of checkJoins(stretches, lattice).joins) {
            const want = join.seam === (column ? 'right' : 'bottom') ? d : 0;
            expect(Math.abs((join.offsetMm ?? Number.NaN) - want)).toBeLessThan(1e-5);
          }
        },
      ),
      { numRuns: 300 },
    );
  });

  it('give one join for each place where an outline crosses the right or the bottom side', () => {
    fc.assert(
      fc.property(scenes, ({ lattice, openings }) => {
        const stretches = allStretches(openings, lattice);
        const places = stretches
          .filter((s) => (s.side === 'right' || s.side === 'bottom') && s.to.atMm - s.from.atMm > 0.06)
          .flatMap((s) => [s.from, s.to])
          .filter((end) => !end.corner);
        const { joins } = checkJoins(stretches, lattice);
        expect(joins.length).toBeGreaterThanOrEqual(places.length);
        for (const place of places) {
          expect(joins.some((join) => Math.abs(join.atMm - place.atMm) < ORDINARY_MM)).toBe(true);
        }
      }),
    );
  });
});

/** Stretches of one seam by construction, both sides, and the partner side moved where `moved` says so. */
const constructed = fc
  .record({
    repeat: repeats,
    name: fc.constantFrom('right' as const, 'bottom' as const),
    slots: fc.array(
      fc.record({
        place: part,
        width: part,
        slopes: fc.tuple(part, part),
        moved: fc.boolean(),
      }),
      { minLength: 1, maxLength: 9 },
    ),
    turn: part,
    d: fc.double({ min: -2.9, max: 2.9, noNaN: true }),
  })
  .map(({ repeat: [kind, step], name, slots, turn, d }) => {
    const lattice = latticeOf(kind, step, 190, 170);
    const seam = seamsOf(lattice)[name === 'right' ? 0 : 1];
    const margin = seam.circular ? 0 : 4;
    const room = (seam.lengthMm - 2 * margin) / slots.length;
    // Ends of like kind stay more than two reaches apart, so that no pair but the built one is in question.
    const runs = slots.map((slot, k) => {
      const width = 1 + slot.width * (room / 2 - 8);
      const from = margin + k * room + 3.5 + slot.place * (room / 2 - 4);
      const start = seam.circular ? from + turn * seam.lengthMm : from;
      return { from: start, to: start + width, slopes: slot.slopes, offset: slot.moved ? d : 0 };
    });
    return { lattice, seam, runs, d };
  });

describe('ends built in pairs', () => {
  it('report exactly what was moved, for any step', () => {
    fc.assert(
      fc.property(constructed, ({ lattice, seam, runs }) => {
        const stretches = runs.flatMap((run) => {
          const direction = (slope: number) => {
            const angle = (slope - 0.5) * 2.6;
            const [n, s] = [Math.cos(angle), Math.sin(angle)];
            return seam.name === 'right' ? { x: n, y: s } : { x: s, y: n };
          };
          return [
            ...laid(seam, seam.ownSide, run.from, run.to, run.slopes.map(direction)),
            ...laid(
              seam,
              seam.partnerSide,
              run.from - seam.shiftMm + run.offset,
              run.to - seam.shiftMm + run.offset,
              run.slopes.map(direction).map((t) => ({ x: -t.x, y: -t.y })),
            ),
          ];
        });
        const { joins } = checkJoins(stretches, lattice);
        expect(joins).toHaveLength(2 * runs.length);
        for (const run of runs) {
          for (const [k, place] of [run.from, run.to].entries()) {
            const at = seam.circular ? wrap(place, seam.lengthMm) : place;
            const join = joins.find((j) => Math.abs(j.atMm - at) < ORDINARY_MM);
            const gap = Math.abs(run.offset) * Math.cos((run.slopes[k] - 0.5) * 2.6);
            expect(join?.seam).toBe(seam.name);
            expect(Math.abs((join?.offsetMm ?? Number.NaN) - run.offset)).toBeLessThan(ORDINARY_MM);
            expect(Math.abs((join?.gapMm ?? Number.NaN) - gap)).toBeLessThan(ORDINARY_MM);
            expect(join?.kinkDeg).toBeLessThan(1e-6);
            expect(join?.widthMm).toBeCloseTo(run.to - run.from, 6);
          }
        }
      }),
      { numRuns: 400 },
    );
  });
});

/** One run on a side, divided at the corner where it goes round one. */
function laid(
  seam: { readonly lengthMm: number; readonly circular: boolean },
  side: Side,
  from: number,
  to: number,
  tangents: readonly Point[],
): SeamStretch[] {
  const length = seam.lengthMm;
  const start = seam.circular ? wrap(from, length) : from;
  const stop = start + to - from;
  const end = (atMm: number, kind: SeamEnd['kind'], corner = false): SeamEnd => ({
    atMm,
    kind,
    tangent: tangents[kind === 'begin' ? 0 : 1],
    runsOn: true,
    corner,
  });
  const piece = (p: SeamEnd, q: SeamEnd): SeamStretch => ({ side, ink: INK, from: p, to: q, carried: false });
  if (stop <= length) return [piece(end(start, 'begin'), end(stop, 'end'))];
  return [
    piece(end(start, 'begin'), end(length, 'end', true)),
    piece(end(0, 'begin', true), end(stop - length, 'end')),
  ];
}

function transposed(stretches: readonly SeamStretch[], lattice: Lattice): [SeamStretch[], Lattice] {
  const sides = { left: 'top', right: 'bottom', top: 'left', bottom: 'right' } as const;
  const swap = (p: Point): Point => ({ x: p.y, y: p.x });
  const kinds = { straight: 'straight', drop: 'brick', brick: 'drop' } as const;
  return [
    stretches.map((s) => ({
      ...s,
      side: sides[s.side],
      from: { ...s.from, tangent: swap(s.from.tangent) },
      to: { ...s.to, tangent: swap(s.to.tangent) },
    })),
    {
      repeat: { kind: kinds[lattice.repeat.kind], step: lattice.repeat.step },
      widthMm: lattice.heightMm,
      heightMm: lattice.widthMm,
      a: swap(lattice.b),
      b: swap(lattice.a),
    },
  ];
}

describe('a drop seen with x and y exchanged', () => {
  it('is a brick of the same step, with the same joins on the other seam', () => {
    fc.assert(
      fc.property(scenes, fc.double({ min: -3, max: 3, noNaN: true }), ({ lattice, openings }, d) => {
        // The right side is read from artwork that is shifted, so that there is something to report.
        const moved = openings.map((o) => disc({ x: o.centre.x, y: o.centre.y + d }, o.radius));
        const stretches = SIDES.flatMap((side) => sideStretches(side === 'right' ? moved : openings, lattice, side));
        const plain = checkJoins(stretches, lattice).joins;
        const mirrored = checkJoins(...transposed(stretches, lattice)).joins;
        const key = (j: { atMm: number; offsetMm: number | null; state: string }) =>
          [j.state, j.atMm.toFixed(6), j.offsetMm === null ? '' : Math.abs(j.offsetMm).toFixed(6)].join(' ');
        for (const [name, other] of [
          ['right', 'bottom'],
          ['bottom', 'right'],
        ] as const) {
          expect(
            mirrored
              .filter((j) => j.seam === other)
              .map(key)
              .sort(),
          ).toEqual(
            plain
              .filter((j) => j.seam === name)
              .map(key)
              .sort(),
          );
        }
      }),
      { numRuns: 300 },
    );
  });
});

describe('a bar near a point where seams meet', () => {
  const steps = [
    { p: 0, q: 1 },
    { p: 1, q: 2 },
    { p: 1, q: 3 },
    { p: 2, q: 5 },
  ];
  const slopes = [20, 35, 45, 60, 75];
  const shifts = [0.3, 0.7, 1, 1.5, 2.4];
  const cases = steps.flatMap((step) => slopes.flatMap((slope) => shifts.map((d) => [step, slope, d] as const)));

  it.each(cases)('slides round the corner and reports what moved: step %o, slope %d°, by %d mm', (step, slope, d) => {
    const lattice = latticeOf(step.p === 0 ? 'straight' : 'drop', step, 120, 100);
    // The bar crosses the bottom seam 0.3 mm left of the right-hand corner, then the right seam.
    const angle = (slope * Math.PI) / 180;
    const at = { x: 120 - 0.3, y: 100 };
    const still = bar(at, 30, 0.4 * Math.sin(angle), slope);
    const slid = bar({ x: at.x + d, y: at.y }, 30, 0.4 * Math.sin(angle), slope);
    // Only the lower right of the unit slides; the end of the bar below the seam is drawn in the unit's upper right.
    const stretches = [
      ...sideStretches([still], lattice, 'left'),
      ...sideStretches([still], lattice, 'top'),
      ...sideStretches([still], lattice, 'right'),
      ...sideStretches([slid], lattice, 'right').filter((s) => s.from.atMm > 85),
      ...sideStretches([slid], lattice, 'bottom'),
    ];
    const { joins } = checkJoins(stretches, lattice);
    const own = joins.filter((j) => j.seam === 'bottom');
    expect(own).toHaveLength(2);
    for (const join of own) {
      expect(join.offsetMm).toBeCloseTo(-d, 6);
      expect(join.gapMm).toBeCloseTo(d * Math.sin(angle), 6);
      expect(join.kinkDeg).toBeCloseTo(0, 6);
    }
    for (const join of joins.filter((j) => j.seam === 'right')) expect(join.offsetMm).toBeCloseTo(0, 6);

    // And the same with x and y exchanged, in a brick.
    const [turned, brick] = transposed(stretches, lattice);
    const sideways = checkJoins(turned, brick).joins.filter((j) => j.seam === 'right');
    expect(sideways.map((j) => j.offsetMm?.toFixed(6))).toEqual([(-d).toFixed(6), (-d).toFixed(6)]);
  });
});

describe('speed', () => {
  it('judges 2,000 ends on a seam in well under a second', () => {
    const lattice = latticeOf('drop', { p: 1, q: 2 }, 700, 650);
    const [seam] = seamsOf(lattice);
    const tangents = [
      { x: 1, y: 0 },
      { x: 1, y: 0 },
    ];
    const stretches = Array.from({ length: 500 }, (_, k) => [
      ...laid(seam, 'right', k * 1.3 + 0.2, k * 1.3 + 0.8, tangents),
      ...laid(
        seam,
        'left',
        k * 1.3 + 0.25 - seam.shiftMm,
        k * 1.3 + 0.85 - seam.shiftMm,
        tangents.map((t) => ({ x: -t.x, y: t.y })),
      ),
    ]).flat();
    const { joins } = checkJoins(stretches, lattice);
    expect(joins).toHaveLength(1000);
    for (const join of joins) {
      expect(join.offsetMm).toBeCloseTo(0.05, 6);
    }
  });
});
