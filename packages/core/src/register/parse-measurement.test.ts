import { describe, expect, it } from 'vitest';
import { InputError } from '../units/input-error.js';
import { parseMeasurement } from './parse-measurement.js';

describe('reading measurements', () => {
  it.each<[string, number[]]>([
    ['600mm', [600]],
    ['36 1/16in, 36 3/32in', [36.0625 * 25.4, 36.09375 * 25.4]],
    ['36 1/16in,36 3/32in', [36.0625 * 25.4, 36.09375 * 25.4]],
    ['36 1/16, 36 3/32 in', [36.0625 * 25.4, 36.09375 * 25.4]],
    ['36⅛", 60cm; 1 ft', [36.125 * 25.4, 600, 304.8]],
    ['600; 600.5mm', [600, 600.5]],
  ])('%s', (text, readings) => {
    const found = parseMeasurement(text);
    expect(found).toHaveLength(readings.length);
    for (const [k, mm] of readings.entries()) expect(found[k]).toBeCloseTo(mm, 9);
  });

  it('takes up to a hundred readings', () => {
    expect(parseMeasurement(new Array(100).fill('7mm').join(','))).toHaveLength(100);
  });

  it('takes bare numbers with a default unit', () => {
    const [one, other] = parseMeasurement('24, 24 1/2', { defaultUnit: 'in' });
    expect(one).toBeCloseTo(609.6, 9);
    expect(other).toBeCloseTo(622.3, 9);
  });

  it.each([
    ['', /empty/],
    ['600mm,', /comma with no reading/],
    ['60,5cm', /comma: write a point/],
    ['0mm', /is zero/],
    ['600', /no unit/],
    ['12 parsecs', /unknown unit/],
    ['-3mm', /below zero/],
    [`${'1mm,'.repeat(101)}1mm`, /at most 100/],
  ])('refuses %j', (text, message) => {
    expect(() => parseMeasurement(text)).toThrow(InputError);
    expect(() => parseMeasurement(text)).toThrow(message);
  });
});
