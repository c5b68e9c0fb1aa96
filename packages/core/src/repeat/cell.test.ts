import { describe, expect, it } from 'vitest';
import { spillFindings } from '../findings/spill.js';
import { boxContour, circleContour, translateContour } from '../geometry/contour.js';
import type { Shape } from '../motif/types.js';
import { layCell, SEAM_SNAP_MM } from './cell.js';
import { makeLattice } from './lattice.js';
import { latticeGrid } from './lattice-grid.js';
import { HALF_DROP, inkArea, PAPER, randomFrom, STRAIGHT, shapeOf } from './random-cell.test-help.js';
import { shapeAreas } from './shape-area.js';
import { decideSpill } from './spill.js';
import type { Lattice } from './types.js';

const lattice = makeLattice(STRAIGHT, 67.5, 60.9);
const unit = { contours: [boxContour({ x0: 0, y0: 0, x1: 67.5, y1: 60.9 })], rule: 'nonzero' as const };

function laid(shapes: readonly Shape[], on: Lattice) {
  const grid = latticeGrid(on);
  const areas = shapeAreas(shapes, grid);
  const { readings } = decideSpill(shapes, areas, on, grid, { spill: 'auto', paperColour: PAPER, reachMm: 3 });
  return layCell(areas, on, { readings, paperColour: PAPER });
}

describe('a shape that ends at a side of the unit', () => {
  it('keeps its area: corners pulled onto the side never cost a part of it', () => {
    const random = randomFrom(5);
    for (let n = 0; n < 60; n++) {
      const r = random(1.5, 9);
      const depth = random(0.1, 0.95) * r;
      const x = random(10, 55);
      const clipped = { ...shapeOf([circleContour({ x, y: 60.9 + r - depth }, r)]), clips: [unit] };
      // Area of a circle's segment of a given height.
      const segment = r * r * Math.acos(1 - depth / r) - (r - depth) * Math.sqrt(2 * r * depth - depth * depth);
      // At each end the outline lies on the side from where it enters the snap, to the next flattened corner: that is less than half a mm.
      expect(Math.abs(inkArea(laid([clipped], lattice)) - segment)).toBeLessThan(2 * SEAM_SNAP_MM * 0.5);
    }
  });

  it('touches the side to the last grid unit', () => {
    // A bar that crosses the right side at a place where the polygon engine rounds the cut one unit short of it.
    const random = randomFrom(9);
    for (let n = 0; n < 150; n++) {
      const on = makeLattice(HALF_DROP, random(12, 14), 40);
      const [x, y] = [random(1, 4), random(5, 30)];
      const slope = random(-0.05, 0.05);
      const corners = [x, y, 35, y + slope * (35 - x), 35, y + 0.9 + slope * (35 - x), x, y + 0.9];
      const coords = [corners[0], corners[1]];
      for (let k = 0; k < 4; k++) {
        const [ax, ay] = [corners[2 * k], corners[2 * k + 1]];
        const [bx, by] = [corners[(2 * k + 2) % 8], corners[(2 * k + 3) % 8]];
        coords.push((2 * ax + bx) / 3, (2 * ay + by) / 3, (ax + 2 * bx) / 3, (ay + 2 * by) / 3, bx, by);
      }
      const bar = shapeOf([{ closed: true, coords: Float64Array.from(coords) }]);
      const cell = layCell(shapeAreas([bar], latticeGrid(on)), on, { readings: () => 'trim', paperColour: PAPER });
      const [piece] = cell.inks[0].pieces;
      expect(Math.max(...piece.outer.map((p) => p.x))).toBe(cell.grid.width);
    }
  });
});

describe('shapes clipped to the unit', () => {
  it('are no copies of one another where the clip shows other parts of them', () => {
    const whole = circleContour({ x: 3, y: 30 }, 10);
    const other = translateContour(whole, { x: 67.5, y: 0 });
    const shapes = [whole, other].map((contour, k) => ({ ...shapeOf([contour]), id: `half-${k}`, clips: [unit] }));
    expect(inkArea(laid(shapes, lattice))).toBeCloseTo(Math.PI * 100, 2);
  });

  it('are copies where the clip takes the same off both', () => {
    const window = boxContour({ x0: 20, y0: 20, x1: 30, y1: 30 });
    const far = { x: 67.5, y: 60.9 };
    const shapes = [{ x: 0, y: 0 }, far].map((by, k) => ({
      ...shapeOf([translateContour(circleContour({ x: 25, y: 25 }, 6), by)]),
      id: `seen-${k}`,
      clips: [{ contours: [translateContour(window, by)], rule: 'nonzero' as const }],
    }));
    const grid = latticeGrid(lattice);
    const { report } = decideSpill(shapes, shapeAreas(shapes, grid), lattice, grid, {
      spill: 'auto',
      paperColour: PAPER,
      reachMm: 3,
    });
    const findings = spillFindings(report);
    expect(findings.map(({ code }) => code)).toEqual(['copies-left-out']);
  });
});
