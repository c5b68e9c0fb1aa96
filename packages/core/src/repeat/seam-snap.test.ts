import { expect, it } from 'vitest';
import { boxContour, circleContour } from '../geometry/contour.js';
import { evaluateCubic } from '../geometry/curve.js';
import type { Contour } from '../geometry/types.js';
import type { Shape } from '../motif/types.js';
import { makeLattice } from './lattice.js';
import { layRepeat } from './lay-repeat.js';
import { clothTile } from './pattern.js';

const STRAIGHT = { kind: 'straight', step: { p: 0, q: 1 } } as const;

function outlines(contours: readonly Contour[], spill: 'carry' | 'trim'): readonly Contour[] {
  const shape: Shape = { id: 'shape', ink: '#000000', contours, rule: 'nonzero', clips: [] };
  const { cell } = layRepeat([shape], makeLattice(STRAIGHT, 60, 100), {
    spill,
    reachMm: 3,
    drawn: 'cut',
    method: 'direct',
    paperColour: '#ffffff',
    cut: null,
  });
  return clothTile(cell).inks[0].contours;
}

it.each([0.03, 0.06, 0.2])('a disc that goes %f mm over a seam keeps its outline there', (over) => {
  const centre = { x: 30, y: 100 - 29 + over };
  let most = 0;
  for (const { coords } of outlines([circleContour(centre, 29)], 'carry')) {
    for (let o = 0; o + 7 < coords.length; o += 6) {
      for (let k = 0; k < 20; k++) {
        const { x, y } = evaluateCubic(coords, o, k / 20);
        if (Math.abs(y - 100) > 0.5 || Math.abs(x - 30) > 8) continue;
        most = Math.max(most, Math.abs(Math.hypot(x - centre.x, y - centre.y) - 29));
      }
    }
  }
  // The flattening of areas is good to 5 µm.
  expect(most).toBeLessThan(0.006);
  expect(most).toBeGreaterThan(0);
});

it('what was drawn up to a seam, or along it, ends on it', () => {
  const bars = outlines([boxContour({ x0: 0.012, y0: 20, x1: 59.985, y1: 40 })], 'trim');
  // One band without an end: nothing of its outline runs along the seams.
  const ends = bars.flatMap(({ coords: q }) =>
    Array.from({ length: (q.length - 2) / 6 }, (_, k) => 6 * k).filter(
      (o) => Math.abs(q[o] - 60) < 0.1 && Math.abs(q[o + 6] - 60) < 0.1 && Math.abs(q[o + 7] - q[o + 1]) > 1,
    ),
  );
  expect(ends).toEqual([]);
});
