import type { Box } from '../geometry/types.js';

/** Side of a cell, mm: a quarter of the lowest word. */
const CELL_MM = 1;
/** Larger drawings are done without, cells. */
const MOST_CELLS = 16e6;

/** How many of the cells up to a place are crossed by a line: sums over rows and columns, so that those of any box are four look-ups. */
export interface CrossedCells {
  readonly x: number;
  readonly y: number;
  readonly across: number;
  readonly down: number;
  readonly sums: Uint32Array;
}

/** Cells crossed by lines (four numbers each, mm). None where the drawing is empty or too large. */
export function crossedCells(lines: readonly number[]): CrossedCells | null {
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let k = 0; k < lines.length; k += 2) {
    x0 = Math.min(x0, lines[k]);
    y0 = Math.min(y0, lines[k + 1]);
    x1 = Math.max(x1, lines[k]);
    y1 = Math.max(y1, lines[k + 1]);
  }
  const across = Math.floor((x1 - x0) / CELL_MM) + 2;
  const down = Math.floor((y1 - y0) / CELL_MM) + 2;
  if (!(across * down <= MOST_CELLS)) return null;
  const sums = new Uint32Array(across * down);
  for (let k = 0; k < lines.length; k += 4) {
    const [ax, ay, bx, by] = [lines[k] - x0, lines[k + 1] - y0, lines[k + 2] - x0, lines[k + 3] - y0];
    const steps = Math.max(1, Math.ceil((2 * Math.hypot(bx - ax, by - ay)) / CELL_MM));
    for (let n = 0; n <= steps; n++) {
      const i = Math.floor((ax + ((bx - ax) * n) / steps) / CELL_MM);
      const j = Math.floor((ay + ((by - ay) * n) / steps) / CELL_MM);
      sums[(j + 1) * across + i + 1] = 1;
    }
  }
  for (let j = 1; j < down; j++) {
    let row = 0;
    for (let i = 1; i < across; i++) {
      row += sums[j * across + i];
      sums[j * across + i] = row + sums[(j - 1) * across + i];
    }
  }
  return { x: x0, y: y0, across, down, sums };
}

/** True where a line certainly comes into the box: through a cell that lies in it whole. */
export function isCrossed({ x, y, across, down, sums }: CrossedCells, box: Box): boolean {
  const i0 = Math.max(0, Math.ceil((box.x0 - x) / CELL_MM));
  const j0 = Math.max(0, Math.ceil((box.y0 - y) / CELL_MM));
  const i1 = Math.min(across - 1, Math.floor((box.x1 - x) / CELL_MM));
  const j1 = Math.min(down - 1, Math.floor((box.y1 - y) / CELL_MM));
  if (i1 <= i0 || j1 <= j0) return false;
  return sums[j1 * across + i1] + sums[j0 * across + i0] > sums[j0 * across + i1] + sums[j1 * across + i0];
}
