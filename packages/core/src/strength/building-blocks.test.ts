import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boxContour, circleContour, polyline, reverseContour } from '../geometry/contour.js';
import type { Contour, Point } from '../geometry/types.js';
import { lacking, type SupportEdge, supportsOf, wellApart } from '../ties/support.js';
import { cyclicRuns } from './cyclic-runs.js';
import { discSpan } from './disc-span.js';
import { type FlatRing, flatRing, pointBetween, ringHolds, sideBox, sideCurve, sideError } from './flat-ring.js';
import { nestRings } from './nest.js';
import { outlineBends } from './outline-bends.js';
import { uncutOn } from './uncut.js';
import { Ways } from './ways.js';

const integer = (min: number, max: number) => fc.integer({ min, max });

describe('shortest ways', () => {
  it('are those of Floyd and Warshall, over any links', () => {
    const links = fc.array(fc.tuple(integer(0, 8), integer(0, 8), integer(0, 30)), { maxLength: 20 });
    fc.assert(
      fc.property(links, (list) => {
        const ways = new Ways(9);
        const far = Array.from({ length: 9 }, (_, a) => Array.from({ length: 9 }, (_, b) => (a === b ? 0 : Infinity)));
        for (const [a, b, mm] of list) {
          ways.add(a, b, mm);
          far[a][b] = far[b][a] = Math.min(far[a][b], mm);
        }
        for (let k = 0; k < 9; k++)
          for (let a = 0; a < 9; a++)
            for (let b = 0; b < 9; b++) far[a][b] = Math.min(far[a][b], far[a][k] + far[k][b]);
        for (let a = 0; a < 9; a++) {
          const { lengths, before } = ways.from(a);
          expect([...lengths]).toEqual(far[a]);
          before.forEach((from, b) => {
            if (b === a || far[a][b] === Infinity) expect(from).toBe(-1);
            else {
              const last = Math.min(
                ...list.filter(([p, q]) => (p === from && q === b) || (q === from && p === b)).map(([, , mm]) => mm),
              );
              expect(far[a][from] + last).toBe(far[a][b]);
            }
          });
        }
      }),
      { numRuns: 25 },
    );
  });

  it('have no links below zero', () => {
    expect(() => new Ways(2).add(0, 1, -1)).toThrow(RangeError);
    expect(() => new Ways(2).add(0, 1, 0)).not.toThrow();
  });
});

describe('supports', () => {
  const edges = fc.array(
    fc
      .tuple(integer(0, 4), integer(0, 4), integer(0, 7), integer(0, 7))
      .filter(([a, b]) => a !== b)
      .map(([a, b, u, v]): SupportEdge => ({ a, b, placeA: u / 8, placeB: v / 8 })),
    { maxLength: 8 },
  );

  /** All ways from a piece to piece 0 that do not come back to the piece, as lists of ties: looked through one by one. */
  function waysOf(piece: number, chosen: readonly SupportEdge[]): number[][] {
    const found: number[][] = [];
    const go = (at: number, used: number[], seen: ReadonlySet<number>): void => {
      if (at === 0) {
        found.push(used);
        return;
      }
      chosen.forEach(({ a, b }, k) => {
        if (a !== at && b !== at) return;
        const next = a === at ? b : a;
        if (!seen.has(next)) go(next, [...used, k], new Set([...seen, next]));
      });
    };
    go(piece, [], new Set([piece]));
    return found;
  }

  const rim = (piece: number, { a, placeA, placeB }: SupportEdge) => (a === piece ? placeA : placeB);

  it('are one where a way leads to what holds, two where two ways share no tie and land a quarter of the rim apart', () => {
    fc.assert(
      fc.property(edges, integer(1, 4), (chosen, piece) => {
        const ways = waysOf(piece, chosen);
        const twice = ways.some((one) =>
          ways.some((other) => {
            if (one.some((k) => other.includes(k))) return false;
            const apart = Math.abs(rim(piece, chosen[one[0]]) - rim(piece, chosen[other[0]]));
            return Math.min(apart, 1 - apart) >= 0.25;
          }),
        );
        const held = ways.length === 0 ? 0 : twice ? 2 : 1;
        expect(supportsOf(piece, 2, chosen, 5)).toBe(held);
        expect(supportsOf(piece, 1, chosen, 5)).toBe(Math.min(1, held));
        const needs = [0, 2, 1, 2, 0];
        const lack = [1, 2, 3].reduce((sum, one) => sum + needs[one] - supportsOf(one, needs[one], chosen, 5), 0);
        expect(lacking(needs, chosen)).toBe(lack);
      }),
      { numRuns: 120 },
    );
  });

  it('are well apart either way around the rim', () => {
    const at = (place: number): SupportEdge => ({ a: 1, b: 0, placeA: place, placeB: 0.5 });
    expect(wellApart(1, at(0.1), at(0.35))).toBe(true);
    expect(wellApart(1, at(0.1), at(0.34))).toBe(false);
    expect(wellApart(1, at(0.05), at(0.85))).toBe(false);
    expect(wellApart(1, at(0.05), at(0.75))).toBe(true);
  });
});

describe('runs along an outline', () => {
  it('are cut where two that follow each other do not belong together, around the start too', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(integer(1, 9), integer(1, 9)), { minLength: 1, maxLength: 9 }), (list) => {
        let at = 0;
        const items = list.map(([gap, long], k) => {
          const from = at + gap;
          at = from + long;
          return { from, to: at, k };
        });
        const around = at + 3;
        const near = 4;
        const runs = cyclicRuns(items, { around, joined: (_a, _b, gap) => gap <= near });
        expect(
          runs
            .flat()
            .map(({ k }) => k)
            .sort((a, b) => a - b),
        ).toEqual(items.map(({ k }) => k));
        const gapAfter = (k: number) =>
          items[(k + 1) % items.length].from - items[k].to + (k + 1 === items.length ? around : 0);
        for (const run of runs) {
          run.forEach(({ k }, n) => {
            const inside = n + 1 < run.length;
            if (inside) expect(run[n + 1].k).toBe((k + 1) % items.length);
            // Where all belong together the one run has to begin somewhere.
            if (inside || runs.length > 1) expect(gapAfter(k) <= near).toBe(inside);
          });
        }
      }),
    );
    expect(cyclicRuns([], { around: 5, joined: () => true })).toEqual([]);
  });
});

describe('the disc that touches two banks', () => {
  const line = (a: Point, b: Point): Contour => polyline([a, b], { closed: false });

  it('between two straight banks that run together has the diameter of its closed form', () => {
    // One bank along x, the other rises at an angle: a disc that touches the first at x from their meeting has the radius x · tan(angle / 2).
    for (const deg of [20, 40, 60]) {
      const angle = (deg * Math.PI) / 180;
      const first = line({ x: 0, y: 0 }, { x: 100, y: 0 });
      const second = line({ x: 0, y: 0 }, { x: 100 * Math.cos(angle), y: 100 * Math.sin(angle) });
      const a = { contour: first, u: 0.5 };
      const span = discSpan(a, { contour: second, u: 0.45 }, { normal: { x: 0, y: 1 }, windowMm: 30 });
      // From where it touches the one bank to where it touches the other, along a chord; the length is the diameter.
      expect(span.lengthMm).toBeCloseTo(2 * 50 * Math.tan(angle / 2), 4);
      expect(Math.hypot(span.from.x - 50, span.from.y)).toBeCloseTo(0, 9);
      // Both tangents from the meeting point to the disc are of one length.
      expect(Math.hypot(span.to.x, span.to.y)).toBeCloseTo(50, 2);
      expect(span.toU).toBeCloseTo(0.5, 4);
    }
  });
});

describe('rings', () => {
  const flat = (contour: Contour, opening = 0) => flatRing(contour, opening) as FlatRing;
  const disc = flat(circleContour({ x: 10, y: 20 }, 8));

  it('hold what lies inside, whether they have few sides or many', () => {
    const triangle = flat(
      polyline(
        [
          { x: 0, y: 0 },
          { x: 30, y: 0 },
          { x: 0, y: 30 },
        ],
        { closed: true },
      ),
    );
    expect(disc.x.length).toBeGreaterThan(64);
    fc.assert(
      fc.property(integer(-40, 400), integer(-40, 400), (u, v) => {
        const [x, y] = [u / 10 + 0.013, v / 10 + 0.017];
        const away = Math.hypot(x - 10, y - 20);
        if (Math.abs(away - 8) > 0.01) expect(ringHolds(disc, { x, y })).toBe(away < 8);
        expect(ringHolds(triangle, { x, y })).toBe(x > 0 && y > 0 && x + y < 30);
      }),
    );
  });

  it('know their sides, the curves these stand for, and how far the curves lie beside them', () => {
    disc.x.forEach((x, k) => {
      const { o, t0, t1 } = sideCurve(disc, k);
      expect(o % 6).toBe(0);
      expect(t0 < t1 && t0 >= 0 && t1 <= 1).toBe(true);
      const box = sideBox(disc, k);
      const n = (k + 1) % disc.x.length;
      expect([box.x0, box.x1]).toEqual([x, disc.x[n]].sort((a, b) => a - b));
      expect([box.y0, box.y1]).toEqual([disc.y[k], disc.y[n]].sort((a, b) => a - b));
      expect(Math.hypot(x - 10, disc.y[k] - 20)).toBeCloseTo(8, 2);
    });
    expect(sideError(disc, 0)).toBeGreaterThan(0);
    expect(sideError(flat(boxContour({ x0: 0, y0: 0, x1: 4, y1: 4 })), 0)).toBe(0);
    expect([disc.box.x0, disc.box.y0, disc.box.x1, disc.box.y1].map((mm) => Math.round(mm * 1000) / 1000)).toEqual([
      2, 12, 18, 28,
    ]);
    expect(disc.areaMm2).toBeCloseTo(Math.PI * 64, 1);
    expect(flat(reverseContour(circleContour({ x: 0, y: 0 }, 8))).areaMm2).toBeCloseTo(-Math.PI * 64, 1);
  });

  it('without an inside are none', () => {
    const line = (...points: Point[]) => flatRing(polyline(points, { closed: true }), 0);
    expect(line({ x: 0, y: 0 }, { x: 5, y: 0 })).toBeNull();
    expect(line({ x: 0, y: 0 }, { x: 5, y: 5 }, { x: 10, y: 10 })).toBeNull();
    expect(line({ x: 0, y: 0 }, { x: 5, y: 0 }, { x: 5, y: 5 })).not.toBeNull();
  });

  it('have a point between them and their holes', () => {
    const hole = flat(circleContour({ x: 10, y: 20 }, 7.5));
    const at = pointBetween(disc, [hole]);
    const away = Math.hypot(at.x - 10, at.y - 20);
    expect(away).toBeGreaterThan(7.5);
    expect(away).toBeLessThan(8);
    expect(pointBetween(disc, []).x).toBeCloseTo(10, 6);
    expect(pointBetween(disc, []).y).toBeCloseTo(20, 2);
  });

  it('nest by what lies around them', () => {
    const rings = [
      flat(circleContour({ x: 0, y: 0 }, 10)),
      flat(circleContour({ x: 0, y: 0 }, 50)),
      flat(circleContour({ x: 2, y: 0 }, 3)),
      flat(circleContour({ x: 30, y: 0 }, 5)),
      flat(circleContour({ x: 100, y: 0 }, 5)),
    ];
    const { parents, around } = nestRings(rings);
    expect(parents).toEqual([1, -1, 0, 1, -1]);
    expect(around({ x: 2, y: 0 })).toBe(2);
    expect(around({ x: -8, y: 0 })).toBe(0);
    expect(around({ x: 0, y: 40 })).toBe(1);
    expect(around({ x: 0, y: 60 })).toBe(-1);
    expect(nestRings([]).parents).toEqual([]);
    expect(nestRings([]).around({ x: 0, y: 0 })).toBe(-1);
  });
});

describe('what is not cut', () => {
  // A slanting stretch, and one along x that a longer one covers in part.
  const uncut = uncutOn([
    { from: { x: 0, y: 0 }, to: { x: 30, y: 40 } },
    { from: { x: 100, y: 0 }, to: { x: 160, y: 0 } },
  ]);

  it('is counted along sides as far as both run together', () => {
    const side = (...points: Point[]) => uncut.lengthOn(polyline(points, { closed: false }));
    expect(side({ x: 0, y: 0 }, { x: 30, y: 40 })).toBeCloseTo(50, 6);
    expect(side({ x: 30, y: 40 }, { x: 0, y: 0 })).toBeCloseTo(50, 6);
    expect(side({ x: 15, y: 20 }, { x: 45, y: 60 })).toBeCloseTo(25, 6);
    expect(side({ x: -30, y: -40 }, { x: 60, y: 80 })).toBeCloseTo(50, 6);
    expect(side({ x: 120, y: 0 }, { x: 140, y: 0 })).toBeCloseTo(20, 6);
    expect(side({ x: 90, y: 0 }, { x: 110, y: 0 })).toBeCloseTo(10, 6);
    // Beside it, across it, beyond it, and a curve that begins and ends on it.
    expect(side({ x: 120, y: 0.01 }, { x: 140, y: 0.01 })).toBe(0);
    expect(side({ x: 130, y: -5 }, { x: 130, y: 5 })).toBe(0);
    expect(side({ x: 170, y: 0 }, { x: 180, y: 0 })).toBe(0);
    const curve = { closed: false, coords: Float64Array.from([120, 0, 125, 9, 135, 9, 140, 0]) };
    expect(uncut.lengthOn(curve)).toBe(0);
    expect(uncut.lengthOn(boxContour({ x0: 120, y0: 0, x1: 150, y1: 10 }))).toBeCloseTo(30, 6);
  });

  it('has its places, ends counted in', () => {
    expect([
      uncut.has({ x: 0, y: 0 }),
      uncut.has({ x: 30, y: 40 }),
      uncut.has({ x: 15, y: 20 }),
      uncut.has({ x: 160, y: 0 }),
    ]).toEqual([true, true, true, true]);
    expect([
      uncut.has({ x: 31, y: 41 }),
      uncut.has({ x: 15, y: 21 }),
      uncut.has({ x: 160.01, y: 0 }),
      uncut.has({ x: 99, y: 0 }),
    ]).toEqual([false, false, false, false]);
    expect(uncutOn([]).has({ x: 0, y: 0 })).toBe(false);
    expect(uncutOn([]).lengthOn(boxContour({ x0: 0, y0: 0, x1: 1, y1: 1 }))).toBe(0);
  });
});

describe('bends of an outline', () => {
  it('of an ellipse are tight where its radius of curvature is small, and sharp in their midst, by its closed form', () => {
    const [a, b] = [20, 5];
    // Four cubics of an ellipse, as a circle squeezed: off by less than a thousandth of its size.
    const circle = circleContour({ x: 0, y: 0 }, 1);
    const ellipse = { closed: true, coords: circle.coords.map((v, k) => (k % 2 === 0 ? a : b) * v) };
    const [turnMm, cornerMm] = [6, 2.2];
    const { bends, walk } = outlineBends(ellipse, { turnMm, cornerMm });
    const radius = (t: number) => ((a * Math.sin(t)) ** 2 + (b * Math.cos(t)) ** 2) ** 1.5 / (a * b);
    const length = (below: number, atLeast: number) => {
      let sum = 0;
      const n = 40_000;
      for (let k = 0; k < n; k++) {
        const t = ((k + 0.5) / n) * 2 * Math.PI;
        const r = radius(t);
        if (r < below && r >= atLeast) sum += Math.hypot(a * Math.sin(t), b * Math.cos(t)) * ((2 * Math.PI) / n);
      }
      return sum;
    };
    const total = (kind: string) =>
      bends.filter((one) => one.kind === kind).reduce((sum, one) => sum + one.lengthMm, 0);
    expect(total('sharp') / length(cornerMm, 0)).toBeCloseTo(1, 1);
    expect(total('tight') / length(turnMm, cornerMm)).toBeCloseTo(1, 1);
    for (const { from, to, lengthMm, turn } of bends) {
      expect(to - from).toBeCloseTo(lengthMm, 1);
      expect(turn).toBeGreaterThanOrEqual(0);
      expect(from).toBeGreaterThanOrEqual(0);
      expect(to).toBeLessThanOrEqual(walk.lengthMm + 1e-6);
    }
    // No stretch is counted twice.
    const spans = bends.map(({ from, to }) => [from, to]).sort(([p], [q]) => p - q);
    for (let k = 1; k < spans.length; k++) expect(spans[k][0]).toBeGreaterThanOrEqual(spans[k - 1][1] - 1e-3);
  });

  it('of a polygon of many sides are those of its circle, and of a square its four corners', () => {
    const ring = (n: number, r: number) =>
      polyline(
        Array.from({ length: n }, (_, k) => ({
          x: r * Math.cos((2 * Math.PI * k) / n),
          y: r * Math.sin((2 * Math.PI * k) / n),
        })),
        { closed: true },
      );
    const kinds = (contour: Contour, turnMm: number, cornerMm: number) =>
      outlineBends(contour, { turnMm, cornerMm }).bends.map(({ kind }) => kind);
    // The radius that a node tells is half of both sides over the turn: a little less than the circle's own.
    expect(new Set(kinds(ring(24, 3), 3.1, 1))).toEqual(new Set(['tight']));
    expect(kinds(ring(24, 3), 3.1, 1)).toHaveLength(24);
    expect(new Set(kinds(ring(24, 3), 9, 3.1))).toEqual(new Set(['sharp']));
    expect(new Set(kinds(ring(24, 3), 2.9, 1))).toEqual(new Set(['node']));
    const { bends } = outlineBends(boxContour({ x0: 0, y0: 0, x1: 10, y1: 4 }), { turnMm: 3, cornerMm: 1 });
    expect(bends.map(({ kind }) => kind)).toEqual(['node', 'node', 'node', 'node']);
    for (const { turn, from, to } of bends) {
      expect(turn).toBeCloseTo(Math.PI / 2, 6);
      expect(from).toBe(to);
    }
    expect(bends.map(({ from }) => from).sort((p, q) => p - q)).toEqual([0, 10, 14, 24]);
  });
});
