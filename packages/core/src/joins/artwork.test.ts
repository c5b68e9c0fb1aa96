import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { circleContour, contoursBox, transformContour } from '../geometry/contour.js';
import type { Contour, Point } from '../geometry/types.js';
import type { Shape } from '../motif/types.js';
import { layCell } from '../repeat/cell.js';
import { latticePoint, makeLattice } from '../repeat/lattice.js';
import { latticeGrid } from '../repeat/lattice-grid.js';
import { seamStretches } from '../repeat/seam-stretches.js';
import { shapeAreas } from '../repeat/shape-area.js';
import type { Lattice, Repeat } from '../repeat/types.js';
import { checkJoins } from './checked.test-help.js';

const W = 110;
const H = 90;

/** A slanted ellipse: half axes `r` and `0.6 r`, turned by `angle` radians. */
function leaf(at: Point, r: number, angle: number): Contour {
  const [c, s] = [Math.cos(angle) * r, Math.sin(angle) * r];
  return transformContour(circleContour({ x: 0, y: 0 }, 1), [c, s, -0.6 * s, 0.6 * c, at.x, at.y]);
}

function joinsOf(contours: readonly Contour[], lattice: Lattice) {
  const shapes = contours.map(
    (contour, k): Shape => ({ id: `leaf-${k}`, ink: '#000000', contours: [contour], rule: 'nonzero', clips: [] }),
  );
  const areas = shapeAreas(shapes, latticeGrid(lattice));
  const cell = layCell(areas, lattice, { readings: () => 'trim', paperColour: '#ffffff' });
  return checkJoins(seamStretches(cell), lattice);
}

/** Every copy of a leaf that reaches the unit, moved as `shift` says. */
function drawnToTheEdge(centre: Point, r: number, angle: number, lattice: Lattice, shift: (at: Point) => Point) {
  const contours: Contour[] = [];
  for (let i = -2; i <= 2; i++) {
    for (let j = -2; j <= 2; j++) {
      const v = latticePoint(lattice, { i, j });
      const at = { x: centre.x + v.x, y: centre.y + v.y };
      const d = shift(at);
      if (at.x > -r && at.x < W + r && at.y > -r && at.y < H + r) {
        contours.push(leaf({ x: at.x + d.x, y: at.y + d.y }, r, angle));
      }
    }
  }
  return contours;
}

const repeats = fc.constantFrom<Repeat>(
  { kind: 'straight', step: { p: 0, q: 1 } },
  { kind: 'drop', step: { p: 1, q: 2 } },
  { kind: 'drop', step: { p: 2, q: 3 } },
  { kind: 'drop', step: { p: 1, q: 40 } },
  { kind: 'brick', step: { p: 1, q: 2 } },
  { kind: 'brick', step: { p: 3, q: 7 } },
);

/** No outline just touches a seam: what pokes out by about the snap of 0.02 mm may touch on one side and cross on the other. */
function clearOfTouching(contours: readonly Contour[]): boolean {
  return contours.every((contour) => {
    const box = contoursBox([contour]);
    if (box === null) return true;
    const near = (edge: number, side: number) => Math.abs(edge) < TOUCH_MM || Math.abs(edge - side) < TOUCH_MM;
    return !near(box.x0, W) && !near(box.x1, W) && !near(box.y0, H) && !near(box.y1, H);
  });
}

const TOUCH_MM = 0.05;

const part = fc.double({ min: 0, max: 1, noNaN: true });
const radius = fc.double({ min: 5, max: 16, noNaN: true });

describe('artwork drawn up to the edge on both sides', () => {
  it('meets to a hundredth of a millimetre and a tenth of a degree where it was drawn true', () => {
    fc.assert(
      fc.property(repeats, part, part, radius, part, (repeat, x, y, r, turn) => {
        const lattice = makeLattice(repeat, W, H);
        const contours = drawnToTheEdge({ x: x * W, y: y * H }, r, turn * Math.PI, lattice, () => ({ x: 0, y: 0 }));
        fc.pre(clearOfTouching(contours));
        const { joins, findings } = joinsOf(contours, lattice);
        expect(findings).toEqual([]);
        for (const join of joins) {
          expect(join.gapMm).toBeLessThan(0.01);
          expect(join.kinkDeg ?? 0).toBeLessThan(0.1);
        }
      }),
      { numRuns: 60 },
    );
  });

  it('reports what one side was moved by, at the joins of that seam and no others', () => {
    fc.assert(
      fc.property(
        repeats,
        part,
        part,
        radius,
        part,
        fc.double({ min: -2.5, max: 2.5, noNaN: true }),
        (repeat, x, y, r, turn, d) => {
          const lattice = makeLattice(repeat, W, H);
          const column = repeat.kind !== 'brick';
          const shift = (at: Point) => {
            if (column) return { x: 0, y: at.x < W / 2 ? d : 0 };
            return { x: at.y < H / 2 ? d : 0, y: 0 };
          };
          const contours = drawnToTheEdge({ x: x * W, y: y * H }, r, turn * Math.PI, lattice, shift);
          fc.pre(clearOfTouching(contours));
          for (const join of joinsOf(contours, lattice).joins) {
            const want = join.seam === (column ? 'right' : 'bottom') ? d : 0;
            expect(Math.abs((join.offsetMm ?? Number.NaN) - want)).toBeLessThan(0.01);
            expect(join.kinkDeg ?? 0).toBeLessThan(0.1);
          }
        },
      ),
      { numRuns: 120 },
    );
  });
});
