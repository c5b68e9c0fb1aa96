import type { Point } from '../geometry/types.js';
import type { Lattice } from '../repeat/types.js';
import type { CutSheet } from './types.js';

/** A straight line on the sheet, sheet mm. */
export interface SheetLine {
  readonly from: Point;
  readonly to: Point;
}

type Ruled = Pick<CutSheet, 'field' | 'across' | 'down' | 'heldRight' | 'heldBottom'>;

/** The seams of all units on a sheet (the sides of its field among them), and the line along which the first cut stops. */
export function seamLines({ field, across, down, heldRight, heldBottom }: Ruled, lattice: Lattice): SheetLine[] {
  const { widthMm: w, heightMm: h, repeat } = lattice;
  const f = repeat.step.p / repeat.step.q;
  const lines: SheetLine[] = [];
  const add = (x0: number, y0: number, x1: number, y1: number): void => {
    lines.push({ from: { x: field.x0 + x0, y: field.y0 + y0 }, to: { x: field.x0 + x1, y: field.y0 + y1 } });
  };
  const [wide, high] = [across * w, down * h];
  if (repeat.kind === 'brick') {
    for (let j = 0; j <= down; j++) add(0, j * h, wide, j * h);
    for (let j = 0; j < down; j++) {
      const shift = (((j * f) % 1) + 1) % 1;
      for (let i = 0; i <= across; i++) {
        const x = (i + shift) * w;
        if (x <= wide + 1e-9) add(x, j * h, x, (j + 1) * h);
      }
    }
    add(0, 0, 0, high);
    add(wide, 0, wide, high);
  } else {
    for (let i = 0; i <= across; i++) add(i * w, 0, i * w, high);
    for (let i = 0; i < across; i++) {
      const shift = repeat.kind === 'drop' ? (((i * f) % 1) + 1) % 1 : 0;
      for (let j = 0; j <= down; j++) {
        const y = (j + shift) * h;
        if (y <= high + 1e-9) add(i * w, y, (i + 1) * w, y);
      }
    }
    add(0, 0, wide, 0);
    add(0, high, wide, high);
  }
  if (heldRight) add(heldRight.x0 - field.x0, 0, heldRight.x0 - field.x0, high);
  if (heldBottom) add(0, heldBottom.y0 - field.y0, wide, heldBottom.y0 - field.y0);
  return lines;
}
