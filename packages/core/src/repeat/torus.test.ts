import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { circleContour, polyline } from '../geometry/contour.js';
import type { Contour } from '../geometry/types.js';
import type { Shape } from '../motif/types.js';
import { cutCell, layCell } from './cell.js';
import { makeLattice } from './lattice.js';
import { latticeGrid } from './lattice-grid.js';
import { findOpenings } from './openings.js';
import { seamStretches } from './seam-stretches.js';
import { shapeAreas } from './shape-area.js';
import type { Lattice, Repeat } from './types.js';

const INK = '#000000';
const PAPER = '#ffffff';

function shape(contour: Contour, ink = INK): Shape {
  return { id: 's', ink, contours: [contour], rule: 'nonzero', clips: [] };
}

function lay(shapes: readonly Shape[], lattice: Lattice) {
  return layCell(shapeAreas(shapes, latticeGrid(lattice)), lattice, { readings: () => 'carry', paperColour: PAPER });
}

const repeats: fc.Arbitrary<Repeat> = fc.oneof(
  fc.constant<Repeat>({ kind: 'straight', step: { p: 0, q: 1 } }),
  fc
    .tuple(fc.constantFrom('drop' as const, 'brick' as const), fc.constantFrom([1, 2], [1, 3], [2, 3], [3, 7], [5, 8]))
    .map(([kind, [p, q]]) => ({ kind, step: { p, q } })),
);

describe('artwork carried over the seams', () => {
  it('keeps its area, wherever it is laid', () => {
    fc.assert(
      fc.property(
        repeats,
        fc.double({ min: -2, max: 2, noNaN: true }),
        fc.double({ min: -2, max: 2, noNaN: true }),
        (repeat, x, y) => {
          const lattice = makeLattice(repeat, 97.3, 141.9);
          const openings = findOpenings(lay([shape(circleContour({ x: x * 97.3, y: y * 141.9 }, 21.5))], lattice));
          expect(openings).toHaveLength(1);
          expect(openings[0].rank).toBe(0);
          // Closed form pi r²; the circle of eight cubics is 9e-6 larger.
          expect(Math.abs(openings[0].areaMm2 / (Math.PI * 21.5 ** 2) - 1)).toBeLessThan(5e-5);
          const box = openings[0].boxMm as { x0: number; y0: number; x1: number; y1: number };
          expect(box.x1 - box.x0).toBeCloseTo(43, 2);
          expect(box.x0).toBeGreaterThanOrEqual(0);
          expect(box.x0).toBeLessThan(97.3);
        },
      ),
      { numRuns: 300 },
    );
  });
});

describe('winding', () => {
  const bar = (x0: number, y0: number, x1: number, y1: number): Shape =>
    shape(
      polyline(
        [
          { x: x0, y: y0 },
          { x: x1, y: y0 },
          { x: x1, y: y1 },
          { x: x0, y: y1 },
        ],
        { closed: true },
      ),
    );
  const straight = makeLattice({ kind: 'straight', step: { p: 0, q: 1 } }, 100, 100);
  const halfDrop = makeLattice({ kind: 'drop', step: { p: 1, q: 2 } }, 100, 100);

  function ranks(shapes: readonly Shape[], lattice: Lattice): number[] {
    const areas = shapeAreas(shapes, latticeGrid(lattice));
    return findOpenings(layCell(areas, lattice, { readings: () => 'trim', paperColour: PAPER })).map((o) => o.rank);
  }

  it('tells a stripe from a leaf and a net', () => {
    expect(ranks([bar(0, 40, 100, 60)], straight)).toEqual([1]);
    expect(ranks([bar(10, 40, 90, 60)], straight)).toEqual([0]);
    expect(ranks([bar(0, 40, 100, 60), bar(40, 0, 60, 100)], straight)).toEqual([2]);
  });

  // A bar across the unit dead-ends at the seam of a half-drop; two of them, half a unit apart, make one endless line of class 2a − b.
  // Worked out by hand and by an independent cover search.
  it('knows the seam of a half-drop', () => {
    expect(ranks([bar(0, 20, 100, 40)], halfDrop)).toEqual([0]);
    expect(ranks([bar(0, 20, 100, 40), bar(0, 70, 100, 90)], halfDrop)).toEqual([1]);
  });

  it('does not connect through a point', () => {
    expect(ranks([bar(0, 0, 50, 50), bar(50, 50, 100, 100)], straight)).toEqual([0, 0]);
  });
});

describe('what covers what', () => {
  it('lets a carried paper-coloured shape cut its neighbour', () => {
    const lattice = makeLattice({ kind: 'straight', step: { p: 0, q: 1 } }, 100, 100);
    const dark = shape(circleContour({ x: 5, y: 50 }, 20));
    const light = shape(circleContour({ x: 105, y: 50 }, 10), PAPER);
    const [opening] = findOpenings(lay([dark, light], lattice));
    expect(opening.areaMm2).toBeCloseTo(Math.PI * (400 - 100), 1);
  });

  it('takes the light where the drawing shows the cloth and a resist is printed', () => {
    const lattice = makeLattice({ kind: 'straight', step: { p: 0, q: 1 } }, 100, 100);
    const cell = lay([shape(circleContour({ x: 0, y: 0 }, 20))], lattice);
    const light = cutCell(cell, { drawn: 'cloth', method: 'resist', paperColour: PAPER, cut: null });
    const openings = findOpenings(light);
    expect(openings.map((o) => o.rank)).toEqual([2]);
    expect(openings[0].areaMm2).toBeCloseTo(10000 - Math.PI * 400, 1);
  });
});

describe('tangents at the seam', () => {
  it('come from the curve even where it is tight', () => {
    const lattice = makeLattice({ kind: 'straight', step: { p: 0, q: 1 } }, 100, 100);
    fc.assert(
      fc.property(fc.double({ min: -0.95, max: 0.95, noNaN: true }), (u) => {
        const r = 1;
        const cell = lay([shape(circleContour({ x: 100 + u * r, y: 50 }, r))], lattice);
        const right = seamStretches(cell).filter((s) => s.side === 'right');
        expect(right).toHaveLength(1);
        const half = Math.sqrt(r * r - (u * r) ** 2);
        expect(right[0].from.atMm).toBeCloseTo(50 - half, 3);
        expect(right[0].to.atMm).toBeCloseTo(50 + half, 3);
        // The tangent of a circle at (−u, −half) from its centre is (half, −u).
        const angle = Math.atan2(right[0].from.tangent.y, right[0].from.tangent.x);
        expect(Math.abs(angle - Math.atan2(-u, half)) * (180 / Math.PI)).toBeLessThan(0.1);
        expect(right[0].from.runsOn).toBe(true);
      }),
      { numRuns: 60 },
    );
  });

  it('are those of a stroke, too, under a slanting pen', () => {
    const lattice = makeLattice({ kind: 'straight', step: { p: 0, q: 1 } }, 100, 100);
    const line = polyline(
      [
        { x: 80, y: 40 },
        { x: 120, y: 60 },
      ],
      { closed: false },
    );
    const stroke = {
      width: 4,
      cap: 'butt' as const,
      join: 'miter' as const,
      miterLimit: 4,
      dash: [],
      dashOffset: 0,
      pen: [1, 0, 0, 1, 0, 0] as const,
    };
    const cell = lay([{ id: 's', ink: INK, contours: [line], rule: 'nonzero', clips: [], stroke }], lattice);
    const [s] = seamStretches(cell).filter((x) => x.side === 'right');
    const rise = Math.atan2(20, 40);
    expect(s.from.atMm).toBeCloseTo(50 - 2 / Math.cos(rise), 3);
    expect(s.to.tangent.y / s.to.tangent.x).toBeCloseTo(0.5, 6);
    expect(s.to.runsOn).toBe(true);
  });
});
