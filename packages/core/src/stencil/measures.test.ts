import { describe, expect, it } from 'vitest';
import type { Box } from '../geometry/types.js';
import { sheetDots } from '../register/dots.js';
import type { Repeat } from '../repeat/types.js';
import { sheetMeasures } from './measures.js';

const field: Box = { x0: 40, y0: 30, x1: 240, y1: 330 };
const drop = (p: number, q: number): Repeat => ({ kind: 'drop', step: { p, q } });
const straight: Repeat = { kind: 'straight', step: { p: 0, q: 1 } };

describe('sheetMeasures', () => {
  it('measures four sides and both diagonals', () => {
    // 24 × 18 in: the diagonal is 30 (3-4-5 triangle).
    const box = { x0: 0, y0: 0, x1: 24 * 25.4, y1: 18 * 25.4 };
    const measures = sheetMeasures(sheetDots(box, straight, { diameterMm: 1 }), box);
    expect(measures.map(({ what, from, to, inches }) => `${what} ${from}${to} ${inches}`)).toEqual([
      'width AB 24',
      'width DC 24',
      'height AD 18',
      'height BC 18',
      'diagonal AC 30',
      'diagonal DB 30',
    ]);
    for (const { inchErrorMm } of measures) expect(Math.abs(inchErrorMm)).toBeLessThan(1e-9);
  });

  it('adds the extra dots, each from both its corners', () => {
    const measures = sheetMeasures(sheetDots(field, drop(1, 3), { diameterMm: 1 }), field);
    expect(measures.slice(6).map(({ what, from, to, mm }) => `${what} ${from}${to} ${mm.toFixed(3)}`)).toEqual([
      'step BC 100.000',
      'step DC 200.000',
      'step AF 200.000',
      'step EF 100.000',
    ]);
    // 500 × 700 mm: 860.232527 (Pythagoras).
    const box = { x0: 0, y0: 0, x1: 500, y1: 700 };
    expect(sheetMeasures(sheetDots(box, straight, { diameterMm: 1 }), box)[4].mm).toBeCloseTo(860.232527, 6);
  });

  it('tells what is lost in inches', () => {
    const measures = sheetMeasures(sheetDots(field, straight, { diameterMm: 1 }), field);
    // 200 mm = 7.874016 in, nearest 1/64: 7 7/8 = 200.025 mm.
    expect(measures[0].inches).toBe('7 7/8');
    expect(measures[0].inchErrorMm).toBeCloseTo(0.025, 9);
  });

  it('refuses dots without the corners', () => {
    expect(() => sheetMeasures([], field)).toThrow(RangeError);
  });
});
