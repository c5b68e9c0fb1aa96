import fc from 'fast-check';
import { expect, it } from 'vitest';
import { rulerMarks } from './ruler';

it.each(['mm', 'in'] as const)('has numbers apart enough to be read, and every mark in its place (%s)', (units) => {
  fc.assert(
    fc.property(
      fc.double({ min: -500, max: 5000, noNaN: true }),
      fc.double({ min: Math.log(0.02), max: Math.log(100), noNaN: true }),
      (from, log) => {
        const pxPerMm = Math.exp(log);
        const to = from + 1000 / pxPerMm;
        const marks = rulerMarks(from, to, pxPerMm, units);
        const numbers = marks.filter(({ text }) => text !== null);
        for (const { mm, text } of numbers) {
          expect(Number(text) * (units === 'mm' ? 1 : 25.4)).toBeCloseTo(mm, 2);
        }
        for (let k = 1; k < numbers.length; k++) {
          expect((numbers[k].mm - numbers[k - 1].mm) * pxPerMm).toBeGreaterThanOrEqual(59.99);
        }
        for (const { mm } of marks) {
          expect(mm).toBeGreaterThanOrEqual(from - 1e-9);
          expect(mm).toBeLessThanOrEqual(to + 1e-9);
        }
        expect(marks.length).toBeLessThan(400);
      },
    ),
  );
});
