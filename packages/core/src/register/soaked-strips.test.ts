import { describe, expect, it } from 'vitest';
import { movementFindings } from '../findings/movement.js';
import { measuredMovement, movementEffect } from './movement.js';

describe('the movement of paper', () => {
  it('is off by what two readings are, each by its error: √2 of one, as a share of the strip', () => {
    const { percent, errorPercent } = measuredMovement({ dryMm: 500, wetMm: 505 }, { readingErrorMm: 0.25 });
    expect(percent).toBeCloseTo(1, 12);
    expect(errorPercent).toBeCloseTo((100 * Math.SQRT2 * 0.25) / 500, 12);
    expect(measuredMovement({ dryMm: 1000, wetMm: 1000 }, { readingErrorMm: 0.25 }).errorPercent).toBeCloseTo(
      errorPercent / 2,
      12,
    );
  });

  it('changes a sheet of 300 by 400 by its shares, and its diagonal of 500 as they do', () => {
    const { widthMm, heightMm, diagonalMm } = movementEffect(
      { widthMm: 300, heightMm: 400 },
      { widthPercent: 1, heightPercent: -2 },
    );
    expect(widthMm).toBeCloseTo(3, 9);
    expect(heightMm).toBeCloseTo(-8, 9);
    expect(diagonalMm).toBeCloseTo(Math.hypot(303, 392) - 500, 9);
  });

  it('is told by what a little of it does to the sheet where it is not known, each side by its own length', () => {
    const [found] = movementFindings({ widthMm: 300, heightMm: 400 }, null);
    expect(found.message).toContain('0.9 mm wider and 1.2 mm higher');
    expect(found.measure?.percent).toBe(0.3);
    expect(found.measure?.widthMm).toBeCloseTo(0.9, 9);
    expect(found.measure?.heightMm).toBeCloseTo(1.2, 9);
  });

  it('is told with the measures of the sheet where it is known', () => {
    const [found] = movementFindings({ widthMm: 300, heightMm: 400 }, { widthPercent: 1, heightPercent: -2 });
    expect(found).toMatchObject({
      code: 'movement-allowed',
      severity: 'note',
      measure: { widthPercent: 1, heightPercent: -2 },
    });
    expect(found.measure?.widthMm).toBeCloseTo(3, 9);
    expect(found.measure?.heightMm).toBeCloseTo(-8, 9);
    expect(found.message).toContain('width moves by 1 % (3 mm)');
    expect(found.message).toContain('height by -2 % (-8 mm)');
  });
});
