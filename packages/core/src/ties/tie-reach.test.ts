import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boxContour, circleContour, polyline, reverseContour, transformContour } from '../geometry/contour.js';
import type { Contour, Matrix } from '../geometry/types.js';
import { indexCurves, sideReach, tieReach } from './tie-reach.js';

const OPTIONS = { widthMm: 2, flareMm: 0.4 };
const BITE = 0.05;

/** A slot between the lines x = 0 and x = 6 + slope · y, far longer than any strip is wide. */
function slot(slope: number): Contour {
  return polyline(
    [
      { x: 0, y: -30 },
      { x: 6 - 30 * slope, y: -30 },
      { x: 6 + 30 * slope, y: 30 },
      { x: 0, y: 30 },
    ],
    { closed: true },
  );
}
const across = { from: { x: 0, y: 0 }, to: { x: 6, y: 0 } };

describe('how far a strip runs on', () => {
  it('is a bite past straight banks, and past slanting ones until its whole width is in paper', () => {
    fc.assert(
      fc.property(fc.double({ min: -0.9, max: 0.9, noNaN: true }), (slope) => {
        const reach = tieReach(across, indexCurves([slot(slope / 5)]), OPTIONS);
        expect(reach?.from).toBeCloseTo(BITE, 9);
        expect(reach?.to).toBeCloseTo(1.4 * Math.abs(slope / 5) + BITE, 9);
      }),
    );
  });

  it('is that of the circles between which it stands, however they lie', () => {
    const outer = circleContour({ x: 0, y: 0 }, 12);
    const inner = reverseContour(circleContour({ x: 0, y: 0 }, 5));
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 2 * Math.PI, noNaN: true }),
        fc.double({ min: -200, max: 200, noNaN: true }),
        (turn, away) => {
          const [c, s] = [Math.cos(turn), Math.sin(turn)];
          const m: Matrix = [c, s, -s, c, away, 3 * away];
          const ring = indexCurves([outer, inner].map((o) => transformContour(o, m)));
          const at = (r: number) => ({ x: c * r + away, y: s * r + 3 * away });
          const reach = tieReach({ from: at(5), to: at(12) }, ring, OPTIONS);
          // The island bends away under the strip by its sagitta; the outer bank bends towards it. Curves are flattened to 5 µm.
          expect(Math.abs((reach?.from ?? 0) - BITE - (5 - Math.sqrt(25 - 1.4 ** 2)))).toBeLessThan(0.006);
          expect(Math.abs((reach?.to ?? 0) - BITE)).toBeLessThan(0.006);
        },
      ),
    );
  });

  it('is none where the opening goes on past the cap', () => {
    expect(tieReach(across, indexCurves([slot(0)]), { ...OPTIONS, capMm: 0.06 })).not.toBeNull();
    expect(tieReach(across, indexCurves([slot(0.5)]), { ...OPTIONS, capMm: 0.6 })).toBeNull();
    // An end that lies in the middle of the opening, not on its bank.
    expect(tieReach({ ...across, to: { x: 3, y: 0 } }, indexCurves([slot(0)]), { ...OPTIONS, capMm: 2 })).toBeNull();
    // No bank at all, and a tie whose middle is in paper.
    expect(tieReach(across, indexCurves([]), OPTIONS)).toBeNull();
    expect(tieReach({ from: { x: 6, y: 0 }, to: { x: 9, y: 0 } }, indexCurves([slot(0)]), OPTIONS)).toBeNull();
  });

  it('is none where the strip would run into another opening', () => {
    const next = (x0: number, y0: number) => boxContour({ x0, y0, x1: x0 + 3, y1: y0 + 3 });
    const beside = [slot(0.2), next(6.5, -4.5)];
    expect(tieReach(across, indexCurves(beside), OPTIONS)).not.toBeNull();
    expect(tieReach(across, indexCurves([slot(0.2), next(6.2, -4.2)]), OPTIONS)).toBeNull();
    expect(tieReach(across, indexCurves([slot(0.2), next(6.4, -1)]), OPTIONS)).not.toBeNull();
    expect(tieReach(across, indexCurves([slot(0), next(6.04, -1)]), OPTIONS)).toBeNull();
    expect(tieReach(across, indexCurves([slot(0), next(6.06, -1)]), OPTIONS)).not.toBeNull();
  });

  it('is none where the strip would run into its own opening again behind a tip, whatever the cap', () => {
    // The far bank is a tip that begins just beside the strip: behind it the opening goes on.
    const corners = [
      [0, -30],
      [30, -30],
      [14, 0.5],
      [5.5, -1.5],
      [6.1, 1.4],
      [8, 10],
      [0, 10],
    ];
    const tip = polyline(
      corners.map(([x, y]) => ({ x, y })),
      { closed: true },
    );
    for (const capMm of [0.5, 1, 2, 4, 8]) {
      expect(tieReach(across, indexCurves([tip]), { ...OPTIONS, capMm })).toBeNull();
    }
  });

  it('heeds nothing that lies elsewhere', () => {
    const far = Array.from({ length: 900 }, (_, k) =>
      circleContour({ x: 14 + 3 * (k % 30), y: 3 * Math.floor(k / 30) - 45 }, 1),
    );
    expect(tieReach(across, indexCurves([...far, slot(0.1)]), OPTIONS)).toEqual(
      tieReach(across, indexCurves([slot(0.1)]), OPTIONS),
    );
  });
});

describe('how far the sides of a strip run on', () => {
  it('is as far as the opening goes along each of them', () => {
    fc.assert(
      fc.property(fc.double({ min: -0.9, max: 0.9, noNaN: true }), (slope) => {
        const sides = sideReach(across, indexCurves([slot(slope)]), OPTIONS);
        const off = 1.4 * slope;
        for (const [k, along] of [-off, off].entries()) {
          expect(sides?.[k].from).toBeCloseTo(0, 9);
          expect(sides?.[k].to).toBeCloseTo(along, 9);
        }
      }),
    );
  });

  it('is told for either side though the strip has something beside it', () => {
    // A corner of the opening 0.1 mm inside of one side: along that side it goes on, along the other it does not.
    const step = polyline(
      [
        { x: 0, y: -30 },
        { x: 7, y: -30 },
        { x: 7, y: -1.3 },
        { x: 6, y: -1.3 },
        { x: 6, y: 30 },
        { x: 0, y: 30 },
      ],
      { closed: true },
    );
    const sides = sideReach(across, indexCurves([step]), OPTIONS);
    expect(sides?.[0].to).toBeCloseTo(1, 9);
    expect(sides?.[1].to).toBeCloseTo(0, 9);
    expect(sideReach(across, indexCurves([]), OPTIONS)).toBeNull();
  });
});
