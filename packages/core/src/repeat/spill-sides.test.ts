import { expect, it } from 'vitest';
import { spillFindings } from '../findings/spill.js';
import { boxContour, circleContour } from '../geometry/contour.js';
import { makeLattice } from './lattice.js';
import { latticeGrid } from './lattice-grid.js';
import { PAPER, STRAIGHT, shapeOf } from './random-cell.test-help.js';
import { shapeAreas } from './shape-area.js';
import { decideSpill } from './spill.js';

const [W, H] = [90, 60];
const lattice = makeLattice(STRAIGHT, W, H);
function readings(boxes: readonly { x: number; y: number; r: number }[]) {
  const shapes = boxes.map(({ x, y, r }) => shapeOf([circleContour({ x, y }, r)]));
  const grid = latticeGrid(lattice);
  const decided = decideSpill(shapes, shapeAreas(shapes, grid), lattice, grid, {
    ...{ spill: 'auto', paperColour: PAPER, reachMm: 3 },
  });
  return { kinds: shapes.map((_, k) => decided.readings(k)), findings: spillFindings(decided.report) };
}

it('a shape that pokes out is carried over any side, and trimmed where its other half is drawn there', () => {
  for (const [at, opposite] of [
    [
      { x: 0, y: 20 },
      { x: W, y: 20.4 },
    ],
    [
      { x: 40, y: 0 },
      { x: 40.4, y: H },
    ],
  ]) {
    for (const [one, two] of [
      [at, opposite],
      [opposite, at],
    ]) {
      expect(readings([{ ...one, r: 6 }]).kinds).toEqual(['carry']);
      // Another radius, so that it is no copy.
      expect(
        readings([
          { ...one, r: 6 },
          { ...two, r: 6.3 },
        ]).kinds,
      ).toEqual(['trim', 'trim']);
    }
  }
});

it('shapes inside the unit stay, shapes outside it are left out, told from 0.02 mm on', () => {
  const { kinds } = readings([
    { x: 20, y: 20, r: 5 },
    { x: 5.01, y: 40, r: 5 },
    { x: 4.99, y: 50, r: 5 },
    { x: -20, y: 20, r: 5 },
    { x: -4.99, y: 30, r: 5 },
    { x: 40, y: H + 30, r: 5 },
    { x: W + 30, y: 10, r: 5 },
    { x: 40, y: -30, r: 5 },
  ]);
  expect(kinds).toEqual(['trim', 'trim', 'trim', 'leave-out', 'leave-out', 'leave-out', 'leave-out', 'leave-out']);
});

it('artwork that is drawn for another repeat is told of', () => {
  const halves = (shift: number) =>
    [8, 24, 40].flatMap((y, k) => [
      shapeOf([boxContour({ x0: 70, y0: y, x1: 95, y1: y + 4 + k })]),
      shapeOf([boxContour({ x0: -5, y0: y + shift, x1: 20, y1: y + shift + 4 + k })]),
    ]);
  const told = (shift: number) => {
    const shapes = halves(shift).filter((_, k) => shift === 0 || k < 2);
    const grid = latticeGrid(lattice);
    const { report } = decideSpill(shapes, shapeAreas(shapes, grid), lattice, grid, {
      ...{ spill: 'auto', paperColour: PAPER, reachMm: 3 },
    });
    const findings = spillFindings(report);
    return findings.find(({ code }) => code === 'drawn-for-other-repeat');
  };
  expect(told(0)).toBeUndefined();
  expect(told(-30 + H)?.measure).toMatchObject({ best: 'half-drop', bestShare: 1, chosenShare: 0, ends: 4 });
});
