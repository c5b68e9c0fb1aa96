import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { placeExtraDots } from '../register/drift-dots.js';
import { holesAt } from '../register/sheets.test-help.js';
import type { Corner } from '../register/types.js';
import { STRAIGHT } from '../repeat/random-cell.test-help.js';

const holes = holesAt([0, 0], [300, 0], [300, 400], [0, 400]);
const sheet = { widthMm: 300, heightMm: 400, repeat: STRAIGHT };
/** A dot that belongs on the middle of the right side, and really lies a little off it. */
const jobAt = { x: 300, y: 200 };
const dotFrom = (really: { x: number; y: number }, ...corners: Corner[]) => {
  const measured = corners.map((from) => {
    const mm = Math.hypot(really.x - holes[from].x, really.y - holes[from].y);
    // Two readings that miss by as much either way.
    return { from, readingsMm: [mm - 0.2, mm + 0.2] };
  });
  return placeExtraDots([{ name: 'C', at: jobAt, measured }], holes, sheet);
};

describe('a dot by its distances from corner holes', () => {
  it('lies where the arcs cross', () => {
    const off = fc.integer({ min: -30, max: 30 }).map((n) => n / 10);
    fc.assert(
      fc.property(off, off, (dx, dy) => {
        const really = { x: 300 + dx, y: 200 + dy };
        for (const corners of [
          ['upperLeft', 'upperRight'],
          ['upperLeft', 'lowerLeft'],
          ['lowerLeft', 'lowerRight', 'upperLeft', 'upperRight'],
        ] as const) {
          const [{ name, at }] = dotFrom(really, ...corners);
          expect(name).toBe('C');
          expect(at.x).toBeCloseTo(really.x, 6);
          expect(at.y).toBeCloseTo(really.y, 6);
        }
      }),
    );
  });

  it('is told along its side alone by the corners of that side, and stays where it belongs beside it', () => {
    const [{ at }] = dotFrom({ x: 300, y: 203 }, 'upperRight', 'lowerRight');
    expect(at.y).toBeCloseTo(203, 6);
    expect(at.x).toBeCloseTo(300, 6);
    const [{ at: aside }] = dotFrom({ x: 302, y: 203 }, 'upperRight');
    expect(aside.x).toBeCloseTo(300, 6);
    expect(aside.y).toBeCloseTo(Math.hypot(2, 203), 6);
  });

  it('is left out without a reading, and refused with one that is none', () => {
    expect(
      placeExtraDots([{ name: 'C', at: jobAt, measured: [{ from: 'upperLeft', readingsMm: [] }] }], holes, sheet),
    ).toEqual([]);
    for (const mm of [0, -4, Number.NaN]) {
      const measured = [{ from: 'upperLeft', readingsMm: [mm] }] as const;
      expect(() => placeExtraDots([{ name: 'C', at: jobAt, measured }], holes, sheet)).toThrow(
        /no distance from a corner/,
      );
    }
  });
});
