import { readFileSync } from 'node:fs';
import { type Contour, InputError, type Lattice, polyline, type Shape } from '@okuri/core';
import { contourArea, makeLattice, pointsWithin, type Repeat, reduceBasis, stepsOnto } from '@okuri/core/inside';
import { readSvg } from '@okuri/reader';
import fc from 'fast-check';
import clipping from 'polygon-clipping';
import { describe, expect, it } from 'vitest';
import { multiArea, type Ring, ringOf } from './support/flatten.js';
import { filled, HALF_BRICK, HALF_DROP, layMotif, layPattern, openArea, PAPER, STRAIGHT } from './support/pattern.js';

// Values from outside of the project. Each check names its source. "Worked" values were computed from the definition, by other means.

function lattice(repeat: Repeat, w: number, h: number): Lattice {
  return makeLattice(repeat, w, h);
}

describe('lattices', () => {
  it.each([
    // Hoffstein, Pipher, Silverman: An Introduction to Mathematical Cryptography, example of Gaussian lattice reduction.
    {
      a: [66586820, 65354729],
      b: [6513996, 6393464],
      det: 6742604,
      lengths: [Math.hypot(2280, 1001), Math.hypot(1324, 2376)],
    },
    // Worked.
    { a: [90, 123], b: [56, 76], det: 48, lengths: [Math.hypot(6, 3), Math.hypot(2, 7)] },
    { a: [5, 8], b: [8, 13], det: 1, lengths: [1, 1] },
    { a: [66, 0], b: [33, 19], det: 1254, lengths: [38, 38.078866] },
    { a: [12, 2], b: [13, 4], det: 22, lengths: [Math.hypot(1, 2), Math.hypot(9, 4)] },
  ])('reduce to the shortest basis: $a, $b', ({ a, b, det, lengths }) => {
    const { u, v } = reduceBasis({ x: a[0], y: a[1] }, { x: b[0], y: b[1] });
    expect(Math.abs(u.x * v.y - u.y * v.x)).toBe(det);
    expect(Math.hypot(u.x, u.y)).toBeCloseTo(Math.min(...lengths), 5);
    expect(Math.hypot(v.x, v.y)).toBeCloseTo(Math.max(...lengths), 5);
    // Lagrange and Gauss: what "reduced" means.
    expect(2 * Math.abs(u.x * v.x + u.y * v.y)).toBeLessThanOrEqual(u.x * u.x + u.y * u.y);
    expect(u.x * u.x + u.y * u.y).toBeLessThanOrEqual(v.x * v.x + v.y * v.y);
  });

  it('reduces the half-drop of 200 × 300 to two steps of 250 (worked)', () => {
    const { a, b } = lattice(HALF_DROP, 200, 300);
    const { u, v } = reduceBasis(a, b);
    expect([Math.hypot(u.x, u.y), Math.hypot(v.x, v.y), Math.hypot(u.x + v.x, u.y + v.y)].sort()).toEqual(
      expect.arrayContaining([250, 250]),
    );
  });

  it('keeps the area of the unit, and a half-drop W × H is the lattice of a brick 2W × H/2 (worked)', () => {
    for (const repeat of [STRAIGHT, HALF_DROP, HALF_BRICK]) {
      const { a, b } = lattice(repeat, 180, 240);
      expect(a.x * b.y - a.y * b.x).toBe(180 * 240);
    }
    for (const r of [100, 250, 400, 777]) {
      expect(pointsWithin(lattice(HALF_DROP, 120, 200), r)).toBe(pointsWithin(lattice(HALF_BRICK, 240, 100), r));
    }
  });

  it('has as many points in a circle as Gauss counted (OEIS A000328)', () => {
    const counts = [1, 5, 13, 29, 49, 81, 113, 149, 197, 253, 317, 377, 441, 529, 613, 709, 797, 901, 1009, 1129, 1257];
    const square = lattice(STRAIGHT, 1, 1);
    expect(counts.map((_, r) => pointsWithin(square, r))).toEqual(counts);
    expect([30, 50, 100].map((r) => pointsWithin(square, r))).toEqual([2821, 7845, 31417]);
  });

  it('is hexagonal for a half-drop with W/H = √3/2 (OEIS A053416, circles of diameter n)', () => {
    const counts = [1, 1, 7, 7, 19, 19, 37, 43, 61, 73, 91, 109, 127, 151, 187, 199, 241];
    const hex = lattice(HALF_DROP, Math.sqrt(3) / 2, 1);
    expect(counts.map((_, n) => pointsWithin(hex, n / 2))).toEqual(counts);
  });

  it.each([
    // Worked.
    { repeat: STRAIGHT, w: 200, h: 300, radii: [200, 250, 300, 400, 500, 1000], counts: [3, 3, 5, 11, 15, 57] },
    { repeat: HALF_DROP, w: 200, h: 300, radii: [200, 250, 300, 400, 500, 1000], counts: [1, 5, 7, 9, 17, 55] },
    { repeat: HALF_BRICK, w: 200, h: 300, radii: [200, 250, 300, 400, 500, 1000], counts: [3, 3, 3, 9, 13, 57] },
    { repeat: STRAIGHT, w: 200, h: 200, radii: [200, 230, 300, 400, 500, 1000], counts: [5, 5, 9, 13, 21, 81] },
    { repeat: HALF_DROP, w: 200, h: 200, radii: [200, 230, 300, 400, 500, 1000], counts: [3, 7, 7, 15, 19, 79] },
    { repeat: HALF_BRICK, w: 200, h: 200, radii: [200, 230, 300, 400, 500, 1000], counts: [3, 7, 7, 15, 19, 79] },
  ])('$repeat.kind of $w × $h: points within a distance', ({ repeat, w, h, radii, counts }) => {
    expect(radii.map((r) => pointsWithin(lattice(repeat, w, h), r))).toEqual(counts);
  });

  it.each([
    // Worked: units that cover a positive part of a cloth, one unit's corner at the cloth's.
    { cloth: [360, 12000], unit: [180, 240], counts: [100, 101, 125] },
    { cloth: [1118, 914.4], unit: [200, 300], counts: [24, 24, 26] },
  ])('units on a cloth of $cloth', ({ cloth, unit: [w, h], counts }) => {
    const target = { x0: 0, y0: 0, x1: cloth[0], y1: cloth[1] };
    const unit = { x0: 0, y0: 0, x1: w, y1: h };
    expect([STRAIGHT, HALF_DROP, HALF_BRICK].map((r) => stepsOnto(lattice(r, w, h), unit, target).length)).toEqual(
      counts,
    );
  });
});

describe('areas', () => {
  // Pick 1899: A = I + B/2 − 1. The points are counted here one by one.
  it.each([
    {
      corners: [
        [0, 0],
        [5, 2],
        [3, 6],
        [-1, 4],
      ],
      area: 21,
      boundary: 6,
      inside: 19,
    },
    {
      corners: [
        [0, 0],
        [7, 1],
        [4, 4],
        [6, 8],
        [1, 6],
      ],
      area: 30,
      boundary: 8,
      inside: 27,
    },
    {
      corners: [
        [0, 0],
        [2, 1],
        [3, 3],
        [1, 2],
      ],
      area: 3,
      boundary: 4,
      inside: 2,
    },
  ])('agree with Pick: $corners', ({ corners, area, boundary, inside }) => {
    const count = countPoints(corners);
    expect(count).toEqual({ boundary, inside });
    const outline = polyline(
      corners.map(([x, y]) => ({ x, y })),
      { closed: true },
    );
    expect(Math.abs(contourArea(outline))).toBeCloseTo(count.inside + count.boundary / 2 - 1, 12);
    expect(area).toBe(count.inside + count.boundary / 2 - 1);
    // The same through the whole engine, one lattice unit drawn as 10 mm.
    const shape = filled('p', [
      polyline(
        corners.map(([x, y]) => ({ x: 20 + 10 * x, y: 5 + 10 * y })),
        { closed: true },
      ),
    ]);
    const { openings } = layPattern([shape], { widthMm: 120, heightMm: 120 });
    expect(openArea(openings)).toBeCloseTo(100 * area, 6);
  });

  // Whole µm: corners that differ in their last bits only make polygon-clipping give up ("Unable to complete output ring").
  const coordinate = fc.integer({ min: 2_000, max: 98_000 }).map((um) => um / 1000);
  const corner = fc.tuple(coordinate, coordinate);
  const polygon = fc.array(corner, { minLength: 3, maxLength: 9 });

  it('of unions and differences agree with another polygon engine (polygon-clipping 0.15.7)', () => {
    fc.assert(
      fc.property(
        fc.array(polygon, { minLength: 1, maxLength: 5 }),
        fc.array(polygon, { maxLength: 3 }),
        (inks, papers) => {
          // Rings may cross themselves: both engines count what they wind around (nonzero).
          const shape =
            (ink: string) =>
            (points: [number, number][], k: number): Shape => ({
              id: `${ink}${k}`,
              ink,
              contours: [
                polyline(
                  points.map(([x, y]) => ({ x, y })),
                  { closed: true },
                ),
              ],
              rule: 'nonzero',
              clips: [],
            });
          const shapes = [...inks.map(shape('#000000')), ...papers.map(shape(PAPER))];
          const seenMm2 = openOrNone(shapes);
          const black = clipping.union(inks.map((r) => [closed(r)]) as [Ring[]]);
          const seen = papers.length > 0 ? clipping.difference(black, ...papers.map((r) => [closed(r)])) : black;
          // Corners in whole µm lie on the grid. Only crossings of sides are rounded, by up to 0.07 µm; that turns sides of up to 140 mm, up to
          // 0.005 mm² a crossing, at random. A few hundred crossings: 0.05 mm², 5e-6 of the unit.
          expect(Math.abs(seenMm2 - multiArea(seen as Ring[][]))).toBeLessThan(0.05);
        },
      ),
      { numRuns: 150, endOnFailure: true },
    );
  });

  it('of the demo: every cut shape less its paper, summed, is what is open on the torus (polygon-clipping 0.15.7)', () => {
    const motif = readSvg(readFileSync(new URL('../fixtures/demo/motif.svg', import.meta.url)));
    const { openings } = layMotif(motif, { repeat: HALF_DROP });
    // No cut shape of the drawing meets another one or its copies, so the sum needs no torus. 48 chords a
    // curve of under 20 mm: chord errors under 4e-5 of the area.
    let sum = 0;
    for (let k = 0; k < motif.shapes.length; ) {
      const cut = motif.shapes[k++];
      let seen = clipping.xor(...(cut.contours.map((c) => [ringOf(c, 48)]) as [Ring[]]));
      while (motif.shapes[k]?.ink === PAPER) {
        for (const contour of motif.shapes[k++].contours) seen = clipping.difference(seen, [ringOf(contour, 48)]);
      }
      // The vine alone is drawn past both seams, onto its own copies.
      sum += cut.id === 'vine' ? vineArea(cut.contours[0]) : multiArea(seen as Ring[][]);
    }
    expect(Math.abs(openArea(openings) - sum) / sum).toBeLessThan(6e-5);
    expect(openArea(openings) / (300 * 420)).toBeGreaterThan(0.4);
  });
});

describe('openings on the torus', () => {
  // Exact counts over all 2^(L²) fillings of an L × L torus by squares that connect through their sides: worked by a search of the
  // universal cover; the counts of wrapping fillings are those of Akhunzhanov, Eserkepov, Tarasevich, arXiv 2204.01517.
  it.each([
    { L: 3, ranks: [259, 162, 91], parts: [1, 397, 108, 6] },
    { L: 4, ranks: [36559, 19932, 9045], parts: [1, 37293, 19260, 6464, 2076, 368, 56, 16, 2] },
  ])('all fillings of $L × $L: winding ranks and numbers of openings', ({ L, ranks, parts }) => {
    const foundRanks = [0, 0, 0];
    const foundParts = parts.map(() => 0);
    for (const [filling, weight] of fillingsUpToShift(L)) {
      const shapes = squaresOf(filling, L);
      const openings = shapes.length === 0 ? [] : layPattern(shapes, { widthMm: 10 * L, heightMm: 10 * L }).openings;
      foundRanks[Math.max(0, ...openings.map((o) => o.rank))] += weight;
      foundParts[openings.length] += weight;
      expect(openArea(openings)).toBeCloseTo(100 * shapes.length, 6);
    }
    expect(foundRanks).toEqual(ranks);
    expect(foundParts).toEqual(parts);
  });

  it('a staircase on 3 × 3 is one ribbon that runs on one way (worked)', () => {
    const cells = [
      [0, 0],
      [1, 0],
      [1, 1],
      [2, 1],
      [2, 2],
      [0, 2],
    ];
    const filling = cells.reduce((bits, [x, y]) => bits | (1 << (y * 3 + x)), 0);
    const { openings } = layPattern(squaresOf(filling, 3), { widthMm: 30, heightMm: 30 });
    expect(openings.map((o) => o.rank)).toEqual([1]);
    expect(openings[0].boxMm).toBeNull();
  });

  it('one bar across a half-drop dead-ends at the seam; two, half the height apart, run on as one (worked)', () => {
    const size = { widthMm: 100, heightMm: 80 };
    const bar = (y: number) => filled(`bar${y}`, [rectangle(0, y, 100, y + 8)]);
    const one = layPattern([bar(12)], size, { repeat: HALF_DROP });
    expect(one.openings.map((o) => o.rank)).toEqual([0]);
    const two = layPattern([bar(12), bar(52)], size, { repeat: HALF_DROP });
    expect(two.openings.map((o) => o.rank)).toEqual([1]);
    expect(openArea(two.openings)).toBeCloseTo(1600, 6);
    // The same turned: posts in a brick.
    const post = (x: number) => filled(`post${x}`, [rectangle(x, 0, x + 8, 100)]);
    const tall = { widthMm: 80, heightMm: 100 };
    expect(layPattern([post(12)], tall, { repeat: HALF_BRICK }).openings.map((o) => o.rank)).toEqual([0]);
    expect(layPattern([post(12), post(52)], tall, { repeat: HALF_BRICK }).openings.map((o) => o.rank)).toEqual([1]);
  });

  it("the demo's vine runs on for ever, one step after the other; nothing else does", () => {
    const motif = readSvg(readFileSync(new URL('../fixtures/demo/motif.svg', import.meta.url)));
    const { openings, joins, findings } = layMotif(motif, { repeat: HALF_DROP });
    expect(openings.filter((o) => o.rank === 1)).toHaveLength(1);
    expect(openings.filter((o) => o.rank === 2)).toHaveLength(0);
    expect(joins.filter((j) => j.state !== 'meets')).toEqual([]);
    expect(findings.filter((f) => f.severity === 'fix' || f.severity === 'stop')).toEqual([]);
  });
});

/** The open area on a unit of 100 × 100 mm; 0 where paper covers all. */
function openOrNone(shapes: readonly Shape[]): number {
  try {
    return openArea(layPattern(shapes, { widthMm: 100, heightMm: 100 }).openings);
  } catch (error) {
    if (error instanceof InputError && /nothing to cut/.test(error.message)) return 0;
    throw error;
  }
}

function rectangle(x0: number, y0: number, x1: number, y1: number): Contour {
  const corners = [
    { x: x0, y: y0 },
    { x: x1, y: y0 },
    { x: x1, y: y1 },
    { x: x0, y: y1 },
  ];
  return polyline(corners, { closed: true });
}

function closed(points: readonly [number, number][]): Ring {
  return [...points, points[0]];
}

function squaresOf(filling: number, L: number): Shape[] {
  const shapes: Shape[] = [];
  for (let k = 0; k < L * L; k++) {
    const [x, y] = [10 * (k % L), 10 * Math.floor(k / L)];
    if (filling & (1 << k)) shapes.push(filled(`s${k}`, [rectangle(x, y, x + 10, y + 10)]));
  }
  return shapes;
}

/** One filling of every class of shifts round the torus, with the size of its class: shifts change neither ranks nor numbers. */
function fillingsUpToShift(L: number): Map<number, number> {
  const seen = new Uint8Array(2 ** (L * L));
  const classes = new Map<number, number>();
  for (let filling = 0; filling < seen.length; filling++) {
    if (seen[filling]) continue;
    const members = new Set<number>();
    for (let dy = 0; dy < L; dy++) {
      for (let dx = 0; dx < L; dx++) {
        let moved = 0;
        for (let k = 0; k < L * L; k++) {
          if (filling & (1 << k)) moved |= 1 << (((Math.floor(k / L) + dy) % L) * L + (((k % L) + dx) % L));
        }
        members.add(moved);
      }
    }
    for (const m of members) seen[m] = 1;
    classes.set(filling, members.size);
  }
  return classes;
}

/** Whole points on the outline and inside of a polygon with whole corners, one by one. */
function countPoints(corners: readonly (readonly number[])[]): { boundary: number; inside: number } {
  let boundary = 0;
  let inside = 0;
  for (let x = -2; x <= 9; x++) {
    for (let y = -2; y <= 9; y++) {
      let on = false;
      let odd = false;
      corners.forEach(([x0, y0], k) => {
        const [x1, y1] = corners[(k + 1) % corners.length];
        const cross = (x1 - x0) * (y - y0) - (y1 - y0) * (x - x0);
        const between =
          Math.min(x0, x1) <= x && x <= Math.max(x0, x1) && Math.min(y0, y1) <= y && y <= Math.max(y0, y1);
        if (cross === 0 && between) on = true;
        if (y0 > y !== y1 > y && x < x0 + ((y - y0) / (y1 - y0)) * (x1 - x0)) odd = !odd;
      });
      if (on) boundary++;
      else if (odd) inside++;
    }
  }
  return { boundary, inside };
}

/** What of the vine lies between the top and the bottom seam: cut at y = 0 and y = 420. */
function vineArea(contour: Contour): number {
  const band: Ring = [
    [-1000, 0],
    [1000, 0],
    [1000, 420],
    [-1000, 420],
    [-1000, 0],
  ];
  return multiArea(clipping.intersection([ringOf(contour, 64)], [band]) as Ring[][]);
}
