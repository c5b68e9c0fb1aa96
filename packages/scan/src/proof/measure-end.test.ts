import { type Point, polyline } from '@okuri/core';
import { type FlatRing, flatRing } from '@okuri/core/inside';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { measureEnd } from './measure-end.js';
import { walkFrom } from './outline-walk.js';
import { printedEdges } from './printed-edges.js';

const LINE = { at: { x: 0, y: 0 }, along: { x: 0, y: 1 } };

function ringOf(points: readonly Point[]): FlatRing {
  return flatRing(polyline(points, { closed: true }), 1) ?? expect.fail('no ring');
}

/** A strip that comes in at the line at an angle; its upper edge crosses it at the origin. Clockwise: that edge runs away from the line. */
function strip(angleDeg: number, shift = 0, turnDeg = 0, spread = 0): Point[] {
  const a = ((angleDeg + turnDeg) * Math.PI) / 180;
  const n = { x: Math.sin(a), y: -Math.cos(a) };
  const at = (s: number, v: number): Point => ({ x: s * Math.cos(a) - v * n.x, y: shift + s * Math.sin(a) - v * n.y });
  return [at(-9, -spread), at(20, -spread), at(20, 12 + spread), at(-9, 12 + spread)];
}

describe('a straight edge that comes to a line', () => {
  it('is found where it was shifted, turned and spread to', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -65, max: 65, noNaN: true }),
        fc.double({ min: -0.8, max: 0.8, noNaN: true }),
        fc.double({ min: -6, max: 6, noNaN: true }),
        fc.double({ min: -0.2, max: 0.3, noNaN: true }),
        (angleDeg, shift, turnDeg, spreadMm) => {
          const ring = ringOf(strip(angleDeg));
          const onward = walkFrom({ ring, side: 0, share: 9 / 29 }, { onward: true, reachMm: 4 });
          const printed = printedEdges([polyline(strip(angleDeg, shift, turnDeg, spreadMm), { closed: true })]);
          const end = measureEnd(onward, LINE, printed, { spreadMm, reachMm: 2 }) ?? expect.fail('not measured');
          // Turned edges are not those of a shift and a small turn: the second order of 6° is half a per cent.
          const slack =
            0.01 + 0.02 * Math.abs((turnDeg / 6) * (Math.abs(shift) + 0.3)) + 0.03 * Math.abs(turnDeg / 6) ** 2;
          expect(Math.abs(end.cutMm - shift)).toBeLessThan(slack);
          expect(Math.abs(end.turnDeg - turnDeg)).toBeLessThan(0.05 + 0.2 * Math.abs(turnDeg));
          // An edge that leaves the line at this angle spreads so much farther along it, upwards.
          expect(end.printedMm - end.cutMm).toBeCloseTo(-spreadMm / Math.cos((angleDeg * Math.PI) / 180), 6);
        },
      ),
      { numRuns: 60 },
    );
  });

  it('is the same walked against the sense of its outline', () => {
    // The lower edge of a level strip runs back to the line.
    const ring = ringOf(strip(0));
    const walk = walkFrom({ ring, side: 2, share: 20 / 29 }, { onward: false, reachMm: 4 });
    const printed = printedEdges([polyline(strip(0, 0.3, 0, 0.1), { closed: true })]);
    const end = measureEnd(walk, { at: { x: 0, y: 12 }, along: LINE.along }, printed, { spreadMm: 0.1, reachMm: 2 });
    expect(end?.cutMm).toBeCloseTo(0.3, 6);
    expect(end?.printedMm).toBeCloseTo(0.4, 6);
  });

  it('is not told where it is missing, beyond reach, or runs along the line', () => {
    const ring = ringOf(strip(0));
    const walk = walkFrom({ ring, side: 0, share: 9 / 29 }, { onward: true, reachMm: 4 });
    const options = { spreadMm: 0, reachMm: 2 };
    expect(measureEnd(walk, LINE, printedEdges([]), options)).toBeNull();
    const far = printedEdges([polyline(strip(0, 2.5), { closed: true })]);
    expect(measureEnd(walk, LINE, far, options)).toBeNull();
    const steep = walkFrom({ ring: ringOf(strip(84)), side: 0, share: 9 / 29 }, { onward: true, reachMm: 4 });
    expect(measureEnd(steep, LINE, printedEdges([polyline(strip(84), { closed: true })]), options)).toBeNull();
  });

  it('is not misled by a crumb of paste on it', () => {
    const ring = ringOf(strip(0));
    const walk = walkFrom({ ring, side: 0, share: 9 / 29 }, { onward: true, reachMm: 4 });
    const points = strip(0);
    const crumb = [points[0], { x: 1.2, y: 0 }, { x: 1.3, y: -0.7 }, { x: 1.5, y: -0.7 }, { x: 1.6, y: 0 }];
    const printed = printedEdges([polyline([...crumb, ...points.slice(1)], { closed: true })]);
    const end = measureEnd(walk, LINE, printed, { spreadMm: 0, reachMm: 2 });
    expect(Math.abs(end?.cutMm ?? 1)).toBeLessThan(0.02);
  });
});
