import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boxContour, circleContour, polyline, reverseContour, transformContour } from '../geometry/contour.js';
import type { Contour, Point } from '../geometry/types.js';
import { InputError } from '../units/input-error.js';
import { longOpenings } from './long-openings.js';
import { noise, ring } from './outlines.test-help.js';

const closed = (points: readonly Point[]): Contour => polyline(points, { closed: true });
const asOpening = (...contours: Contour[]) => contours.map((contour) => ({ contour, opening: 0 }));
/** Length of the one opening that these outlines make; 0 where it is not long. */
const lengthOf = (contours: readonly Contour[], spanMm = 50): number =>
  longOpenings(asOpening(...contours), { spanMm })[0]?.lengthMm ?? 0;
/** How far a length is from the right one, as a share of it. */
const off = (found: number, right: number): number => Math.abs(found / right - 1);

/** A strip along a line of points, the width measured across its direction. */
function strip(middle: readonly Point[], width: number): Contour {
  const bank = (side: number): Point[] =>
    middle.map((p, k) => {
      const [a, b] = [middle[Math.max(0, k - 1)], middle[Math.min(middle.length - 1, k + 1)]];
      const length = Math.hypot(b.x - a.x, b.y - a.y);
      return { x: p.x + ((a.y - b.y) / length) * side, y: p.y + ((b.x - a.x) / length) * side };
    });
  return closed([...bank(-width / 2), ...bank(width / 2).reverse()]);
}

const along = (steps: number, place: (t: number) => Point): Point[] =>
  Array.from({ length: steps + 1 }, (_, k) => place(k / steps));

describe('the longest way inside an opening', () => {
  it('is found where the last place on its outline falls on the first', () => {
    // The last side is nine twelfths of the span: rounding puts its last place a hair before or behind the corner where the first stands.
    for (let k = 0; k < 60; k++) {
      const r = 20 + k / 7;
      const bow = along(20 + k, (t) => ({ x: 40 + r * Math.sin(Math.PI * t), y: 18.75 - r * Math.cos(Math.PI * t) }));
      const corners = [{ x: 0, y: 0 }, ...bow.slice(1, -1), { x: 0, y: 37.5 }];
      expect(off(lengthOf([closed(corners)]), Math.hypot(40 + r, 18.75))).toBeLessThan(0.03);
    }
  });
});

describe('the longest way inside an opening, within 3 % of closed forms', () => {
  it('a bar: its diagonal', () => {
    for (const [length, width] of [
      [60, 0.8],
      [100, 2],
      [100, 10],
      [51, 30],
      [400, 3],
    ]) {
      const bar = boxContour({ x0: 5, y0: 5, x1: 5 + length, y1: 5 + width });
      expect(off(lengthOf([bar]), Math.hypot(length, width)), `${length} × ${width}`).toBeLessThan(0.01);
    }
  });

  it('a disc: its diameter; an ellipse: its long axis', () => {
    expect(off(lengthOf([circleContour({ x: 0, y: 0 }, 30)]), 60)).toBeLessThan(0.01);
    const ellipse = transformContour(circleContour({ x: 0, y: 0 }, 1), [40, 0, 0, 8, 50, 50]);
    expect(off(lengthOf([ellipse]), 80)).toBeLessThan(0.01);
  });

  it('a ring: half way round, bending about its inside', () => {
    for (const [R, r] of [
      [20, 18],
      [20, 19.2],
      [40, 30],
      [30, 10],
    ]) {
      // From a point outside along the tangent to the inner circle, round it, and off along the tangent.
      const right = 2 * Math.sqrt(R * R - r * r) + r * (Math.PI - 2 * Math.acos(r / R));
      const rings = [circleContour({ x: 0, y: 0 }, R), reverseContour(circleContour({ x: 0, y: 0 }, r))];
      expect(off(lengthOf(rings), right), `${R}, ${r}`).toBeLessThan(0.03);
    }
  });

  it('an S of two half circles: a string pulled tight from end to end', () => {
    for (const [r, width] of [
      [20, 4],
      [20, 1],
      [30, 12],
    ]) {
      const points = [
        ...along(120, (t) => ({ x: -r * Math.cos(Math.PI * t), y: -r * Math.sin(Math.PI * t) })),
        ...along(120, (t) => ({ x: 2 * r - r * Math.cos(Math.PI * t), y: r * Math.sin(Math.PI * t) })).slice(1),
      ];
      const [inner, outer] = [r - width / 2, r + width / 2];
      // Tangent from the far corner of an end, round the first inner circle, along the inner tangent of both, and likewise on.
      const arc = Math.PI - Math.acos(inner / outer) - Math.acos(inner / r);
      const right = 2 * (Math.sqrt(outer ** 2 - inner ** 2) + inner * arc + Math.sqrt(r ** 2 - inner ** 2));
      expect(off(lengthOf([strip(points, width)]), right), `${r}, ${width}`).toBeLessThan(0.03);
    }
  });

  it('a spiral: its inner bank', () => {
    for (const width of [0.8, 2, 4]) {
      const pitch = 6;
      const turns = 4;
      const spiral = (by: number): Point[] =>
        along(800, (t) => {
          const a = 2 * Math.PI * turns * t;
          const rho = 8 + (pitch * a) / (2 * Math.PI) + by;
          return { x: rho * Math.cos(a), y: rho * Math.sin(a) };
        });
      const bank = spiral(-width / 2);
      const inner = bank.slice(1).reduce((sum, p, k) => sum + Math.hypot(p.x - bank[k].x, p.y - bank[k].y), 0);
      // Both ends lie on the outer bank, each about the tangent's length less the arc's beyond the inner bank: under 0.1 % here.
      const outline = closed([...spiral(width / 2).reverse(), ...bank].reverse());
      expect(off(lengthOf([outline]), inner), `${width}`).toBeLessThan(0.03);
    }
  });

  it('an L, a labyrinth, a comb: round the corners of paper', () => {
    const L = closed([
      { x: 0, y: 0 },
      { x: 60, y: 0 },
      { x: 60, y: 10 },
      { x: 10, y: 10 },
      { x: 10, y: 60 },
      { x: 0, y: 60 },
    ]);
    expect(off(lengthOf([L]), 2 * Math.hypot(50, 10))).toBeLessThan(0.01);
    // Lanes of 4 mm between walls of 1 mm that reach from either side in turn and leave 5 mm: a string from corner to corner of the walls.
    const [wide, lane, wall, gap, walls] = [40, 4, 1, 5, 6];
    const left: Point[] = [];
    const right: Point[] = [];
    for (let k = 1; k <= walls; k++) {
      const [y, below] = [k * lane + (k - 1) * wall, k * (lane + wall)];
      if (k % 2 === 1) left.push({ x: 0, y }, { x: wide - gap, y }, { x: wide - gap, y: below }, { x: 0, y: below });
      else right.push({ x: wide, y }, { x: gap, y }, { x: gap, y: below }, { x: wide, y: below });
    }
    const bottom = (walls + 1) * lane + walls * wall;
    const labyrinth = closed([
      { x: 0, y: 0 },
      { x: wide, y: 0 },
      ...right,
      { x: wide, y: bottom },
      { x: 0, y: bottom },
      ...left.reverse(),
    ]);
    const string = 2 * Math.hypot(wide - gap, lane) + (walls - 1) * Math.hypot(wide - 2 * gap, lane) + walls * wall;
    expect(off(lengthOf([labyrinth]), string)).toBeLessThan(0.03);
    const teeth = 9;
    const comb: Point[] = [
      { x: 0, y: -5 },
      { x: 10 * teeth - 5, y: -5 },
    ];
    for (let k = teeth - 1; k >= 0; k--) {
      comb.push({ x: 10 * k + 5, y: 0 }, { x: 10 * k + 5, y: 40 }, { x: 10 * k, y: 40 }, { x: 10 * k, y: 0 });
    }
    const across = 2 * Math.hypot(40, 5) + 10 * (teeth - 1) - 5;
    expect(off(lengthOf([closed(comb.filter((p, k) => k !== comb.length - 1 || p.y !== -5))]), across)).toBeLessThan(
      0.01,
    );
  });

  it('a broad star: from tip to tip; a jagged disc: no more than across', () => {
    const star = ring(10, (k) => (k % 2 === 0 ? 40 : 22));
    expect(off(lengthOf([star]), 80 * Math.sin((2 * Math.PI) / 5))).toBeLessThan(0.01);
    const rough = noise(5);
    const jagged = ring(360, (k) => (k % 2 === 0 ? 30 : 26) + rough());
    expect(lengthOf([jagged])).toBeGreaterThan(60);
    expect(lengthOf([jagged])).toBeLessThan(62 * 1.03);
  });

  it('a bar with jagged sides: not along the jags', () => {
    const upper = along(100, (t) => ({ x: 120 * t, y: Math.round(t * 100) % 2 }));
    const lower = along(100, (t) => ({ x: 120 * t, y: 10 - (Math.round(t * 100) % 2) }));
    expect(off(lengthOf([closed([...upper, ...lower.reverse()])]), Math.hypot(120, 10))).toBeLessThan(0.03);
  });
});

describe('which openings are told', () => {
  it('those over the span, by number, and the longest part of each', () => {
    const bar = (length: number, y: number): Contour => boxContour({ x0: 0, y0: y, x1: length, y1: y + 2 });
    const outlines = [
      { contour: bar(70, 0), opening: 4 },
      { contour: bar(49, 10), opening: 2 },
      { contour: bar(55, 20), opening: 1 },
      { contour: bar(90, 30), opening: 4 },
    ];
    const found = longOpenings(outlines, { spanMm: 50 });
    expect(found.map((long) => long.opening)).toEqual([1, 4]);
    expect(found[1].lengthMm).toBeCloseTo(Math.hypot(90, 2), 1);
    expect(found[1].at.x).toBeCloseTo(45, 0);
    expect(found[1].at.y).toBeGreaterThan(30);
    expect(found[1].at.y).toBeLessThan(32);
    expect(longOpenings(outlines, { spanMm: 120 })).toEqual([]);
    expect(longOpenings([], { spanMm: 50 })).toEqual([]);
  });

  it('gives rims of paper to the part they stand in', () => {
    const ringAt = (x: number): Contour[] => [
      circleContour({ x, y: 0 }, 20),
      reverseContour(circleContour({ x, y: 0 }, 18)),
    ];
    const one = longOpenings(asOpening(...ringAt(0)), { spanMm: 50 });
    const both = longOpenings(asOpening(...ringAt(0), ...ringAt(100)), { spanMm: 50 });
    expect(both[0].lengthMm).toBeCloseTo(one[0].lengthMm, 3);
  });

  it('refuses a span that is none', () => {
    for (const spanMm of [0, -1, Number.NaN]) expect(() => longOpenings([], { spanMm })).toThrow(InputError);
  });
});

it('turning, moving and scaling with the span changes no length by more than 3 %', () => {
  const shapes = [
    [boxContour({ x0: 0, y0: 0, x1: 80, y1: 6 })],
    [circleContour({ x: 0, y: 0 }, 25), reverseContour(circleContour({ x: 0, y: 0 }, 21))],
    [ring(10, (k) => (k % 2 === 0 ? 40 : 22))],
  ];
  const before = shapes.map((shape) => lengthOf(shape));
  fc.assert(
    fc.property(
      fc.nat({ max: 2 }),
      fc.double({ min: 0, max: 6.28, noNaN: true }),
      fc.double({ min: 0.7, max: 3, noNaN: true }),
      (k, angle, scale) => {
        const [c, s] = [scale * Math.cos(angle), scale * Math.sin(angle)];
        const moved = shapes[k].map((contour) => transformContour(contour, [c, s, -s, c, 77, -31]));
        expect(off(lengthOf(moved, 50 * scale) / scale, before[k])).toBeLessThan(0.03);
      },
    ),
    { numRuns: 40 },
  );
});
