import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { circleContour, transformContour } from '../geometry/contour.js';
import { evaluateCubic } from '../geometry/curve.js';
import type { Contour, Point } from '../geometry/types.js';
import { stretchOf } from './hanging.js';
import { findNecks, findSlits } from './narrow.js';
import type { CutPaper, NarrowPlace } from './types.js';

const EDGE = { x0: -70, y0: -70, x1: 70, y1: 70 };

interface Disc extends Point {
  readonly r: number;
}

/** Discs that keep at least 0.03 mm apart: each is drawn smaller, or left out, where it would come nearer. */
const discs = fc
  .array(
    fc.record({
      x: fc.double({ min: 0, max: 40, noNaN: true }),
      y: fc.double({ min: 0, max: 40, noNaN: true }),
      r: fc.double({ min: 1, max: 6, noNaN: true }),
    }),
    {
      minLength: 2,
      maxLength: 30,
    },
  )
  .map((raw) => {
    const kept: Disc[] = [];
    for (const d of raw) {
      const free = Math.min(d.r, ...kept.map((k) => Math.hypot(k.x - d.x, k.y - d.y) - k.r - 0.03));
      if (free >= 0.8) kept.push({ ...d, r: free });
    }
    return kept;
  });

function sheetOf(contours: readonly Contour[]): CutPaper {
  return { edge: EDGE, outlines: contours.map((contour, opening) => ({ contour, opening })) };
}

/** Blobs with waves of their own, so that strips between and within them differ in width; they keep at least 0.1 mm apart. */
const blobs = fc
  .array(
    fc.record({
      r: fc.double({ min: 2.5, max: 4.5, noNaN: true }),
      waves: fc.integer({ min: 2, max: 5 }),
      deep: fc.double({ min: 0, max: 0.7, noNaN: true }),
      phase: fc.double({ min: 0, max: 6, noNaN: true }),
    }),
    {
      minLength: 4,
      maxLength: 9,
    },
  )
  .map((raw) =>
    raw.map((b, k) => {
      const at = (a: number): Point => {
        const r = b.r * (1 - b.deep * (0.5 + 0.5 * Math.sin(b.waves * a + b.phase)));
        return { x: 9.3 * (k % 3) + r * Math.cos(a), y: 9.1 * Math.floor(k / 3) + r * Math.sin(a) };
      };
      return smoothRing(Array.from({ length: 48 }, (_, j) => at((2 * Math.PI * j) / 48)));
    }),
  );

/** A smooth closed curve through points (handles from the neighbours' chord). */
function smoothRing(points: readonly Point[]): Contour {
  const n = points.length;
  const coords = [points[0].x, points[0].y];
  for (let k = 0; k < n; k++) {
    const [o, p, q, s] = [points[(k + n - 1) % n], points[k], points[(k + 1) % n], points[(k + 2) % n]];
    coords.push(p.x + (q.x - o.x) / 6, p.y + (q.y - o.y) / 6, q.x - (s.x - p.x) / 6, q.y - (s.y - p.y) / 6, q.x, q.y);
  }
  return { closed: true, coords: Float64Array.from(coords) };
}

/** The same curve, every cubic divided in two. */
function divided(contour: Contour): Contour {
  const pieces = (contour.coords.length - 2) / 6;
  const out = [contour.coords[0], contour.coords[1]];
  for (let k = 0; k < pieces; k++) {
    out.push(...stretchOf(contour, k, k + 0.37).coords.subarray(2));
    out.push(...stretchOf(contour, k + 0.37, k + 1).coords.subarray(2));
  }
  return { closed: true, coords: Float64Array.from(out) };
}

function turnedBy(a: number, x: number, y: number): readonly [number, number, number, number, number, number] {
  return [Math.cos(a), Math.sin(a), -Math.sin(a), Math.cos(a), x, y];
}

/** Places that stand out clearly: narrower than the limit by more than what samples can miss. */
function alike(a: readonly NarrowPlace[], b: readonly NarrowPlace[], map: (p: Point) => Point): void {
  expect(b.length).toBe(a.length);
  const left = [...b];
  for (const p of a) {
    const at = map(p.atMm);
    const k = left.findIndex(
      (q) => Math.hypot(q.atMm.x - at.x, q.atMm.y - at.y) < 0.05 && Math.abs(q.widthMm - p.widthMm) < 0.001,
    );
    expect(k, JSON.stringify(p)).toBeGreaterThanOrEqual(0);
    expect(Math.abs(left[k].lengthMm - p.lengthMm)).toBeLessThan(0.25);
    expect(left[k].weak).toBe(p.weak);
    expect(Math.abs(left[k].hangsMm2 - p.hangsMm2)).toBeLessThan(0.2);
    left.splice(k, 1);
  }
}

describe('necks', () => {
  it('of discs are the pairs whose span is empty of others (Gabriel neighbours), widths exact', () => {
    fc.assert(
      fc.property(discs, (all) => {
        const limitMm = 2;
        const necks = findNecks(sheetOf(all.map((d) => circleContour(d, d.r))), { limitMm, rise: 1 });
        const found = new Map(necks.map((n) => [[...n.openings].sort((p, q) => p - q).join(' '), n]));
        for (let i = 0; i < all.length; i++) {
          for (let j = i + 1; j < all.length; j++) {
            const d = Math.hypot(all[j].x - all[i].x, all[j].y - all[i].y);
            const gap = d - all[i].r - all[j].r;
            const neck = found.get(`${i} ${j}`);
            if (neck) expect(Math.abs(neck.widthMm - gap)).toBeLessThan(2e-4);
            const share = (all[i].r + gap / 2) / d;
            const middle = { x: all[i].x + share * (all[j].x - all[i].x), y: all[i].y + share * (all[j].y - all[i].y) };
            const clear = Math.min(
              ...all
                .filter((_, k) => k !== i && k !== j)
                .map((o) => Math.hypot(o.x - middle.x, o.y - middle.y) - o.r - gap / 2),
            );
            if (gap < limitMm - 0.02 && clear > 0.02) expect(neck, `${i} ${j} ${gap}`).toBeDefined();
            if (gap > limitMm || clear < -0.02) expect(neck, `${i} ${j} ${gap} ${clear}`).toBeUndefined();
          }
        }
      }),
      { numRuns: 60 },
    );
  });

  it('and slits stay when the drawing is turned, moved, or its curves are divided', () => {
    fc.assert(
      fc.property(
        blobs,
        fc.double({ min: 0, max: 6, noNaN: true }),
        fc.double({ min: -20, max: 20, noNaN: true }),
        (all, a, x) => {
          const m = turnedBy(a, x, 3);
          const map = (p: Point): Point => ({ x: m[0] * p.x + m[2] * p.y + m[4], y: m[1] * p.x + m[3] * p.y + m[5] });
          for (const find of [findNecks, findSlits]) {
            const plain = find(sheetOf(all), { limitMm: 2 });
            alike(plain, find(sheetOf(all.map((c) => transformContour(c, m))), { limitMm: 2 }), map);
            alike(plain, find(sheetOf(all.map(divided)), { limitMm: 2 }), (p) => p);
          }
        },
      ),
      { numRuns: 25 },
    );
  });

  it('lie in the paper, and nothing comes nearer to their middles than their banks', () => {
    fc.assert(
      fc.property(blobs, (all) => {
        const points = all.flatMap(({ coords }) => {
          const list: Point[] = [];
          for (let o = 0; o + 7 < coords.length; o += 6)
            for (let j = 0; j < 20; j++) list.push(evaluateCubic(coords, o, j / 20));
          return list;
        });
        for (const find of [findNecks, findSlits]) {
          for (const n of find(sheetOf(all), { limitMm: 2 })) {
            const nearest = Math.min(...points.map((p) => Math.hypot(p.x - n.atMm.x, p.y - n.atMm.y)));
            expect(nearest).toBeGreaterThan(n.widthMm / 2 - 0.01);
            expect(Math.hypot(n.to.x - n.from.x, n.to.y - n.from.y)).toBeCloseTo(n.widthMm, 2);
          }
        }
      }),
      { numRuns: 25 },
    );
  });
});
