import { describe, expect, it } from 'vitest';
import { InputError } from './input-error.js';
import { parseLength } from './length.js';

describe('parseLength', () => {
  // Inch, foot and yard: international yard and pound agreement, 24 FR 5348 (1959). pt and px: CSS Values 3.
  it.each([
    ['250mm', 250],
    ['250 mm', 250],
    ['  36cm ', 360],
    ['2.5m', 2500],
    ['2.5 M', 2500],
    ['.5m', 500],
    ['1in', 25.4],
    ['9 7/8in', 250.825],
    ['9-7/8 in', 250.825],
    ['9 7/8"', 250.825],
    ['9⅞″', 250.825],
    ['9 7⁄8 inches', 250.825],
    ['3/8in', 9.525],
    ['1/64 in', 0.396875],
    ['10 in.', 254],
    ['1ft', 304.8],
    ["2'", 609.6],
    ['2′', 609.6],
    ['1yd', 914.4],
    ['1 1/2 yd', 1371.6],
    ['72pt', 25.4],
    ['12pt', 4.233333333],
    ['96px', 25.4],
    ['300px', 79.375],
    ['0mm', 0],
    ['-0mm', 0],
    ['+3mm', 3],
    ['1e3mm', 1000],
  ])('reads %s', (text, mm) => {
    expect(parseLength(text)).toBeCloseTo(mm, 9);
  });

  it('takes a bare number only with a default unit', () => {
    expect(parseLength('9 7/8', { defaultUnit: 'in' })).toBe(250.825);
    expect(parseLength('3cm', { defaultUnit: 'in' })).toBe(30);
    expect(() => parseLength('12')).toThrow(/"12" has no unit.*"12mm"/);
  });

  it.each([
    ['', /is empty/],
    ['   ', /is empty/],
    ['2,5cm', /comma: write a point/],
    ['1,200mm', /comma/],
    ['-3mm', /below zero/],
    ['\u22123mm', /below zero/],
    ['NaN', /can't be read/],
    ['NaNmm', /can't be read/],
    ['Infinitymm', /can't be read/],
    ['mm', /can't be read/],
    ['1 2mm', /can't be read/],
    ['1/0in', /can't be read/],
    ['1//2in', /can't be read/],
    ['1.2.3mm', /can't be read/],
    ['0x10mm', /can't be read/],
    ['12 parsecs', /unknown unit "parsecs": use mm/],
    ['12__proto__', /unknown unit/],
    ['1e400mm', /longer than 10 km/],
    ['99999999mm', /longer than 10 km/],
    [`${'9'.repeat(5000)}mm`, /too long/],
  ])('refuses %j in one short sentence', (text, message) => {
    const read = () => parseLength(text);
    expect(read).toThrow(InputError);
    expect(read).toThrow(message);
    try {
      read();
    } catch (error) {
      expect((error as Error).message.length).toBeLessThan(200);
    }
  });
});
