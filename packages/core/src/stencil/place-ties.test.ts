import { describe, expect, it } from 'vitest';
import { contourArea, contoursBox } from '../geometry/contour.js';
import { insideContours } from '../geometry/point-tests.js';
import type { Box } from '../geometry/types.js';
import { makeLattice } from '../repeat/lattice.js';
import { carried, HALF_DROP, inkArea, ring, THIRD_BRICK } from '../repeat/random-cell.test-help.js';
import { intersectStrips } from '../repeat/strips.js';
import type { Tie } from '../strength/types.js';
import { tieShape } from '../ties/tie-shape.js';
import { fitTies } from './fit-ties.js';
import { placeTies } from './place-ties.js';

function tiesAt(x: number, y: number): Tie[] {
  return [0.4, 2.5, 4.1].map((t, k) => ({
    id: `t${k + 1}`,
    kind: k === 0 ? 'printed' : 'release',
    from: { x: x + 12 * Math.cos(t), y: y + 12 * Math.sin(t) },
    to: { x: x + 18 * Math.cos(t), y: y + 18 * Math.sin(t) },
  }));
}

describe('ties where they stand on a sheet', () => {
  it('stand once a unit, whole where the sheet holds them whole', () => {
    for (const repeat of [HALF_DROP, THIRD_BRICK]) {
      for (const [x, y] of [
        [50, 40],
        [2, 33],
        [250, -77],
      ]) {
        const lattice = makeLattice(repeat, 100, 90);
        const cell = carried([ring({ x, y }, 18, 12)], lattice);
        const ties = fitTies(cell, 0, tiesAt(x, y), { widthMm: 2, flareMm: 0.4 }).filter((t) => t !== null);
        expect(ties).toHaveLength(3);
        // Two units across and three down.
        const placed = placeTies(cell, 0, ties, { x0: 0, y0: 0, x1: 200, y1: 270 });
        const covered = inkArea(
          intersectStrips(
            cell,
            0,
            ties.map((tie) => tieShape(tie, tie)),
          ).cell,
        );
        const total = placed.reduce((sum, { outline }) => sum + contourArea(outline), 0);
        // Cut at the sheet's edges or not, six units have six times what one has.
        expect(total).toBeCloseTo(6 * covered, 2);
        for (const tie of placed) {
          const own = ties.find(({ id }) => id === tie.id);
          expect(tie.kind).toBe(own?.kind);
          const length = Math.hypot(tie.to.x - tie.from.x, tie.to.y - tie.from.y);
          expect(length).toBeCloseTo(6, 9);
          const middle = { x: (tie.from.x + tie.to.x) / 2, y: (tie.from.y + tie.to.y) / 2 };
          const box = contoursBox([tie.outline]) as Box;
          const clear = box.x0 > 0.01 && box.y0 > 0.01 && box.x1 < 199.99 && box.y1 < 269.99;
          if (clear) expect(insideContours([tie.outline], middle)).toBe(true);
          if (clear) expect(contourArea(tie.outline)).toBeGreaterThan(2 * 5.9);
        }
        if (x === 50) expect(placed.filter(({ id }) => id === 't2')).not.toHaveLength(0);
      }
    }
  });

  it('are none where there are none', () => {
    const cell = carried([ring({ x: 50, y: 40 }, 18, 12)], makeLattice(HALF_DROP, 100, 90));
    expect(placeTies(cell, 0, [], { x0: 0, y0: 0, x1: 100, y1: 90 })).toEqual([]);
  });
});
