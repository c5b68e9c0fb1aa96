import fc from 'fast-check';
import { expect, it } from 'vitest';
import { evaluateCubic } from './curve.js';
import { subCubic } from './sub-cubic.js';

const number = fc.integer({ min: -50000, max: 50000 }).map((v) => v / 1000);
const share = fc.double({ min: 0, max: 1, noNaN: true });

it('runs over the same places as the stretch of the whole', () => {
  fc.assert(
    fc.property(fc.array(number, { minLength: 10, maxLength: 10 }), share, share, share, (numbers, t0, t1, t) => {
      const whole = Float64Array.from(numbers);
      const part = evaluateCubic(subCubic(whole, 2, t0, t1), 0, t);
      const same = evaluateCubic(whole, 2, t0 + t * (t1 - t0));
      expect(Math.hypot(part.x - same.x, part.y - same.y)).toBeLessThan(1e-9);
    }),
  );
});

it('is the very curve from 0 to 1, and keeps its ends to the last bit', () => {
  const whole = Float64Array.of(0.1, 0.2, 3.3, -1.7, 5.9, 8.1, 7.3, 0.7);
  expect([...subCubic(whole, 0, 0, 1)]).toEqual([...whole]);
  expect([...subCubic(whole, 0, 0, 0.4)].slice(0, 2)).toEqual([0.1, 0.2]);
  expect([...subCubic(whole, 0, 0.4, 1)].slice(6)).toEqual([7.3, 0.7]);
});
