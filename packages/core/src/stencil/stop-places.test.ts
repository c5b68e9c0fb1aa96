import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boxContour, circleContour, polyline, reverseContour } from '../geometry/contour.js';
import { ringArea } from '../geometry/grid.js';
import { areaPaths, combine, type GridArea } from '../geometry/polygons.js';
import type { Contour } from '../geometry/types.js';
import type { Shape } from '../motif/types.js';
import { makeLattice } from '../repeat/lattice.js';
import { layRepeat } from '../repeat/lay-repeat.js';
import { findOpenings } from '../repeat/openings.js';
import type { Repeat } from '../repeat/types.js';
import { beforeLine, pastLine } from './hold-line.js';
import { type Part, sheetParts } from './opening-parts.js';
import { STOP_REACH_MM } from './stop-places.js';

const STRAIGHT: Repeat = { kind: 'straight', step: { p: 0, q: 1 } };
const [WIDTH, HEIGHT] = [200, 160];
/** The hold lines: 25 mm from the right and the bottom. */
const BANDS = {
  heldRight: { x0: 175, y0: 0, x1: WIDTH, y1: HEIGHT },
  heldBottom: { x0: 0, y0: 135, x1: WIDTH, y1: HEIGHT },
};

function fill(...contours: Contour[]): Shape {
  return { id: 'shape', ink: '#000000', contours, rule: 'nonzero', clips: [] };
}
function polygon(...points: (readonly [number, number])[]): Contour {
  return polyline(
    points.map(([x, y]) => ({ x, y })),
    { closed: true },
  );
}
/** A smooth closed outline through points around a place: cubics with handles along the neighbours' direction. */
function blob(x: number, y: number, radii: readonly number[], tension = 6): Contour {
  const n = radii.length;
  const at = (k: number) => {
    const a = (2 * Math.PI * (k % n)) / n;
    return { x: x + radii[k % n] * Math.cos(a), y: y + radii[k % n] * Math.sin(a) };
  };
  const coords: number[] = [at(0).x, at(0).y];
  for (let k = 0; k < n; k++) {
    const [o, p, q, r] = [at(k + n - 1), at(k), at(k + 1), at(k + 2)];
    coords.push(p.x + (q.x - o.x) / tension, p.y + (q.y - o.y) / tension);
    coords.push(q.x - (r.x - p.x) / tension, q.y - (r.y - p.y) / tension, q.x, q.y);
  }
  return { closed: true, coords: Float64Array.from(coords) };
}

function cut(shapes: readonly Shape[], { right = true } = {}) {
  const lattice = makeLattice(STRAIGHT, WIDTH, HEIGHT);
  const { cell } = layRepeat(shapes, lattice, {
    spill: 'carry',
    drawn: 'cut',
    method: 'resist',
    paperColour: '#ffffff',
    cut: null,
    reachMm: 3,
  });
  const bands = { ...BANDS, heldRight: right ? BANDS.heldRight : null };
  const { parts } = sheetParts(cell, cell.inks[0], findOpenings(cell), {
    field: { x0: 0, y0: 0, x1: WIDTH, y1: HEIGHT },
    bands,
    lapMm: 0.4,
    mode: 'band',
    lattice,
  });
  const { grid } = cell;
  const line = { right: right ? Math.round(175 * grid.sx) : null, bottom: Math.round(135 * grid.sy) };
  const stops = parts.flatMap((p) =>
    p.stops.map(({ from, to }) =>
      [from, to].map((q) => [q.x / grid.sx, q.y / grid.sy] as const).sort((a, b) => a[0] - b[0] || a[1] - b[1]),
    ),
  );
  return { parts, line, scale: grid.sx, stops };
}
const areaOf = (areas: readonly GridArea[], scale: number) =>
  areaPaths(areas).reduce((sum, ring) => sum + ringArea(ring), 0) / scale ** 2;

/** What must hold of every part, wherever its stops went. */
function expectSound({ parts, line, scale }: ReturnType<typeof cut>): void {
  for (const part of parts) {
    const { first, second, whole, book } = part;
    const wholeArea = areaOf([whole], scale);
    // Both cuts cover the whole and nothing twice: to the rounding of the grid along the stops.
    const bound = 1e-3;
    expect(Math.abs(areaOf(first, scale) + areaOf(second, scale) - wholeArea)).toBeLessThan(bound);
    const [a, b] = [areaPaths(first), areaPaths(second)];
    const size = (rings: ReturnType<typeof combine>) => rings.reduce((s, r) => s + ringArea(r), 0) / scale ** 2;
    if (a.length > 0 && b.length > 0) expect(size(combine('intersection', a, b, { book }))).toBeLessThan(bound);
    expect(size(combine('difference', areaPaths([whole]), [...a, ...b], { book }))).toBeLessThan(bound);
    expect(size(combine('difference', [...a, ...b], areaPaths([whole]), { book }))).toBeLessThan(bound);
    const limit = STOP_REACH_MM * scale + 2;
    for (const p of a.flat()) expect(pastLine(p, line)).toBeLessThanOrEqual(limit);
    for (const p of b.flat()) expect(beforeLine(p, line)).toBeLessThanOrEqual(limit);
    for (const stop of part.stops) expectOnBoth(stop, part);
  }
}

/** Ends and middle of a stop lie on the outlines of both cuts, to the rounding of the grid. */
function expectOnBoth({ from, to }: Part['stops'][number], { first, second }: Part): void {
  for (const p of [from, to, { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 }]) {
    for (const cut of [first, second]) expect(distanceTo(areaPaths(cut), p)).toBeLessThanOrEqual(3);
  }
}
function distanceTo(rings: readonly { x: number; y: number }[][], p: { x: number; y: number }): number {
  let least = Infinity;
  for (const ring of rings) {
    ring.forEach((b, k) => {
      const a = ring[(k + ring.length - 1) % ring.length];
      const length = (b.x - a.x) ** 2 + (b.y - a.y) ** 2;
      const t = length === 0 ? 0 : ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / length;
      const s = Math.min(1, Math.max(0, t));
      least = Math.min(least, Math.hypot(p.x - a.x - s * (b.x - a.x), p.y - a.y - s * (b.y - a.y)));
    });
  }
  return least;
}
const near = (stop: readonly (readonly [number, number])[], ...points: [number, number][]) => {
  stop.forEach((p, k) => {
    expect(Math.hypot(p[0] - points[k][0], p[1] - points[k][1])).toBeLessThan(0.35);
  });
};

describe('moves a stop', () => {
  it('stays on the line in an even bar', () => {
    const made = cut([fill(polygon([50, 100], [56, 100], [56, 158], [50, 158]))]);
    expect(made.stops).toHaveLength(1);
    near(made.stops[0], [50, 135], [56, 135]);
    expectSound(made);
  });

  it('to two corners opposite one another', () => {
    // A bar that widens in a step 4 mm before the line.
    const made = cut([
      fill(polygon([50, 90], [56, 90], [56, 131], [60, 131], [60, 158], [46, 158], [46, 131], [50, 131])),
    ]);
    expect(made.stops).toHaveLength(1);
    near(made.stops[0], [50, 131], [56, 131]);
    expectSound(made);
  });

  it('past the line where the corner is there', () => {
    const made = cut([
      fill(polygon([50, 90], [56, 90], [56, 138], [60, 138], [60, 158], [46, 158], [46, 138], [50, 138])),
    ]);
    near(made.stops[0], [50, 138], [56, 138]);
    expectSound(made);
  });

  it('to the near one of two corners, and before the line where both are about as near', () => {
    const bar = (before: number, past: number) =>
      polygon(
        [50, 90],
        [57, 90],
        [57, 135 - before],
        [56, 135 - before],
        [56, 135 + past],
        [57, 135 + past],
        [57, 158],
        [50, 158],
      );
    near(cut([fill(bar(5, 2))]).stops[0], [50, 137], [56, 137]);
    near(cut([fill(bar(3, 2.5))]).stops[0], [50, 132], [56, 132]);
  });

  it('away where the opening ends in a tip near the line', () => {
    const drop = (top: number, bottom: number) =>
      fill(polygon([70, top], [76, (top + bottom) / 2], [70, bottom], [64, (top + bottom) / 2]));
    // 6 mm past the line: the first cut takes all of it.
    const past = cut([drop(100, 141)]);
    expect(past.stops).toEqual([]);
    expect(past.parts[0].second).toEqual([]);
    expectSound(past);
    // 6 mm before it: all waits.
    const before = cut([drop(129, 158)]);
    expect(before.stops).toEqual([]);
    expect(before.parts[0].first).toEqual([]);
    expectSound(before);
  });

  it('and holds what goes on over the seam', () => {
    const made = cut([fill(polygon([50, 128], [56, 128], [56, 170], [50, 170]))]);
    const held = made.parts.filter(({ whole }) => whole.outer.some((p) => p.y === HEIGHT * made.scale));
    expect(held).toHaveLength(1);
    expect(held[0].first).toEqual([]);
    expect(areaOf(held[0].second, made.scale)).toBeCloseTo(6 * 32, 3);
    expectSound(made);
  });

  it('to a waist', () => {
    const waist = cut([
      fill(blob(100, 115, [8, 6, 4, 14, 34, 14, 4, 6], 8), blob(100, 152, [6, 6, 5, 5, 6, 9, 22, 9], 8)),
    ]);
    expectSound(waist);
    const even = cut([
      fill({
        closed: true,
        // Two arcs of a bar 12 mm wide that come within 4 mm of one another at y = 130.
        coords: Float64Array.of(
          44,
          100,
          44,
          120,
          48,
          122,
          48,
          130,
          48,
          138,
          44,
          140,
          44,
          158,
          48,
          158,
          52,
          158,
          56,
          158,
          56,
          140,
          52,
          138,
          52,
          130,
          52,
          122,
          56,
          120,
          56,
          100,
          52,
          100,
          48,
          100,
          44,
          100,
        ),
      }),
    ]);
    expect(even.stops).toHaveLength(1);
    const [p, q] = even.stops[0];
    expect(Math.hypot(p[0] - q[0], p[1] - q[1])).toBeCloseTo(4, 1);
    for (const end of [p, q]) expect(Math.abs(end[1] - 130)).toBeLessThan(1);
    expectSound(even);
  });

  it('straight across a slanting bar', () => {
    const made = cut([fill(polygon([60, 100], [66, 100], [106, 140], [106, 158], [100, 158], [100, 143]))]);
    expectSound(made);
    for (const [p, q] of made.stops) expect(Math.hypot(p[0] - q[0], p[1] - q[1])).toBeLessThan(7);
  });
});

describe('keeps both cuts sound', () => {
  it('with several stops on one opening', () => {
    // A comb: four teeth across the line, each with shoulders of its own.
    const teeth = [40, 60, 80, 100].flatMap((x, k): [number, number][] => [
      [x, 110],
      [x, 128 + 2 * k],
      [x + 2, 128 + 2 * k],
      [x + 2, 157],
      [x + 8, 157],
      [x + 8, 128 + 2 * k],
      [x + 10, 128 + 2 * k],
      [x + 10, 110],
    ]);
    const made = cut([fill(polygon([35, 100], [35, 110], ...teeth, [115, 110], [115, 100]))]);
    expect(made.parts).toHaveLength(1);
    expect(made.stops).toHaveLength(4);
    for (const [k, stop] of [...made.stops].sort((a, b) => a[0][0] - b[0][0]).entries()) {
      near(stop, [42 + 20 * k, 128 + 2 * k], [48 + 20 * k, 128 + 2 * k]);
    }
    expectSound(made);
  });

  it('with an opening along the line, on it and across its corner', () => {
    const wave = polygon(
      ...Array.from({ length: 24 }, (_, k): [number, number] => [20 + 5 * k, 133 + 3 * Math.sin(k)]),
      ...Array.from({ length: 24 }, (_, k): [number, number] => [135 - 5 * k, 137 + 3 * Math.sin(23 - k)]),
    );
    expectSound(cut([fill(wave)]));
    expectSound(cut([fill(boxContour({ x0: 20, y0: 125, x1: 120, y1: 135 }))]));
    expectSound(cut([fill(boxContour({ x0: 20, y0: 135, x1: 120, y1: 140 }))]));
    expectSound(
      cut([fill(polygon([20, 125], [60, 125], [60, 135], [80, 135], [80, 145], [40, 145], [40, 135], [20, 135]))]),
    );
    for (const radius of [4, 9, 20, 30]) expectSound(cut([fill(circleContour({ x: 174, y: 136 }, radius))]));
    expectSound(cut([fill(polygon([150, 60], [190, 60], [190, 150], [60, 150], [60, 120], [150, 120]))]));
  });

  it('with holes at the line', () => {
    const ring = (radius: number, hole: number) => [
      circleContour({ x: 90, y: 132 }, radius),
      reverseContour(circleContour({ x: 90, y: 136 }, hole)),
    ];
    for (const hole of [2, 6, 10]) expectSound(cut([fill(...ring(18, hole))]));
  });

  it('with any artwork', () => {
    const spot = fc.record({
      x: fc.double({ min: -5, max: 205, noNaN: true }),
      y: fc.double({ min: -5, max: 165, noNaN: true }),
      radii: fc.array(fc.double({ min: 1.5, max: 38, noNaN: true }), { minLength: 3, maxLength: 10 }),
      sharp: fc.boolean(),
    });
    const shape = spot.map(({ x, y, radii, sharp }) => fill(blob(x, y, radii, sharp ? 1e6 : 6)));
    fc.assert(
      fc.property(fc.array(shape, { minLength: 1, maxLength: 6 }), fc.boolean(), (shapes, right) => {
        expectSound(cut(shapes, { right }));
      }),
      { numRuns: 150, seed: 20260503 },
    );
  });
});
