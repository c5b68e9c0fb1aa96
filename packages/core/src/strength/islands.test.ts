import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  boxContour,
  circleContour,
  contourArea,
  polyline,
  reverseContour,
  transformContour,
} from '../geometry/contour.js';
import { insideContours } from '../geometry/point-tests.js';
import type { Contour, Point } from '../geometry/types.js';
import { findIslands } from './islands.js';
import type { CutPaper, SheetOutline } from './types.js';

const EDGE = { x0: -500, y0: -500, x1: 500, y1: 500 };

/** `circleContour` runs 2e-6 of the radius outside the circle, on average: what areas and spans of large circles are off by. */
const CIRCLE = 1e-5;

function paperOf(...openings: (readonly Contour[])[]): CutPaper {
  return {
    edge: EDGE,
    outlines: openings.flatMap((contours, opening) => contours.map((contour): SheetOutline => ({ contour, opening }))),
  };
}

const disc = (x: number, y: number, r: number): Contour => circleContour({ x, y }, r);
const rim = (contour: Contour): Contour => reverseContour(contour);
const ringAt = (x: number, y: number, outer: number, inner: number): Contour[] => [
  disc(x, y, outer),
  rim(disc(x, y, inner)),
];
const square = (x: number, y: number, half: number): Contour =>
  boxContour({ x0: x - half, y0: y - half, x1: x + half, y1: y + half });
const polygon = (...corners: readonly (readonly [number, number])[]): Contour =>
  polyline(
    corners.map(([x, y]) => ({ x, y })),
    { closed: true },
  );
const turned = (c: Contour, degrees: number): Contour => {
  const a = (degrees * Math.PI) / 180;
  return transformContour(c, [Math.cos(a), Math.sin(a), -Math.sin(a), Math.cos(a), 0, 0]);
};

/** Archimedes' spiral as a band, `turns` round. */
function spiral(turns: number, pitch: number, width: number): Contour {
  const bank = (shift: number): Point[] =>
    Array.from({ length: turns * 60 + 1 }, (_, k) => {
      const a = (2 * Math.PI * k) / 60;
      const r = 10 + shift + (pitch * a) / (2 * Math.PI);
      return { x: r * Math.cos(a), y: r * Math.sin(a) };
    });
  const made = polyline([...bank(width), ...bank(0).reverse()], { closed: true });
  return contourArea(made) > 0 ? made : reverseContour(made);
}

describe('islands of closed form', () => {
  it('no outlines, no islands; nor for outlines without an inside', () => {
    expect(findIslands(paperOf())).toEqual([]);
    const line = polyline(
      [
        { x: 0, y: 0 },
        { x: 5, y: 0 },
      ],
      { closed: true },
    );
    expect(findIslands(paperOf([line], [{ closed: true, coords: new Float64Array() }]))).toEqual([]);
  });

  it('an annulus has one: its disc, its span is the difference of the radii', () => {
    const [island, ...others] = findIslands(paperOf([disc(-80, 0, 3)], ringAt(10, 20, 12, 7)));
    expect(others).toEqual([]);
    expect(island).toMatchObject({ id: '1', opening: 1, within: null, depth: 0 });
    expect(Math.abs(island.areaMm2 - Math.PI * 49)).toBeLessThan(CIRCLE * Math.PI * 49);
    expect(contourArea(island.outline)).toBeCloseTo(island.areaMm2, 9);
    expect(Math.abs((island.span?.lengthMm ?? 0) - 5)).toBeLessThan(1e-4);
    for (const [got, wanted] of [
      [island.box.x0, 3],
      [island.box.x1, 17],
      [island.box.y0, 13],
      [island.box.y1, 27],
    ])
      expect(got).toBeCloseTo(wanted, 3);
  });

  it.each([
    [0.5, 0.3],
    [3, -1.7],
    [-4.9, 0.01],
  ])('an island off the middle by %f, %f: the span is the difference of the radii less that', (dx, dy) => {
    const [island] = findIslands(paperOf([disc(0, 0, 12), rim(disc(dx, dy, 7))]));
    const off = Math.hypot(dx, dy);
    const { lengthMm, from, to } = island.span as NonNullable<typeof island.span>;
    expect(Math.abs(lengthMm - (5 - off))).toBeLessThan(1e-4);
    expect(Math.hypot(from.x - dx, from.y - dy)).toBeCloseTo(7, 3);
    expect(Math.hypot(to.x, to.y)).toBeCloseTo(12, 3);
  });

  it('three rings within each other: the outermost island first, each in the next', () => {
    const rings = [ringAt(0, 0, 10, 9), ringAt(0, 0, 30, 27), ringAt(0, 0, 20, 16)];
    const islands = findIslands(paperOf(...rings));
    expect(islands.map((i) => [i.id, i.opening, i.within, i.depth])).toEqual([
      ['1', 1, null, 0],
      ['2', 2, '1', 1],
      ['3', 0, '2', 2],
    ]);
    const areas = [27 ** 2 - 20 ** 2, 16 ** 2 - 10 ** 2, 9 ** 2].map((r2) => Math.PI * r2);
    islands.forEach((island, k) => {
      expect(Math.abs(island.areaMm2 - areas[k])).toBeLessThan(0.01);
      expect(Math.abs((island.span?.lengthMm ?? 0) - [3, 4, 1][k])).toBeLessThan(1e-4);
    });
    // Each point lies on its own island's paper.
    expect(islands.map((i) => Math.hypot(i.at.x, i.at.y)).map((r, k) => r > [20, 10, 0][k] - 1e-9)).toEqual([
      true,
      true,
      true,
    ]);
    expect(islands.map((i) => Math.hypot(i.at.x, i.at.y)).map((r, k) => r < [27, 16, 9][k])).toEqual([
      true,
      true,
      true,
    ]);
  });

  it('an opening without a rim on an island takes area off it, and its point is beside it', () => {
    const [island] = findIslands(paperOf(ringAt(0, 0, 20, 15), [square(0, 0, 6)], [square(0, 11, 1)]));
    expect(Math.abs(island.areaMm2 - (Math.PI * 225 - 144 - 4))).toBeLessThan(0.01);
    expect(insideContours([square(0, 0, 6), square(0, 11, 1)], island.at)).toBe(false);
    expect(Math.hypot(island.at.x, island.at.y)).toBeLessThan(15);
  });

  it('two islands in one opening: the way to the paper around, not to each other, in reading order', () => {
    const opening = [
      boxContour({ x0: 0, y0: 0, x1: 60, y1: 30 }),
      rim(square(36, 15, 5)),
      rim(disc(24, 15, 5)),
      rim(square(10, 6, 2)),
    ];
    const islands = findIslands(paperOf(opening));
    expect(islands.map((i) => i.span?.lengthMm)).toEqual([
      expect.closeTo(4, 6),
      expect.closeTo(10, 4),
      expect.closeTo(10, 6),
    ]);
    expect(islands.map((i) => i.id)).toEqual(['1', '2', '3']);
    expect(islands.map((i) => i.areaMm2)).toEqual([
      expect.closeTo(16, 9),
      expect.closeTo(25 * Math.PI, 3),
      expect.closeTo(100, 9),
    ]);
    expect(islands.every((i) => i.depth === 0 && i.within === null)).toBe(true);
  });

  it('the shortest way between curves bent the same way and between corner and curve', () => {
    // A corner at distance √2·8 from the middle, in a circle of 20.
    const [cornered] = findIslands(paperOf([disc(0, 0, 20), rim(square(0, 0, 8))]));
    expect(Math.abs((cornered.span?.lengthMm ?? 0) - (20 - Math.SQRT2 * 8))).toBeLessThan(1e-4);
    // An ellipse (20, 10) in a square of 11: the ends of its short axis are 1 from the sides.
    const ellipse = transformContour(disc(0, 0, 1), [9, 0, 0, 10, 0, 0]);
    const [oval] = findIslands(paperOf([turned(square(0, 0, 11), 0), rim(ellipse)]));
    expect(Math.abs((oval.span?.lengthMm ?? 0) - 1)).toBeLessThan(1e-4);
  });

  it('a comb, a spiral and an opening open to one side hold all their paper', () => {
    const comb: [number, number][] = [[0, 0]];
    for (let k = 0; k < 10; k++) comb.push([4 * k + 2, 0], [4 * k + 2, 20], [4 * k + 4, 20], [4 * k + 4, 0]);
    comb.push([44, 0], [44, -3], [0, -3]);
    const made = polygon(...comb);
    const opening = contourArea(made) > 0 ? made : reverseContour(made);
    const apart = transformContour(spiral(4, 5, 2), [1, 0, 0, 1, 0, 60]);
    expect(findIslands(paperOf([opening], [apart]))).toEqual([]);
  });

  it('a dumbbell of paper in an opening is one island; with a waist that holds nothing, two', () => {
    const waist = (half: number): Contour =>
      polygon([-10, -5], [-1, -half], [1, -half], [10, -5], [10, 5], [1, half], [-1, half], [-10, 5]);
    const outer = square(0, 0, 20);
    const [whole, ...others] = findIslands(paperOf([outer, rim(waist(0.5))]));
    expect(others).toEqual([]);
    expect(whole.areaMm2).toBeCloseTo(contourArea(waist(0.5)), 9);
    const halves = findIslands(paperOf([outer, rim(waist(0.005))]));
    expect(halves).toHaveLength(2);
    // A waist of 0.01 mm, 2 mm long, goes to either half or both.
    expect(halves[0].areaMm2 + halves[1].areaMm2).toBeCloseTo(contourArea(waist(0.005)), 9);
    expect(halves[0].areaMm2).toBeGreaterThan(halves[1].areaMm2 - 0.03);
    expect(halves.map((h) => h.span?.lengthMm)).toEqual([expect.closeTo(10, 6), expect.closeTo(10, 6)]);
  });
});

describe('paper that holds by a point only', () => {
  const ROOT = Math.SQRT1_2;

  it.each([0, 0.01, 0.019])('four squares with corners %f mm apart around paper', (gap) => {
    // Squares on their corners, at the four sides of a square of paper on its corner.
    const size = 10;
    const c = size * 2 * ROOT * 0.5 + gap / 2;
    const squares = [
      [-c, -c],
      [c, -c],
      [c, c],
      [-c, c],
    ].map(([x, y]) => [turned(square(0, 0, size / 2), 45)].map((s) => transformContour(s, [1, 0, 0, 1, x, y])));
    const islands = findIslands(paperOf(...squares));
    expect(islands).toHaveLength(1);
    const [island] = islands;
    expect(island.areaMm2).toBeCloseTo(size * size + gap * 2 * size * 2 * ROOT * 0.5, 0);
    expect(contourArea(island.outline)).toBeCloseTo(island.areaMm2, 9);
    expect(Math.hypot(island.at.x, island.at.y)).toBeLessThan(1);
    expect(island.span?.lengthMm).toBeLessThan(0.02);
  });

  it('squares farther apart than that hold it', () => {
    const c = 5 * Math.SQRT2 + 0.015;
    const squares = [
      [-c, -c],
      [c, -c],
      [c, c],
      [-c, c],
    ].map(([x, y]) => [transformContour(turned(square(0, 0, 5), 45), [1, 0, 0, 1, x, y])]);
    expect(findIslands(paperOf(...squares))).toEqual([]);
  });

  it('three discs that touch cut off the paper between them; a row and a chain of two do not', () => {
    const h = Math.sqrt(3);
    const three = [[disc(-10, 0, 10)], [disc(10, 0, 10)], [disc(0, 10 * h, 10)]];
    const [island, ...others] = findIslands(paperOf(...three));
    expect(others).toEqual([]);
    // The triangle of the middles less three sixths of a disc.
    expect(island.areaMm2).toBeCloseTo(100 * h - 50 * Math.PI, 2);
    expect(findIslands(paperOf(...[0, 20, 40, 60].map((x) => [disc(x, 0, 10)])))).toEqual([]);
  });

  it('a chessboard: every field within is an island, those at the edge hang on', () => {
    const fields: Contour[][] = [];
    for (let i = 0; i < 8; i++)
      for (let j = 0; j < 8; j++) if ((i + j) % 2 === 0) fields.push([square(10 * i, 10 * j, 5)]);
    const islands = findIslands(paperOf(...fields));
    // Of 32 fields of paper, those at the border of the board (3 or 4 a side) are open to the outside.
    const inner = 32 - 14;
    expect(islands).toHaveLength(inner);
    for (const i of islands) expect(i.areaMm2).toBeCloseTo(100, 6);
  });

  it('four wedges with tips in one point cut nothing off; a frame around them does', () => {
    const wedge = (d: number): Contour[] => [turned(polygon([0, 0], [10, -2], [10, 2]), d)];
    const wedges = [0, 90, 180, 270].map(wedge);
    expect(findIslands(paperOf(...wedges))).toEqual([]);
    const frame = [square(0, 0, 14), rim(square(0, 0, 10))];
    const islands = findIslands(paperOf(...wedges, frame));
    expect(islands).toHaveLength(4);
    for (const i of islands) expect(i.areaMm2).toBeCloseTo((400 - 4 * 20) / 4, 6);
  });

  it('a crescent whose tips touch is a ring', () => {
    const tips = (gap: number): Contour => {
      // Once round from the gap and back inside.
      const points: Point[] = [];
      for (let k = 0; k <= 100; k++) {
        const a = gap / 10 + ((2 * Math.PI - (2 * gap) / 10) * k) / 100;
        points.push({ x: 10 * Math.cos(a), y: 10 * Math.sin(a) });
      }
      const back = points.map((p, k) => {
        const share = 1 - 0.3 * Math.sin((Math.PI * k) / 100);
        return { x: p.x * share, y: p.y * share };
      });
      return polyline([...points, ...back.slice(1, -1).reverse()], { closed: true });
    };
    const closed = findIslands(paperOf([tips(0.004)]));
    expect(closed).toHaveLength(1);
    expect(closed[0].areaMm2).toBeGreaterThan(100);
    expect(findIslands(paperOf([tips(0.05)]))).toEqual([]);
  });

  it('an opening pinched to nothing cuts nothing off; an island that touches the paper around in a point falls', () => {
    const hourglass = polygon([-5, -5], [5, -5], [0.001, 0], [5, 5], [-5, 5], [-0.001, 0]);
    expect(findIslands(paperOf([hourglass]))).toEqual([]);
    const [island] = findIslands(paperOf([disc(0, 0, 10), rim(disc(4, 0, 6))]));
    expect(island.areaMm2).toBeCloseTo(36 * Math.PI, 2);
    expect(island.span?.lengthMm).toBeLessThan(1e-4);
  });

  it('a cut through an island from rim to rim makes two of it', () => {
    const bar = boxContour({ x0: -10, y0: -1, x1: 10, y1: 1 });
    const islands = findIslands(paperOf([square(0, 0, 15), rim(square(0, 0, 10))], [bar]));
    expect(islands.map((i) => i.areaMm2)).toEqual([expect.closeTo(180, 6), expect.closeTo(180, 6)]);
    // One end only: the paper still runs round the other.
    const short = boxContour({ x0: -10, y0: -1, x1: 9.9, y1: 1 });
    const [held, ...others] = findIslands(paperOf([square(0, 0, 15), rim(square(0, 0, 10))], [short]));
    expect(others).toEqual([]);
    expect(held.areaMm2).toBeCloseTo(400 - 2 * 19.9, 6);
  });

  it('thin tips and threads of paper are no islands', () => {
    // Two discs that touch leave two tips; a needle of paper runs into a square.
    const needle = polygon([0, 0], [20, 0], [20, 9.995], [4, 10], [20, 10.005], [20, 20], [0, 20]);
    expect(findIslands(paperOf([disc(-60, 0, 20)], [disc(-20, 0, 20)], [needle]))).toEqual([]);
  });
});

describe('random sheets', () => {
  const place = fc.record({
    kind: fc.constantFrom('disc', 'ring', 'double'),
    r: fc.double({ min: 2, max: 9, noNaN: true }),
    share: fc.double({ min: 0.3, max: 0.9, noNaN: true }),
    turn: fc.double({ min: 0, max: 360, noNaN: true }),
  });

  it('discs, rings and rings in rings on a raster: as many islands as were made, with their areas and spans', () => {
    fc.assert(
      fc.property(fc.array(place, { minLength: 1, maxLength: 30 }), (places) => {
        const openings: Contour[][] = [];
        const wanted: number[] = [];
        const spans: number[] = [];
        places.forEach(({ kind, r, share, turn }, k) => {
          const at = [20 * (k % 6), 20 * Math.floor(k / 6)] as const;
          const round = (radius: number): Contour =>
            transformContour(turned(disc(0, 0, radius), turn), [1, 0, 0, 1, at[0], at[1]]);
          if (kind === 'disc') {
            openings.push([round(r)]);
            return;
          }
          openings.push([round(r), rim(round(r * share))]);
          spans.push(r - r * share);
          if (kind === 'ring') {
            wanted.push(Math.PI * (r * share) ** 2);
            return;
          }
          const inner = r * share * share;
          openings.push([round(inner), rim(round(inner * share))]);
          wanted.push(Math.PI * ((r * share) ** 2 - inner ** 2), Math.PI * (inner * share) ** 2);
          spans.push(inner - inner * share);
        });
        const islands = findIslands(paperOf(...openings));
        const sorted = (list: readonly number[]): number[] => [...list].sort((a, b) => a - b);
        const areas = sorted(islands.map((i) => i.areaMm2));
        sorted(wanted).forEach((area, k) => {
          expect(Math.abs(areas[k] - area)).toBeLessThan(0.01);
        });
        expect(islands).toHaveLength(wanted.length);
        const found = sorted(islands.map((i) => i.span?.lengthMm ?? -1));
        sorted(spans).forEach((mm, k) => {
          expect(Math.abs(found[k] - mm)).toBeLessThan(1e-4);
        });
        const depths = islands.map((i) => i.depth);
        expect(depths).toEqual(sorted(depths));
      }),
      { numRuns: 60 },
    );
  });

  it('islands off the middle: each span is what the two circles leave', () => {
    const off = fc.record({
      r: fc.double({ min: 1, max: 9, noNaN: true }),
      share: fc.double({ min: 0, max: 1, noNaN: true }),
      angle: fc.double({ min: 0, max: 6.283, noNaN: true }),
    });
    fc.assert(
      fc.property(off, ({ r, share, angle }) => {
        const d = share * (10 - r - 0.05);
        const [island] = findIslands(paperOf([disc(0, 0, 10), rim(disc(d * Math.cos(angle), d * Math.sin(angle), r))]));
        expect(Math.abs((island.span?.lengthMm ?? -1) - (10 - r - d))).toBeLessThan(1e-4);
      }),
      { numRuns: 200 },
    );
  });
});
