import { type Contour, polyline, transformContour } from '@okuri/core';
import { contourArea, segmentCount } from '@okuri/core/inside';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { fitRing } from './fit-ring.js';
import { apart, cornersOf, evenNumbers, scanLike } from './ring-truth.test-help.js';

const PIXEL_MM = 25.4 / 300;
const NOISE_PX = 0.04;
const OPTIONS = { pixelMm: PIXEL_MM, noiseMm: NOISE_PX * PIXEL_MM, blurMm: 0.5 * PIXEL_MM };

function sampled(truth: Contour, seed: number): Float64Array {
  return scanLike(truth, { pixelMm: PIXEL_MM, blurPx: 0.5, noisePx: NOISE_PX, seed });
}

/** A smooth closed outline, by a radius that a few waves change: it bends nowhere tighter than some 1.5 mm. */
function waves(seed: number): Contour {
  const even = evenNumbers(seed);
  const size = 4 + 8 * even();
  const parts = [2, 3, 4, 5].map((k) => [k, (0.35 * (even() - 0.5)) / k, 2 * Math.PI * even()]);
  const points = Array.from({ length: 400 }, (_, i) => {
    const a = (2 * Math.PI * i) / 400;
    const r = size * (1 + parts.reduce((sum, [k, high, at]) => sum + high * Math.cos(k * a + at), 0));
    return { x: r * Math.cos(a), y: r * Math.sin(a) };
  });
  return polyline(points, { closed: true });
}

/** A polygon round a middle: sides of 2 mm and more, angles of 25° and more from straight and from closed; null where chance gives none. */
function randomPolygon(seed: number): Contour | null {
  const even = evenNumbers(seed);
  const n = 3 + Math.floor(6 * even());
  const points = Array.from({ length: n }, (_, k) => {
    const a = (2 * Math.PI * (k + 0.6 * even())) / n;
    const r = 4 + 9 * even();
    return { x: r * Math.cos(a), y: r * Math.sin(a) };
  });
  for (let k = 0; k < n; k++) {
    const [a, b, c] = [points[k], points[(k + 1) % n], points[(k + 2) % n]];
    const [ux, uy, vx, vy] = [b.x - a.x, b.y - a.y, c.x - b.x, c.y - b.y];
    const turn = (Math.abs(Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy)) * 180) / Math.PI;
    if (Math.hypot(ux, uy) < 2 || turn < 25 || turn > 155) return null;
  }
  return polyline(points, { closed: true });
}

const anySeed = fc.integer({ min: 1, max: 1e6 });

it('follows any smooth outline, without corners', () => {
  fc.assert(
    fc.property(anySeed, (seed) => {
      const truth = waves(seed);
      const fit = fitRing(sampled(truth, seed), OPTIONS);
      const { max, mean } = apart(fit, truth);
      expect(max).toBeLessThan(0.03);
      expect(mean).toBeLessThan(0.01);
      expect(cornersOf(fit)).toHaveLength(0);
      expect(segmentCount(fit)).toBeLessThanOrEqual(24);
      expect(Math.abs(contourArea(fit) / contourArea(truth) - 1)).toBeLessThan(0.001);
    }),
    { numRuns: 15 },
  );
});

it('finds every corner of any polygon, and no others', () => {
  fc.assert(
    fc.property(anySeed, (seed) => {
      const truth = randomPolygon(seed);
      fc.pre(truth !== null);
      const fit = fitRing(sampled(truth!, seed), OPTIONS);
      const mine = cornersOf(fit);
      expect(mine).toHaveLength(segmentCount(truth!));
      for (const c of cornersOf(truth!)) {
        expect(Math.min(...mine.map((p) => Math.hypot(p.x - c.x, p.y - c.y)))).toBeLessThan(0.1);
      }
      expect(segmentCount(fit)).toBeLessThanOrEqual(2 * segmentCount(truth!));
      expect(Math.abs(contourArea(fit) / contourArea(truth!) - 1)).toBeLessThan(0.002);
    }),
    { numRuns: 25 },
  );
});

it('gives the same outline wherever the ring begins', () => {
  fc.assert(
    fc.property(anySeed, fc.nat(5000), (seed, k) => {
      const points = sampled(randomPolygon(seed) ?? waves(seed), seed);
      const from = 2 * (k % (points.length / 2));
      const turned = Float64Array.from([...points.subarray(from), ...points.subarray(0, from)]);
      expect(fitRing(turned, OPTIONS).coords).toEqual(fitRing(points, OPTIONS).coords);
    }),
    { numRuns: 10 },
  );
});

it('moves, turns and grows with its points', () => {
  fc.assert(
    fc.property(anySeed, fc.double({ min: -3, max: 3, noNaN: true }), (seed, angle) => {
      const truth = randomPolygon(seed) ?? waves(seed);
      const points = sampled(truth, seed);
      const [c, s] = [3 * Math.cos(angle), 3 * Math.sin(angle)];
      const map = [c, s, -s, c, 210, -40] as const;
      const mapped = Float64Array.from(points, (v, k) =>
        k % 2 === 0 ? c * v - s * points[k + 1] + 210 : s * points[k - 1] + c * v - 40,
      );
      const larger = { pixelMm: 3 * OPTIONS.pixelMm, noiseMm: 3 * OPTIONS.noiseMm, blurMm: 3 * OPTIONS.blurMm };
      const fit = fitRing(mapped, larger);
      const plain = transformContour(fitRing(points, OPTIONS), map);
      expect(cornersOf(fit)).toHaveLength(cornersOf(plain).length);
      expect(apart(fit, plain).max).toBeLessThan(0.25 * larger.pixelMm);
    }),
    { numRuns: 8 },
  );
});

it('never breaks, whatever the points', () => {
  const coordinate = fc.oneof(fc.integer({ min: -20, max: 20 }), fc.double({ min: -3, max: 3, noNaN: true }));
  fc.assert(
    fc.property(fc.array(coordinate, { maxLength: 160 }), (numbers) => {
      const points = Float64Array.from(numbers.slice(0, numbers.length & ~1), (v) => v * PIXEL_MM);
      const { closed, coords } = fitRing(points, OPTIONS);
      expect(closed).toBe(true);
      expect(coords.every(Number.isFinite)).toBe(true);
      if (coords.length > 2) expect(coords.slice(-2)).toEqual(coords.slice(0, 2));
    }),
    { numRuns: 60 },
  );
});
