import { describe, expect, it } from 'vitest';
import { boxContour, circleContour, reverseContour } from '../geometry/contour.js';
import { localWidth } from './across.js';
import { closestSpan } from './closest.js';
import { sampleOutlines } from './samples.js';

describe('the way across', () => {
  it('finds the paper between two round openings, exactly on the curves', () => {
    const contours = [circleContour({ x: 0, y: 0 }, 10), circleContour({ x: 21.5, y: 3 }, 10)];
    const samples = sampleOutlines(contours, { spacingMm: 0.2, between: 'paper' });
    const { width, mate } = localWidth(samples, { reachMm: 3 });
    let least = 0;
    for (let i = 0; i < samples.count; i++) if (width[i] < width[least]) least = i;
    const span = closestSpan(
      { contour: contours[0], u: samples.u[least] },
      { contour: contours[1], u: samples.u[mate[least]] },
      { windowMm: 1 },
    );
    expect(samples.outline[least]).not.toBe(samples.outline[mate[least]]);
    expect(Math.abs(span.lengthMm - (Math.hypot(21.5, 3) - 20))).toBeLessThan(1e-4);
  });

  it('sees nothing across an opening from the paper, and the opening from within', () => {
    const bar = [boxContour({ x0: 0, y0: 0, x1: 30, y1: 1 })];
    const paper = localWidth(sampleOutlines(bar, { spacingMm: 0.2, between: 'paper' }), { reachMm: 3 });
    expect([...paper.mate].every((m) => m === -1)).toBe(true);
    const samples = sampleOutlines(bar, { spacingMm: 0.2, between: 'opening' });
    const inside = localWidth(samples, { reachMm: 3 });
    for (let i = 0; i < samples.count; i++) {
      // Towards the bar's corners the disc gets smaller.
      if (samples.x[i] < 0.6 || samples.x[i] > 29.4) continue;
      expect(inside.width[i]).toBeCloseTo(1, 1);
      expect(inside.cy[i]).toBeCloseTo(0.5, 1);
    }
  });

  it('sees across a ring from its rim', () => {
    const ring = [circleContour({ x: 0, y: 0 }, 10), reverseContour(circleContour({ x: 0, y: 0 }, 8))];
    const samples = sampleOutlines(ring, { spacingMm: 0.2, between: 'opening' });
    const { width, cx, cy } = localWidth(samples, { reachMm: 3 });
    for (let i = 0; i < samples.count; i++) {
      expect(width[i]).toBeCloseTo(2, 2);
      expect(Math.hypot(cx[i], cy[i])).toBeCloseTo(9, 2);
    }
  });

  it('meets corner to corner', () => {
    const diamond = (x: number) => ({
      closed: true,
      coords: boxContour({ x0: -5, y0: -5, x1: 5, y1: 5 }).coords.map((_, k, q) =>
        k % 2 === 0 ? (q[k] - q[k + 1]) * Math.SQRT1_2 + x : (q[k - 1] + q[k]) * Math.SQRT1_2,
      ),
    });
    const contours = [diamond(0), diamond(10 * Math.SQRT2 + 1.2)];
    const samples = sampleOutlines(contours, { spacingMm: 0.2, between: 'paper' });
    const { width } = localWidth(samples, { reachMm: 3 });
    expect(Math.min(...width)).toBeCloseTo(1.2, 9);
  });
});
