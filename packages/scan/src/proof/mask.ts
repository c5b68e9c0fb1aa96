import type { Box, Point } from '@okuri/core';
import type { FlatRing } from '@okuri/core/inside';

/** Square cells over a part of a plane, row after row from its upper left. */
export interface MaskFrame {
  /** Upper left corner of the first cell, mm. */
  readonly x0: number;
  readonly y0: number;
  readonly cellMm: number;
  readonly columns: number;
  readonly rows: number;
}

/** Cells over a box: of `cellMm`, or larger ones where that would be more than `maxCells`. */
export function maskFrame(box: Box, { cellMm, maxCells }: { cellMm: number; maxCells: number }): MaskFrame {
  const [width, height] = [box.x1 - box.x0, box.y1 - box.y0];
  const cell = Math.max(cellMm, Math.sqrt((width * height) / maxCells));
  return {
    x0: box.x0,
    y0: box.y0,
    cellMm: cell,
    columns: Math.max(1, Math.ceil(width / cell)),
    rows: Math.max(1, Math.ceil(height / cell)),
  };
}

/** Middle of a cell, mm. */
export function cellMiddle({ x0, y0, cellMm, columns }: MaskFrame, cell: number): Point {
  return { x: x0 + ((cell % columns) + 0.5) * cellMm, y: y0 + (Math.floor(cell / columns) + 0.5) * cellMm };
}

/** The cell that holds a place; -1 outside the frame. */
export function cellAt({ x0, y0, cellMm, columns, rows }: MaskFrame, { x, y }: Point): number {
  const [i, j] = [Math.floor((x - x0) / cellMm), Math.floor((y - y0) / cellMm)];
  return i < 0 || j < 0 || i >= columns || j >= rows ? -1 : j * columns + i;
}

/** Writes `value` into all cells whose middle lies inside the rings (nonzero). */
export function paintRings(
  into: Uint8Array | Uint16Array,
  frame: MaskFrame,
  { rings, value }: { readonly rings: readonly Pick<FlatRing, 'x' | 'y'>[]; readonly value: number },
): void {
  const { x0, y0, cellMm, columns, rows } = frame;
  const crossings = new Map<number, { at: number; turn: number }[]>();
  for (const { x, y } of rings) {
    let o = x.length - 1;
    for (let k = 0; k < x.length; o = k++) {
      if (y[o] === y[k]) continue;
      const turn = y[o] < y[k] ? 1 : -1;
      const [low, high] = turn > 0 ? [y[o], y[k]] : [y[k], y[o]];
      const from = Math.max(0, Math.ceil((low - y0) / cellMm - 0.5));
      const to = Math.min(rows, Math.ceil((high - y0) / cellMm - 0.5));
      for (let row = from; row < to; row++) {
        const level = y0 + (row + 0.5) * cellMm;
        const at = x[o] + ((level - y[o]) * (x[k] - x[o])) / (y[k] - y[o]);
        const list = crossings.get(row);
        if (list === undefined) crossings.set(row, [{ at, turn }]);
        else list.push({ at, turn });
      }
    }
  }
  for (const [row, list] of crossings) {
    list.sort((a, b) => a.at - b.at);
    let winding = 0;
    for (let k = 0; k + 1 < list.length; k++) {
      winding += list[k].turn;
      if (winding === 0) continue;
      const from = Math.max(0, Math.ceil((list[k].at - x0) / cellMm - 0.5));
      const to = Math.min(columns, Math.ceil((list[k + 1].at - x0) / cellMm - 0.5));
      if (from < to) into.fill(value, row * columns + from, row * columns + to);
    }
  }
}

/** Groups of cells that touch along sides, each as a list of cells. `inside` tells what belongs to a group; `label` keeps unlike ones apart. */
export function cellGroups(
  { columns, rows }: MaskFrame,
  inside: (cell: number) => boolean,
  label: (cell: number) => number = () => 0,
): number[][] {
  const seen = new Uint8Array(columns * rows);
  const groups: number[][] = [];
  for (let start = 0; start < seen.length; start++) {
    if (seen[start] === 1 || !inside(start)) continue;
    const group = [start];
    seen[start] = 1;
    // The list grows while it is walked through: what was added is looked at later.
    for (const cell of group) {
      const column = cell % columns;
      const beside = [
        column > 0 ? cell - 1 : -1,
        column + 1 < columns ? cell + 1 : -1,
        cell - columns,
        cell + columns < seen.length ? cell + columns : -1,
      ];
      for (const next of beside) {
        if (next < 0 || seen[next] === 1 || label(next) !== label(start) || !inside(next)) continue;
        seen[next] = 1;
        group.push(next);
      }
    }
    groups.push(group);
  }
  return groups;
}
