import { type Grid, makeGrid } from '../geometry/grid.js';
import type { Point } from '../geometry/types.js';
import type { Lattice, LatticeStep } from './types.js';

/** The grid on which a repeat closes exactly: sides and step are whole numbers of grid units. */
export function latticeGrid(lattice: Lattice): Grid {
  const { kind, step } = lattice.repeat;
  return makeGrid(lattice.widthMm, lattice.heightMm, {
    divideX: kind === 'brick' ? step.q : 1,
    divideY: kind === 'drop' ? step.q : 1,
  });
}

/** The vector `i·a + j·b` in grid units: whole numbers. */
export function gridStep(lattice: Lattice, grid: Grid, { i, j }: LatticeStep): Point {
  const { p, q } = lattice.repeat.step;
  if (lattice.repeat.kind === 'drop') return { x: i * grid.width, y: (i * p + j * q) * (grid.height / q) };
  if (lattice.repeat.kind === 'brick') return { x: (j * p + i * q) * (grid.width / q), y: j * grid.height };
  return { x: i * grid.width, y: j * grid.height };
}
