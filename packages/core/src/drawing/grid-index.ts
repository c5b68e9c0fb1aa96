import type { Point } from '../geometry/types.js';

/** Side of a cell, mm: about a label. */
const CELL_MM = 10;

/** Things found again by where they are: each under the cells that the box around its points reaches. */
export class GridIndex<T> {
  private readonly cells = new Map<string, T[]>();

  add(thing: T, points: readonly Point[]): void {
    for (const key of keys(points)) {
      const cell = this.cells.get(key);
      if (cell) cell.push(thing);
      else this.cells.set(key, [thing]);
    }
  }

  /** What may touch the box around points; each once, in the order of addition within a cell. */
  near(points: readonly Point[]): T[] {
    const found = new Set<T>();
    for (const key of keys(points)) for (const thing of this.cells.get(key) ?? []) found.add(thing);
    return [...found];
  }
}

function keys(points: readonly Point[]): string[] {
  const xs = points.map((p) => Math.floor(p.x / CELL_MM));
  const ys = points.map((p) => Math.floor(p.y / CELL_MM));
  const result: string[] = [];
  for (let i = Math.min(...xs); i <= Math.max(...xs); i++) {
    for (let j = Math.min(...ys); j <= Math.max(...ys); j++) result.push(`${i},${j}`);
  }
  return result;
}
