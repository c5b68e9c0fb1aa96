import { describe, expect, it } from 'vitest';
import { shapeFindings, sidesFinding } from '../findings/shape.js';
import { checkSquare } from './check-square.js';
import { measuredCorners, measuredPairs, openTriangle } from './partial.js';
import { planRepunch } from './repunch.js';
import { asMeasured, holesAt } from './sheets.test-help.js';
import { distancesOf, forSpans } from './spans.js';
import type { Readings, Span } from './types.js';

function readingsOf(given: Partial<Record<Span, readonly [mm: number, errorMm: number]>>): Readings {
  return forSpans((span) => {
    const one = given[span];
    if (one === undefined) return null;
    return { meanMm: one[0], errorMm: one[1], count: 1, spreadMm: 0, spreadTooBig: false };
  });
}

describe('corners of which three distances were measured', () => {
  it('have the angle of the triangle, and the error that its sides’ errors add up to', () => {
    const [corner, ...others] = measuredCorners(readingsOf({ top: [400, 0.1], left: [300, 0.2], rising: [500, 0.3] }));
    expect(others).toEqual([]);
    expect(corner.corner).toBe('upperLeft');
    expect([...corner.spans].sort()).toEqual(['left', 'rising', 'top']);
    expect(corner.deg).toBeCloseTo(90, 9);
    // By the law of cosines, at a right angle: dγ = dc·c/(ab) − da/b − db/a.
    const radians = (0.3 * 500) / (300 * 400) + 0.1 / 300 + 0.2 / 400;
    expect(corner.errorDeg).toBeCloseTo((radians * 180) / Math.PI, 5);
    expect(corner.strayMm).toBeCloseTo(0, 9);
  });

  it('tell how far the shorter side strays, outwards where the corner is open', () => {
    const at = (mm: number) => measuredCorners(readingsOf({ right: [300, 1], bottom: [400, 1], rising: [mm, 1] }))[0];
    const cosine = (mm: number) => (300 ** 2 + 400 ** 2 - mm ** 2) / (2 * 300 * 400);
    expect(at(510).corner).toBe('lowerRight');
    expect(at(510).strayMm).toBeCloseTo(-300 * cosine(510), 9);
    expect(at(510).strayMm).toBeGreaterThan(0);
    expect(at(490).strayMm).toBeLessThan(0);
    expect(at(490).deg).toBeCloseTo((Math.acos(cosine(490)) * 180) / Math.PI, 9);
  });

  it('are four when all six were measured, none where two sides alone were', () => {
    const all = measuredCorners(
      readingsOf({ top: [4, 1], right: [3, 1], bottom: [4, 1], left: [3, 1], falling: [5, 1], rising: [5, 1] }),
    );
    expect(all.map(({ corner }) => corner)).toEqual(['upperLeft', 'upperRight', 'lowerRight', 'lowerLeft']);
    expect(measuredCorners(readingsOf({ top: [4, 1], left: [3, 1] }))).toEqual([]);
  });
});

describe('pairs that are equal on a rectangle', () => {
  it('are compared where both were measured, first less second, their errors added', () => {
    const pairs = measuredPairs(
      readingsOf({ top: [400, 0.5], bottom: [398, 0.25], left: [300, 1], rising: [500, 1], falling: [501, 1] }),
    );
    expect(pairs).toEqual([
      { pair: ['top', 'bottom'], differenceMm: 2, errorMm: 0.75, maybeEqual: false },
      { pair: ['falling', 'rising'], differenceMm: 1, errorMm: 2, maybeEqual: true },
    ]);
  });
});

describe('a triangle that can’t close', () => {
  it('is told by its longest side', () => {
    expect(openTriangle(readingsOf({ top: [400, 1], left: [300, 1], rising: [699, 1] }))).toBeNull();
    const open = openTriangle(readingsOf({ top: [400, 1], left: [300, 1], rising: [700, 1] }));
    expect(open?.longest).toBe('rising');
    expect([...(open?.others ?? [])].sort()).toEqual(['left', 'top']);
    expect(openTriangle(readingsOf({ right: [900, 1], bottom: [300, 1], rising: [500, 1] }))?.longest).toBe('right');
    expect(openTriangle(readingsOf({ right: [900, 1], bottom: [300, 1] }))).toBeNull();
  });
});

describe('two holes that stay across from one another', () => {
  it.each([
    [
      'upperLeft',
      'lowerRight',
      [
        [0, 0],
        [628, 25],
        [600, 450],
        [-31, 405],
      ],
    ],
    [
      'upperRight',
      'lowerLeft',
      [
        [-22, 40],
        [600, 0],
        [640, 470],
        [0, 450],
      ],
    ],
  ] as const)(
    '%s and %s: the others go to the corners of the job’s rectangle on that diagonal',
    (one, other, points) => {
      const holes = holesAt(...points);
      const plan = planRepunch(holes, { widthMm: 600, heightMm: 450 }, { sizeToleranceMm: 0.5 });
      expect(plan.repunch.map(({ hole }) => hole)).not.toContain(one);
      expect(plan.repunch.map(({ hole }) => hole)).not.toContain(other);
      const wanted = { upperLeft: [0, 0], upperRight: [600, 0], lowerRight: [600, 450], lowerLeft: [0, 450] } as const;
      for (const { hole, at, fromMm, checkMm } of plan.repunch) {
        const [x, y] = wanted[hole as keyof typeof wanted];
        expect(at.x).toBeCloseTo(x, 6);
        expect(at.y).toBeCloseTo(y, 6);
        for (const from of fromMm) {
          const [u, v] = wanted[from.hole as keyof typeof wanted];
          expect([one, other]).toContain(from.hole);
          expect(from.mm).toBeCloseTo(Math.hypot(x - u, y - v), 6);
        }
        expect(checkMm === null ? 750 : checkMm.mm).toBeCloseTo(750, 6);
      }
    },
  );
});

describe('what is said of a shape', () => {
  it('doubts a difference that the readings may make, whichever side is the longer', () => {
    const said = (differenceMm: number, errorMm: number) =>
      sidesFinding('sides', { differenceMm, errorMm, sure: Math.abs(differenceMm) > errorMm }, ' Do.').message;
    for (const sign of [1, -1]) {
      expect(said(sign * 0.7, 1)).toContain('differ by 0.7 mm');
      expect(said(sign * 0.7, 1.64)).toContain('by as much (1.6 mm)');
      // Below half a mm hundredths are said, from there on tenths.
      expect(said(sign * 0.4567, 0)).toContain('differ by 0.46 mm');
      expect(said(sign * 0.5432, 0)).toContain('differ by 0.5 mm');
      expect(said(sign * 2.3456, 0)).toContain('differ by 2.3 mm');
      expect(said(sign * 0.7, 1)).toContain('may be off by as much (1 mm)');
      expect(said(sign * 0.7, 0.6)).not.toContain('may be off');
      expect(said(sign * 0.7, 0.6).endsWith('Do.')).toBe(true);
    }
  });

  it('names the pair of sides that differs more, the way of a lean, and what is too long or too short', () => {
    const targets = { widthMm: 600, heightMm: 450 };
    const found = (...points: readonly (readonly [number, number])[]) => {
      const check = checkSquare(asMeasured(distancesOf(holesAt(...points))), { targets });
      if (check.shape === null) throw new Error('the distances of a flat sheet have a shape');
      const all = shapeFindings(check);
      return (code: string) => all.find((one) => one.code === code);
    };
    const wide = found([0, 0], [603, 0], [600, 450], [0, 451])('square-sides');
    expect(wide?.message).toContain('top side and bottom side differ by 3');
    const high = found([0, 0], [600, -3], [600, 450], [0, 450])('square-sides');
    expect(high?.message).toContain('right side and left side differ by 3');
    const right = found([0, 0], [600, 0], [603, 450], [3, 450])('square-lean');
    expect(right?.message).toContain('has slid 3 mm to the right, 6.7 mm a metre');
    expect(found([0, 0], [600, 0], [597, 450], [-3, 450])('square-lean')?.message).toContain('to the left');
    const size = found([0, 0], [602, 0], [602, 447], [0, 447])('square-size');
    expect(size?.message).toContain('width is 2 mm too long and the height 3 mm too short');
    expect(found([0, 0], [600, 0], [600, 453], [0, 453])('square-size')?.measure).toMatchObject({ heightOffMm: 3 });
    expect(found([0, 0], [600, 0], [600, 450], [0, 450])('square-size')).toBeUndefined();
    expect(found([0, 0], [600, 0], [600, 450], [0, 450])('square-proved')?.message).toContain(
      'a rectangle of 600 mm by 450 mm',
    );
  });
});
