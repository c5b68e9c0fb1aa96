import type { Sheet } from '@okuri/core';
import { latticePoint, makeLattice } from '@okuri/core/inside';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { cutSheet } from './cut-sheet.test-help';
import { boxToPattern, clothPlane, firstShown, onUnit, sheetPlane, stepped, toPattern, toShown } from './plane';

const halfDrop = makeLattice({ kind: 'drop', step: { p: 1, q: 2 } }, 100, 60);

const ONE = cutSheet();

/** A sheet of units beside each other, of paper that moves across. */
function sheetOf(across: number, widthPercent: number): Sheet {
  return {
    ...ONE,
    widthMm: 80 + across * 100,
    heightMm: 140,
    field: { x0: 40, y0: 30, x1: 40 + across * 100, y1: 90 },
    across,
    register: { ...ONE.register, movement: { widthPercent, heightPercent: 0 } },
  };
}

it('lays the unit in the upper left of the cloth and of the field', () => {
  expect(toShown(clothPlane(halfDrop, { widthMm: 500, lengthMm: 800 }), { x: 7, y: 9 })).toEqual({ x: 7, y: 9 });
  expect(toShown(sheetPlane(sheetOf(1, 0), halfDrop), { x: 7, y: 9 })).toEqual({ x: 47, y: 39 });
});

it('shows a sheet that will grow by two in a hundred as its dry drawing is: over 1.02', () => {
  const at = toShown(sheetPlane(sheetOf(1, 2), halfDrop), { x: 51, y: 9 });
  expect(at.x).toBeCloseTo((40 + 51) / 1.02, 9);
  expect(at.y).toBeCloseTo(39, 9);
});

it('goes from the pattern to what is shown and back, and from a place of the cloth to its unit and back', () => {
  const place = fc.record({
    x: fc.double({ min: -900, max: 900, noNaN: true }),
    y: fc.double({ min: -900, max: 900, noNaN: true }),
  });
  fc.assert(
    fc.property(place, fc.double({ min: -3, max: 3, noNaN: true }), (p, percent) => {
      const plane = sheetPlane(sheetOf(2, percent), halfDrop);
      const back = toPattern(plane, toShown(plane, p));
      expect(Math.hypot(back.x - p.x, back.y - p.y)).toBeLessThan(1e-9);
      const { step, at } = onUnit(halfDrop, p);
      expect(at.x > -1e-9 && at.x < 100 + 1e-9 && at.y > -1e-9 && at.y < 60 + 1e-9).toBe(true);
      const again = stepped(halfDrop, at, step);
      expect(Math.hypot(again.x - p.x, again.y - p.y)).toBeLessThan(1e-9);
    }),
  );
  const box = boxToPattern(sheetPlane(sheetOf(1, 0), halfDrop), { x0: 40, y0: 30, x1: 60, y1: 50 });
  expect(box).toEqual({ x0: 0, y0: 0, x1: 20, y1: 20 });
});

it('finds the copy that is there of a place that lies off the cloth', () => {
  const cloth = clothPlane(halfDrop, { widthMm: 500, lengthMm: 800 });
  const at = firstShown(cloth, { x: -5, y: 10 });
  // One column to the right a half-drop lies lower by half of its height.
  expect(at).toEqual({ x: 95, y: 40 });
  expect(latticePoint(halfDrop, { i: 1, j: 0 })).toEqual({ x: 100, y: 30 });
  expect(firstShown(clothPlane(halfDrop, { widthMm: 20, lengthMm: 20 }), { x: 50, y: 50 })).toBeNull();
});
