import { describe, expect, it } from 'vitest';
import { gapAcross, gapLimits, kinkBetween, kinkLimit } from './measure.js';
import { JOIN_DEFAULTS } from './options.js';

function heading(degrees: number): { x: number; y: number } {
  const a = (degrees * Math.PI) / 180;
  return { x: Math.cos(a), y: Math.sin(a) };
}

describe('kinkBetween', () => {
  it.each([
    [0, 180, 0],
    [30, 210, 0],
    [30, 200, 10],
    [20, 210, 10],
    [-80, 181, 81],
    [45, 45, 180],
    [0.001, 180, 0.001],
  ])('outlines leaving at %d° and %d° bend by %d°', (own, partner, kink) => {
    expect(kinkBetween(heading(own), heading(partner))).toBeCloseTo(kink, 9);
  });

  it('has no opinion on vectors without a direction', () => {
    expect(kinkBetween({ x: 0, y: 0 }, heading(10))).toBe(0);
  });
});

describe('gapAcross', () => {
  const down = { x: 0, y: 1 };

  it('is the offset where the outline crosses the seam square', () => {
    expect(gapAcross(-1.5, heading(0), heading(180), down)).toBeCloseTo(1.5, 12);
  });

  it.each([5, 30, 45, 80, -20])('is offset × cos of the slope for a line at %d°', (slope) => {
    const gap = gapAcross(2, heading(slope), heading(slope + 180), down);
    expect(gap).toBeCloseTo(2 * Math.cos((slope * Math.PI) / 180), 12);
  });

  it('takes the mean direction where the outlines bend', () => {
    expect(gapAcross(1, heading(50), heading(180 + 70), down)).toBeCloseTo(Math.cos(Math.PI / 3), 12);
  });

  it('is nothing for outlines that run along the seam', () => {
    expect(gapAcross(2.5, heading(90), heading(-90), down)).toBeCloseTo(0, 12);
    expect(gapAcross(2.5, heading(90), heading(90), down)).toBeCloseTo(0, 12);
  });
});

describe('limits', () => {
  it.each([
    [0.3, 0.2, 0.4],
    [1, 0.2, 0.4],
    [1.8, 0.36, 0.72],
    [2.5, 0.5, 0.8],
    [4, 0.8, 0.8],
    [40, 0.8, 0.8],
  ])('an opening %d mm wide: look from %d mm, fix from %d mm', (width, look, fix) => {
    const limits = gapLimits(width, JOIN_DEFAULTS);
    expect(limits.lookMm).toBeCloseTo(look, 12);
    expect(limits.fixMm).toBeCloseTo(fix, 12);
  });

  it('is stricter about kinks of fine openings', () => {
    expect(kinkLimit(3.99, JOIN_DEFAULTS)).toBe(6);
    expect(kinkLimit(4, JOIN_DEFAULTS)).toBe(12);
  });
});
