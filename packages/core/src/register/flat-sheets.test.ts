import { describe, expect, it } from 'vitest';
import { checkFlat, leastErrors } from './flat.js';
import { holesFromFive, lift, volumeSquared } from './hinge.js';
import { holesAt } from './sheets.test-help.js';
import { distancesOf, forSpans, rectangleDistances, spanBetween, triangleWithout } from './spans.js';

const one = forSpans(() => 1);

describe('a flat sheet', () => {
  it('has six distances whose tetrahedron has no volume', () => {
    const holes = holesAt([0, 0], [600, 4], [607, 455], [-3, 450]);
    expect(leastErrors(distancesOf(holes), one)).toBeLessThan(1e-6);
    expect(Math.sqrt(Math.abs(volumeSquared(distancesOf(holes))))).toBeLessThan(20);
  });

  it('a regular tetrahedron of edge a has the volume a³ / (6√2) and the height a·√(2/3)', () => {
    const edges = forSpans(() => 30);
    expect(volumeSquared(edges)).toBeCloseTo(30 ** 6 / 72, 3);
    expect(lift(edges)).toBeCloseTo(30 * Math.sqrt(2 / 3), 9);
  });

  it('a disphenoid of 18, 24 and 29 has the volume of its closed form', () => {
    // 72 V² = (a² + b² − c²)(a² + c² − b²)(b² + c² − a²) for opposite edges a, b, c.
    const [a, b, c] = [24 ** 2, 18 ** 2, 29 ** 2];
    const edges = { top: 24, bottom: 24, left: 18, right: 18, falling: 29, rising: 29 };
    expect(volumeSquared(edges)).toBeCloseTo(((a + b - c) * (a + c - b) * (b + c - a)) / 72, 3);
  });

  it('is found again from five distances', () => {
    const holes = holesAt([0, 0], [600, 0], [611, 455], [-7, 447]);
    const again = holesFromFive(distancesOf(holes));
    for (const corner of ['upperLeft', 'upperRight', 'lowerRight', 'lowerLeft'] as const) {
      expect(again[corner].x).toBeCloseTo(holes[corner].x, 9);
      expect(again[corner].y).toBeCloseTo(holes[corner].y, 9);
    }
  });
});

describe('the least error that makes a sheet flat', () => {
  it('of a square whose diagonals are both too long: all share it alike', () => {
    // Sides s + e and diagonals d − e of a square: d − e = √2 (s + e).
    const [s, d] = [400, 400 * Math.SQRT2 + 3];
    const distances = { top: s, right: s, bottom: s, left: s, falling: d, rising: d };
    const least = (d - Math.SQRT2 * s) / (1 + Math.SQRT2);
    expect(leastErrors(distances, one)).toBeCloseTo(least, 9);
    // Twice the error allowed needs half as many of them.
    expect(
      leastErrors(
        distances,
        forSpans(() => 2),
      ),
    ).toBeCloseTo(least / 2, 9);
    const { eachOffMm, verdict, diagonals } = checkFlat(
      distances,
      forSpans(() => 0.5),
      { readingErrorMm: 0.5, targets: null },
    );
    expect({ verdict, diagonals }).toEqual({ verdict: 'misreading', diagonals: 'too-long' });
    expect(eachOffMm).toBeCloseTo(least, 9);
  });

  it('is none for true rectangles, and none helps where two sides are nothing beside the rest', () => {
    expect(leastErrors(rectangleDistances(300, 400), one)).toBeLessThan(1e-9);
    expect(
      leastErrors(
        { ...rectangleDistances(300, 400), rising: 900 },
        forSpans(() => 0),
      ),
    ).toBe(Infinity);
  });

  it('says how far what follows may be off: of a square the one diagonal follows the other and its sides', () => {
    // d₁² + d₂² = 4 s² for a rhombus: alone, a change of the other diagonal is answered by as much the other way, one of a side by 1/√2 of it.
    const { wouldBe } = checkFlat(rectangleDistances(500, 500), one, { readingErrorMm: 1, targets: null });
    const rising = wouldBe.find(({ span }) => span === 'rising');
    expect(rising?.mm).toBeCloseTo(500 * Math.SQRT2, 9);
    expect(rising?.errorMm).toBeCloseTo(Math.sqrt(1 + 4 * 0.5), 4);
  });
});

describe('distances by their names', () => {
  it('join the corners they are named after', () => {
    expect(spanBetween('upperLeft', 'upperRight')).toBe('top');
    expect(spanBetween('lowerLeft', 'upperLeft')).toBe('left');
    expect(spanBetween('lowerRight', 'upperLeft')).toBe('falling');
    expect(spanBetween('upperRight', 'lowerLeft')).toBe('rising');
    expect(() => spanBetween('upperLeft', 'upperLeft')).toThrow(RangeError);
    expect([...triangleWithout('upperLeft')].sort()).toEqual(['bottom', 'right', 'rising']);
  });
});
