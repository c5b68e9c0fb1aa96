import { describe, expect, it } from 'vitest';
import { InputError } from '../units/input-error.js';
import { punchOrder } from './punch-order.js';

describe('the order of punching', () => {
  it('first hole, along the lead side, then arcs; 24 × 36 in', () => {
    const { steps, rulerParts } = punchOrder({ widthMm: 609.6, heightMm: 914.4, rulerParts: 64 });
    expect(rulerParts).toBe(64);
    expect(steps.map(({ hole, how }) => `${hole} ${how}`)).toEqual([
      'upperLeft start',
      'upperRight along',
      'lowerLeft crossing',
      'lowerRight crossing',
    ]);
    const diagonal = steps[3].distances[1];
    // 24 × 36 has the diagonal 43.266615, to 1/64: 43 17/64 (worked out apart from this code).
    expect(diagonal.mm / 25.4).toBeCloseTo(43.266615, 6);
    expect(diagonal.inches.text).toBe('43 17/64');
    expect(diagonal.metric.mm).toBe(1099);
    expect(steps[3].check?.from).toBe('lowerLeft');
    expect(steps[3].check?.mm).toBeCloseTo(609.6, 9);
  });

  it('tells what a rounding does: cos θ = (a² + b² − p²) / 2ab', () => {
    const { steps, inchEffect, metricEffect } = punchOrder({
      widthMm: 500,
      heightMm: 700,
      rulerParts: 16,
      metricStepMm: 0.5,
    });
    const { inches } = steps[2].distances[1];
    const deg = (Math.acos((500 ** 2 + 700 ** 2 - inches.mm ** 2) / (2 * 500 * 700)) * 180) / Math.PI;
    expect(inches.effect.outOfSquareDeg).toBeCloseTo(Math.abs(90 - deg), 9);
    expect(inches.effect.farSideMm).toBeCloseTo(700 * Math.abs(Math.cos((deg * Math.PI) / 180)), 9);
    expect(inchEffect.outOfSquareDeg).toBeGreaterThan(0);
    // 860.232527 to 860: less than 0.24 mm · 860 / 500 over the far side.
    expect(steps[2].distances[1].metric.mm).toBe(860);
    expect(metricEffect.farSideMm).toBeLessThan(0.41);
  });

  // Rounded by δ both diagonals move the lower corners by δ · D / w each, towards or from each other: the bottom is off by twice that.
  it.each([
    [300, 420, 0.5],
    [500, 700, 0.2],
    [180, 655, 0.1],
  ])('sets a sheet of %d × %d mm to %d mm, the coarsest that does', (widthMm, heightMm, stepMm) => {
    const order = punchOrder({ widthMm, heightMm });
    expect(order.metricStepMm).toBe(stepMm);
    expect(order.metricDoes).toBe(true);
    const diagonal = Math.hypot(widthMm, heightMm);
    const shift = (step: number) => (2 * diagonal * Math.abs(Math.round(diagonal / step) * step - diagonal)) / widthMm;
    expect(order.metricEffect.sidesMm).toBeCloseTo(shift(stepMm), 1);
    if (stepMm < 0.5) expect(shift(0.5)).toBeGreaterThan(0.5);
    expect(punchOrder({ widthMm: 60, heightMm: 1088 }).metricDoes).toBe(false);
  });

  // 18 × 24 in: whole inches all over. 450 mm is 17 11/16 in less 0.74 mm, or 17 23/32 in plus 0.06 mm. 360 × 240 mm to 1/32 in:
  // 14 3/16, 9 7/16 and 17 1/32, so each lower hole is (360.3625² + 239.7125² − 432.59375²) / 720.725 = 0.26 mm in, the bottom 0.52 short.
  it.each([
    [609.6, 457.2, '24', '18'],
    [600, 450, '23 5/8', '17 23/32'],
    [360, 240, '14 11/64', '9 29/64'],
  ])('sets %d × %d mm to the nearest 1/64 in: %s and %s', (widthMm, heightMm, top, left) => {
    const { steps, inchEffect } = punchOrder({ widthMm, heightMm });
    expect([steps[1], steps[2]].map(({ distances }) => distances[0].inches.text)).toEqual([top, left]);
    expect(Math.max(inchEffect.farSideMm, inchEffect.sidesMm)).toBeLessThanOrEqual(0.5);
    expect(punchOrder({ widthMm: 360, heightMm: 240, rulerParts: 32 }).inchEffect.sidesMm).toBeCloseTo(0.516, 2);
  });

  it('allows for the movement of the paper, and sets extra dots where arcs cross well', () => {
    const order = punchOrder({
      widthMm: 600,
      heightMm: 450,
      extra: [{ name: 'M', at: { x: 0, y: 225 } }],
      movement: { widthPercent: 2, heightPercent: 0.2 },
    });
    const [top] = order.steps[1].distances;
    expect(top.mm).toBeCloseTo(600 / 1.02, 9);
    expect(top.asPrintedMm).toBe(600);
    const dot = order.steps[4];
    expect(dot.hole).toBe('M');
    expect(dot.distances.map(({ from }) => from)).toEqual(['upperLeft', 'upperRight']);
    expect(dot.distances[0].mm).toBeCloseTo(225 / 1.002, 9);
    expect(dot.distances[1].mm).toBeCloseTo(Math.hypot(600 / 1.02, 225 / 1.002), 9);
    expect(dot.check?.from).toBe('lowerLeft');
    expect(order.sentences[4]).toMatch(/^5\. Punch dot M where two arcs cross/);
  });

  it('refuses a sheet of no size', () => {
    expect(() => punchOrder({ widthMm: 0, heightMm: 450 })).toThrow(/width is 0 mm/);
    expect(() => punchOrder({ widthMm: 600, heightMm: Number.NaN })).toThrow(InputError);
  });
});
