import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planRepunch, rectangleHoles } from './repunch.js';
import { shapeOfHoles } from './shape.js';
import { holesAt } from './sheets.test-help.js';
import { distancesOf, rectangleDistances } from './spans.js';

describe('holes to punch again', () => {
  const targets = { widthMm: 600, heightMm: 450 };

  it('of a leaning sheet two, so that it is upright and keeps the job’s measures, width as width and height as height', () => {
    const leaning = holesAt([0, 0], [600, 0], [609, 450], [9, 450]);
    const { holes, repunch } = planRepunch(leaning, targets, { sizeToleranceMm: 1 });
    expect(repunch).toHaveLength(2);
    const shape = shapeOfHoles(holes);
    expect(shape.kind).toBe('rectangle');
    expect(shape.widthMm).toBeCloseTo(600, 6);
    expect(shape.heightMm).toBeCloseTo(450, 6);
  });

  it('on a side that stays the new ones lie at the job’s height, or at its width, whichever side it is', () => {
    // Only one side is true in each; the other two holes are far off.
    for (const [points, kept] of [
      [
        [
          [0, 0],
          [600, 0],
          [640, 470],
          [40, 440],
        ],
        ['upperLeft', 'upperRight'],
      ],
      [
        [
          [-40, 10],
          [560, -30],
          [600, 450],
          [0, 450],
        ],
        ['lowerRight', 'lowerLeft'],
      ],
      [
        [
          [0, 0],
          [570, 40],
          [620, 470],
          [0, 450],
        ],
        ['upperLeft', 'lowerLeft'],
      ],
      [
        [
          [40, -30],
          [600, 0],
          [600, 450],
          [-20, 470],
        ],
        ['upperRight', 'lowerRight'],
      ],
    ] as const) {
      const { holes, repunch } = planRepunch(holesAt(...points), targets, { sizeToleranceMm: 1 });
      expect(repunch.map(({ hole }) => hole)).not.toContain(kept[0]);
      expect(repunch.map(({ hole }) => hole)).not.toContain(kept[1]);
      const { top, right, bottom, left, falling, rising } = distancesOf(holes);
      for (const [mm, wanted] of [
        [top, 600],
        [bottom, 600],
        [left, 450],
        [right, 450],
        [falling, 750],
        [rising, 750],
      ]) {
        expect(mm).toBeCloseTo(wanted, 6);
      }
    }
  });

  it('of a sheet with one hole off that one, its place told from its neighbours and tried from across', () => {
    const { repunch } = planRepunch(holesAt([0, 0], [600, 0], [600, 450], [-8, 446]), targets, { sizeToleranceMm: 1 });
    expect(repunch).toHaveLength(1);
    const [{ hole, at, fromMm, checkMm, movedMm, patchFirst }] = repunch;
    expect(hole).toBe('lowerLeft');
    expect([at.x, at.y]).toEqual([0, 450]);
    expect(fromMm.map(({ hole: from, mm }) => [from, mm])).toEqual([
      ['lowerRight', 600],
      ['upperLeft', 450],
    ]);
    expect(checkMm).toEqual({ hole: 'upperRight', mm: 750 });
    expect(movedMm).toBeCloseTo(Math.hypot(8, 4), 9);
    expect(patchFirst).toBe(false);
  });

  it('counts the lean among what is off: of two holes that would do, the one that leaves less of it', () => {
    // With the lower right hole mended the sides are the job's to the last digit and the sheet leans by 0.8 mm; with the lower left one by 0.3 mm.
    const holes = holesAt([0, 0], [600, 0], [600.3, 450], [0.8, Math.sqrt(450 ** 2 - 0.8 ** 2)]);
    const { repunch } = planRepunch(holes, targets, { sizeToleranceMm: 1 });
    expect(repunch.map(({ hole }) => hole)).toEqual(['lowerLeft']);
    expect(repunch[0].at.x).toBeCloseTo(0.3, 9);
    expect(repunch[0].at.y).toBeCloseTo(450, 9);
  });

  it('does not take an isosceles trapezoid or a lean for a plan that keeps three holes', () => {
    fc.assert(
      fc.property(fc.integer({ min: 20, max: 120 }), (tenths) => {
        const t = tenths / 10;
        const trapezoid = holesAt([0, 0], [600, 0], [600 - t, 450], [t, 450]);
        const { holes, repunch } = planRepunch(trapezoid, targets, { sizeToleranceMm: 1 });
        expect(repunch).toHaveLength(2);
        expect(Math.abs(shapeOfHoles(holes).leanMmPerM)).toBeLessThan(2);
      }),
    );
  });

  it('starts from a rectangle of the job’s measures', () => {
    expect(distancesOf(rectangleHoles(600, 450))).toEqual(rectangleDistances(600, 450));
  });
});
