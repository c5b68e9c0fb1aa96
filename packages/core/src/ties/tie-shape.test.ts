import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { contourArea, contoursBox } from '../geometry/contour.js';
import { flattened } from '../geometry/length.js';
import { insideContours } from '../geometry/point-tests.js';
import { tiePatch, tieShape } from './tie-shape.js';

const level = (length: number) => ({ from: { x: 0, y: 0 }, to: { x: length, y: 0 } });

/** Lowest and highest place of the outline at `x`, for a tie that lies level. */
function sideAt(strip: ReturnType<typeof tieShape>, x: number): number[] {
  const points = flattened(strip);
  return points
    .flatMap((p, k) => {
      const q = points[(k + 1) % points.length];
      return p.x <= x !== q.x <= x ? [p.y + ((x - p.x) / (q.x - p.x)) * (q.y - p.y)] : [];
    })
    .sort((a, b) => a - b);
}

describe('the strip of a tie', () => {
  it('has its exact width in the middle, and its flares at the banks', () => {
    const strip = tieShape(level(10), { widthMm: 2, flareMm: 0.4, reachMm: 0.7 });
    expect(contoursBox([strip])).toEqual({ x0: -0.7, y0: -1.4, x1: 10.7, y1: 1.4 });
    for (const x of [0.61, 5, 9.39]) {
      const [low, high] = sideAt(strip, x);
      expect(low).toBeCloseTo(-1, 12);
      expect(high).toBeCloseTo(1, 12);
    }
    // Half way along the flare a parabola has a quarter of its height.
    expect(sideAt(strip, 0.3)[1]).toBeCloseTo(1.1, 2);
    expect(sideAt(strip, -0.1)[1]).toBeCloseTo(1.4, 12);
  });

  it('has the area of the closed form, wherever it lies', () => {
    fc.assert(
      fc.property(
        fc.record({
          x: fc.double({ min: -300, max: 300, noNaN: true }),
          y: fc.double({ min: -300, max: 300, noNaN: true }),
          turn: fc.double({ min: 0, max: 2 * Math.PI, noNaN: true }),
          length: fc.double({ min: 0.2, max: 30, noNaN: true }),
          width: fc.double({ min: 0.2, max: 6, noNaN: true }),
          flare: fc.double({ min: 0, max: 1, noNaN: true }),
          from: fc.double({ min: 0, max: 3, noNaN: true }),
          to: fc.double({ min: 0, max: 3, noNaN: true }),
        }),
        ({ x, y, turn, length, width, flare, from, to }) => {
          const end = { x: x + length * Math.cos(turn), y: y + length * Math.sin(turn) };
          const strip = tieShape(
            { from: { x, y }, to: end },
            { widthMm: width, flareMm: flare, reachMm: { from, to } },
          );
          // A parabola's wing is a third of its box; on a short tie height and length shrink alike.
          const share = Math.min(1, length / (3 * flare));
          const wing = (share * flare * share * 1.5 * flare) / 3;
          const area = width * length + 4 * wing + (width + 2 * share * flare) * (from + to);
          expect(contourArea(strip)).toBeCloseTo(area, 8);
          expect(strip.closed).toBe(true);
          expect(strip.coords[0]).toBe(strip.coords[strip.coords.length - 2]);
        },
      ),
    );
  });

  it('is never narrower than asked for, and alike on both sides and at both ends', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.2, max: 12, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 0.01, max: 0.99, noNaN: true }),
        (length, flare, t) => {
          const strip = tieShape(level(length), { widthMm: 2, flareMm: flare, reachMm: 1 });
          const [low, high] = sideAt(strip, t * length);
          expect(high).toBeGreaterThanOrEqual(1 - 1e-12);
          expect(low).toBeCloseTo(-high, 9);
          expect(sideAt(strip, (1 - t) * length)[1]).toBeCloseTo(high, 9);
        },
      ),
    );
  });

  it('has no side without a length, however short the tie is', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.05, max: 3, noNaN: true }),
        fc.double({ min: 0, max: 6.3, noNaN: true }),
        (length, turn) => {
          const to = { x: length * Math.cos(turn), y: length * Math.sin(turn) };
          const { coords } = tieShape({ from: { x: 0, y: 0 }, to }, { widthMm: 2, flareMm: 0.4, reachMm: 0.5 });
          for (let o = 0; o + 7 < coords.length; o += 6) {
            expect(Math.hypot(coords[o + 6] - coords[o], coords[o + 7] - coords[o + 1])).toBeGreaterThan(1e-3);
          }
        },
      ),
    );
  });

  it('refuses what is no tie', () => {
    const good = { widthMm: 2, flareMm: 0.4, reachMm: 0.5 };
    expect(() => tieShape(level(0), good)).toThrow(/different ends/);
    expect(() => tieShape(level(3), { ...good, widthMm: 0 })).toThrow(/positive width/);
    expect(() => tieShape(level(3), { ...good, flareMm: -1 })).toThrow(/flare/);
    expect(() => tieShape(level(3), { ...good, reachMm: -1 })).toThrow(/reach/);
    expect(() => tiePatch({ ...level(3), ...good }, { overlapMm: -0.1 })).toThrow(/overlap/);
  });
});

describe('the patch under a tie', () => {
  it('holds all within the overlap of the strip, and is just that much wider in the middle', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.3, max: 12, noNaN: true }),
        fc.double({ min: 0, max: 0.6, noNaN: true }),
        fc.double({ min: 0, max: 1.5, noNaN: true }),
        fc.double({ min: 0, max: 2 * Math.PI, noNaN: true }),
        (length, flareMm, overlapMm, way) => {
          const tie = { ...level(length), widthMm: 2, flareMm, reachMm: 0.4 };
          const patch = tiePatch(tie, { overlapMm });
          const near = 0.999 * overlapMm;
          for (const p of flattened(tieShape(tie, tie))) {
            const at = { x: p.x + near * Math.cos(way), y: p.y + near * Math.sin(way) };
            // On the outline itself either answer may come.
            if (overlapMm > 0.01) expect(insideContours([patch], at)).toBe(true);
          }
          const clear = length / 2 > 1.5 * flareMm + overlapMm + 0.01;
          if (clear) expect(sideAt(patch, length / 2)[1]).toBeCloseTo(1 + overlapMm, 9);
        },
      ),
    );
  });
});
