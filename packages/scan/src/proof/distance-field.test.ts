import fc from 'fast-check';
import { expect, it } from 'vitest';
import { distanceField } from './distance-field.js';

it('gives the distance to the nearest cell of the set, as trying every cell does', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 1, max: 14 }),
      fc.integer({ min: 1, max: 14 }),
      fc.array(fc.boolean(), { minLength: 196, maxLength: 196 }),
      (columns, rows, flags) => {
        const inSet = (cell: number): boolean => flags[cell];
        const field = distanceField({ x0: 0, y0: 0, cellMm: 1, columns, rows }, inSet);
        for (let cell = 0; cell < columns * rows; cell++) {
          let nearest = Infinity;
          for (let other = 0; other < columns * rows; other++) {
            if (!inSet(other)) continue;
            const across = (cell % columns) - (other % columns);
            const down = Math.floor(cell / columns) - Math.floor(other / columns);
            nearest = Math.min(nearest, Math.hypot(across, down));
          }
          if (nearest === Infinity) expect(field[cell]).toBe(Infinity);
          else expect(field[cell]).toBeCloseTo(nearest, 5);
        }
      },
    ),
    { numRuns: 60 },
  );
});

it('is infinite everywhere where the set is empty', () => {
  expect([...distanceField({ x0: 0, y0: 0, cellMm: 1, columns: 2, rows: 2 }, () => false)]).toEqual(
    Array(4).fill(Infinity),
  );
});
