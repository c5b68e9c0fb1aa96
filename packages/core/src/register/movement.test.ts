import { describe, expect, it } from 'vitest';
import { movementFindings } from '../findings/movement.js';
import { InputError } from '../units/input-error.js';
import { movedDistance, paperMovement, sheetMovement } from './movement.js';

describe('paper movement', () => {
  it('by the formula of dimensional change (AATCC TM135)', () => {
    const movement = paperMovement({ along: { dryMm: 500, wetMm: 501 }, across: { dryMm: 500, wetMm: 512.5 } });
    expect(movement.alongPercent).toBeCloseTo(0.2, 9);
    expect(movement.acrossPercent).toBeCloseTo(2.5, 9);
    expect(sheetMovement(movement, 'level')).toMatchObject({ widthPercent: movement.alongPercent });
    expect(sheetMovement(movement, 'upright')).toMatchObject({ widthPercent: movement.acrossPercent });
  });

  // draw = want / (1 + DC/100), worked out apart from this code; want · 1.05 = 315 would be wrong.
  it.each([
    [300, -1, 303.0303],
    [300, -3, 309.2784],
    [300, -5, 315.7895],
    [300, -8, 326.087],
    [300, 3, 291.2621],
    [24 * 25.4, -5, 25.2632 * 25.4],
  ])('%d mm at %d per cent is drawn %d', (want, percent, draw) => {
    const dry = movedDistance(want, percent, { to: 'dry' });
    expect(Math.abs(dry - draw)).toBeLessThan(2e-3);
    expect(movedDistance(dry, percent, { to: 'wet' })).toBeCloseTo(want, 9);
  });

  it('says what is not known, and what it would do', () => {
    const [found] = movementFindings({ widthMm: 600, heightMm: 500 }, null);
    expect(found).toMatchObject({ code: 'movement-unknown', severity: 'look' });
    expect(found.message).toContain('1.8 mm wider and 1.5 mm higher');
  });

  it.each([
    [{ dryMm: 0, wetMm: 5 }, /dry distance is 0 mm/],
    [{ dryMm: 500, wetMm: Number.NaN }, /wet distance is no number/],
    [{ dryMm: 500, wetMm: 600 }, /movement of the paper is 20 %/],
  ])('refuses %j', (along, message) => {
    expect(() => paperMovement({ along, across: { dryMm: 1, wetMm: 1 } })).toThrow(message);
    expect(() => paperMovement({ along, across: { dryMm: 1, wetMm: 1 } })).toThrow(InputError);
  });
});
