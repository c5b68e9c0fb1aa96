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

describe('what a rounding of one distance does', () => {
  it('is told beside that distance alone, by its own triangle', () => {
    const order = punchOrder({ widthMm: 501.3, heightMm: 702.6, rulerParts: 16, metricStepMm: 0.5 });
    const diagonal = Math.hypot(501.3, 702.6);
    const [, second, third, last] = order.steps;
    const all = [
      ...second.distances.map((one) => [one, 501.3] as const),
      [third.distances[0], 702.6] as const,
      [third.distances[1], diagonal] as const,
      [last.distances[0], 702.6] as const,
      [last.distances[1], diagonal] as const,
    ];
    for (const [one, mm] of all) {
      expect(one.mm).toBeCloseTo(mm, 9);
      expect(one.asPrintedMm).toBeCloseTo(mm, 9);
      expect(one.metric.mm).toBeCloseTo(Math.round(mm * 2) / 2, 9);
      expect(one.metric.errorMm).toBeCloseTo(one.metric.mm - mm, 9);
      expect(one.inches.mm).toBeCloseTo((Math.round((mm * 16) / 25.4) / 16) * 25.4, 9);
      // The corner at the upper left (or right) by the law of cosines with that one distance rounded.
      for (const rounded of [one.metric, one.inches]) {
        const top = one === second.distances[0] ? rounded.mm : 501.3;
        const side = one === third.distances[0] || one === last.distances[0] ? rounded.mm : 702.6;
        const across = one === third.distances[1] || one === last.distances[1] ? rounded.mm : diagonal;
        const cosine = (top ** 2 + side ** 2 - across ** 2) / (2 * top * side);
        const off = Math.abs(90 - (Math.acos(cosine) * 180) / Math.PI);
        // Another corner may be off by more, for the far side turns with it, but not by twice as much.
        expect(rounded.effect.outOfSquareDeg).toBeGreaterThan(off - 1e-9);
        expect(rounded.effect.outOfSquareDeg).toBeLessThan(2 * off + 1e-9);
      }
    }
    expect(order.steps.map(({ check }) => check?.from ?? null)).toEqual([null, null, null, 'lowerLeft']);
    expect(last.check?.mm).toBeCloseTo(501.3, 9);
    expect(last.check?.metric.effect).toMatchObject({ outOfSquareDeg: 0, sidesMm: 0 });
    expect(last.check?.metric.effect.farSideMm).toBeCloseTo(Math.abs(501.5 - 501.3), 9);
    for (const [k, { sentence }] of order.steps.entries()) expect(order.sentences[k]).toBe(`${k + 1}. ${sentence}`);
    expect(third.sentence).toMatch(
      /^Punch the lower left hole where two arcs cross, 702.5 mm \(.* in\) from the upper left hole and 863 mm/,
    );
    expect(last.sentence).toMatch(/; then it must be 501.5 mm \(19 3\/4 in\) from the lower left hole\.$/);
  });

  it('is too much where it makes the sheet itself longer or wider by more than a join stands', () => {
    const does = (widthMm: number, heightMm: number) => punchOrder({ widthMm, heightMm, metricStepMm: 5 }).metricDoes;
    expect(does(300, 400)).toBe(true);
    // All three are short by the same share: square, but 0.6 and 0.8 mm too small.
    expect(does(300.6, 400.8)).toBe(false);
    expect(does(300.3, 400.4)).toBe(true);
    expect(does(400.8, 300.6)).toBe(false);
    // 0.45 mm one way and 0.6 the other.
    expect(does(300.45, 400.6)).toBe(false);
    expect(does(400.6, 300.45)).toBe(false);
  });

  it('is for a dot between the corners the step of its own distance, and a third hole proves it, the nearest', () => {
    const order = punchOrder({
      widthMm: 400,
      heightMm: 300,
      metricStepMm: 0.5,
      extra: [{ name: 'K', at: { x: 400, y: 120.3 } }],
    });
    const dot = order.steps[4];
    expect(dot.distances.map(({ from }) => from)).toEqual(['upperLeft', 'upperRight'].toSorted());
    const mm = {
      upperLeft: Math.hypot(400, 120.3),
      upperRight: 120.3,
      lowerRight: 179.7,
      lowerLeft: Math.hypot(400, 179.7),
    };
    for (const { from, mm: own } of dot.distances) expect(own).toBeCloseTo(mm[from as keyof typeof mm], 9);
    expect(dot.check?.from).toBe('lowerRight');
    expect(dot.check?.mm).toBeCloseTo(179.7, 9);
    expect(dot.check?.metric.effect.farSideMm).toBeCloseTo(0.2, 9);
  });
});
