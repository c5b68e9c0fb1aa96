import { boxOf } from '../geometry/boxes.js';
import { flattenCubic } from '../geometry/flatten.js';
import { between, turn } from '../geometry/points.js';
import { SquareIndex } from '../geometry/square-index.js';
import type { Box, Contour, Point } from '../geometry/types.js';
import { type CrossedCells, crossedCells, isCrossed } from './crossed-cells.js';

/** Lines are known to this, mm: a third of the width of the thinnest outline. */
const FLATTEN_LABEL_MM = 0.08;
/** Longer pieces are divided, so that a slanting line takes up few cells of the grid, mm. */
const PIECE_MM = 16;
/** Side of a grid cell, mm: about a label's height. */
const CELL_MM = 8;
/** Lines that bar the inside of a box are no farther apart than this, mm: less than the height of any word. */
const BAR_MM = 1.5;

/** A box by its middle, half its sides, and how far it is turned, degrees clockwise as seen. */
export interface TurnedBox {
  readonly at: Point;
  readonly halfU: number;
  readonly halfV: number;
  readonly turn: number;
}

/** Owner of lines that belong to no opening. */
export const NO_OWNER = 0;
/** Owner of lines that a leader may cross (seams, rings), though no text may stand on them. */
export const SOFT = -1;

/**
 * Where lines and labels are on a drawing, so that text can be kept clear of them. Filled as the drawing grows; each question costs
 * about as much as there are lines nearby.
 */
export class ClearSpace {
  private readonly lines: number[] = [];
  private readonly owners: number[] = [];
  private readonly pieces = new SquareIndex<number>(CELL_MM);
  private crossed: CrossedCells | null = null;

  /** Adds outlines. `owner` is the number of the opening they belong to. */
  addContours(contours: readonly Contour[], owner: number): void {
    for (const { coords } of contours) {
      if (coords.length < 8) continue;
      let x = coords[0];
      let y = coords[1];
      for (let k = 0; k + 7 < coords.length; k += 6) {
        flattenCubic(coords, k, FLATTEN_LABEL_MM, (nx, ny) => {
          this.addLine(x, y, nx, ny, owner);
          x = nx;
          y = ny;
        });
      }
    }
  }

  /** Adds a box that is taken up, e.g. by a label. */
  addBox({ x0, y0, x1, y1 }: Box, owner: number): void {
    const at = { x: (x0 + x1) / 2, y: (y0 + y1) / 2 };
    this.addTurnedBox({ at, halfU: (x1 - x0) / 2, halfV: (y1 - y0) / 2, turn: 0 }, owner);
  }

  /** Adds a turned box that is taken up. Lines across it bar its inside: a small box within touches none of the sides. */
  addTurnedBox(box: TurnedBox, owner: number): void {
    const [a, b, c, d] = turnedCorners(box);
    const line = (p: Point, q: Point) => this.addLine(p.x, p.y, q.x, q.y, owner);
    line(a, b);
    line(d, c);
    const rows = Math.max(1, Math.ceil((2 * box.halfV) / BAR_MM));
    for (let k = 1; k < rows; k++) line(between(a, d, k / rows), between(b, c, k / rows));
    line(a, d);
    line(b, c);
  }

  /** Adds a straight line. */
  addLine(ax: number, ay: number, bx: number, by: number, owner: number): void {
    const pieces = Math.max(1, Math.ceil(Math.hypot(bx - ax, by - ay) / PIECE_MM));
    for (let k = 0; k < pieces; k++) {
      const id = this.owners.length;
      const x0 = ax + ((bx - ax) * k) / pieces;
      const y0 = ay + ((by - ay) * k) / pieces;
      const x1 = ax + ((bx - ax) * (k + 1)) / pieces;
      const y1 = ay + ((by - ay) * (k + 1)) / pieces;
      this.lines.push(x0, y0, x1, y1);
      this.owners.push(owner);
      this.pieces.addBox(
        id,
        boxOf([
          { x: x0, y: y0 },
          { x: x1, y: y1 },
        ]),
      );
    }
  }

  /** Call when the many lines are in, before the many questions: what is crossed in the middle is then told at once. */
  seal(): void {
    this.crossed = crossedCells(this.lines);
  }

  /** True where no line comes into the box. */
  isClear(box: Box): boolean {
    if (this.crossed && isCrossed(this.crossed, box)) return false;
    return !this.pieces.some(box, (id) => this.lineMeetsBox(id, box));
  }

  /** True where no line comes into the turned box. */
  isClearTurned(turned: TurnedBox): boolean {
    const { at, halfU, halfV, turn } = turned;
    const [cos, sin] = [Math.cos((turn * Math.PI) / 180), Math.sin((turn * Math.PI) / 180)];
    if (this.crossed) {
      // Upright squares that lie in the turned box whole, along its middle.
      const half = Math.min(halfU, halfV) * Math.SQRT1_2;
      const far = Math.max(0, halfU - Math.min(halfU, halfV));
      for (const part of [0, -1, 1]) {
        const [x, y] = [at.x + part * far * cos, at.y + part * far * sin];
        if (isCrossed(this.crossed, { x0: x - half, y0: y - half, x1: x + half, y1: y + half })) return false;
      }
    }
    const x = Math.abs(halfU * cos) + Math.abs(halfV * sin);
    const y = Math.abs(halfU * sin) + Math.abs(halfV * cos);
    const box = { x0: -halfU, y0: -halfV, x1: halfU, y1: halfV };
    const around = { x0: at.x - x, y0: at.y - y, x1: at.x + x, y1: at.y + y };
    return !this.pieces.some(around, (id) => {
      const k = 4 * id;
      const [ax, ay] = [this.lines[k] - at.x, this.lines[k + 1] - at.y];
      const [bx, by] = [this.lines[k + 2] - at.x, this.lines[k + 3] - at.y];
      return meetsBox(ax * cos + ay * sin, ay * cos - ax * sin, bx * cos + by * sin, by * cos - bx * sin, box);
    });
  }

  /**
   * True where the straight line from `a` to `b` crosses a line whose owner is neither `owner` nor `SOFT`; with `overOutlines` only where
   * it crosses one that belongs to no opening.
   */
  crossesOthers(a: Point, b: Point, owner: number, { overOutlines = false } = {}): boolean {
    return this.pieces.some(boxOf([a, b]), (id) => {
      const own = this.owners[id];
      const counts = overOutlines ? own === NO_OWNER : own !== owner && own !== SOFT;
      return counts && this.lineCrosses(id, a, b);
    });
  }

  private lineMeetsBox(id: number, box: Box): boolean {
    const k = 4 * id;
    return meetsBox(this.lines[k], this.lines[k + 1], this.lines[k + 2], this.lines[k + 3], box);
  }

  private lineCrosses(id: number, a: Point, b: Point): boolean {
    const k = 4 * id;
    const p = { x: this.lines[k], y: this.lines[k + 1] };
    const q = { x: this.lines[k + 2], y: this.lines[k + 3] };
    return turn(p, q, a) > 0 !== turn(p, q, b) > 0 && turn(a, b, p) > 0 !== turn(a, b, q) > 0;
  }
}

/** The corners of a turned box, in turn. */
export function turnedCorners({ at, halfU, halfV, turn }: TurnedBox): [Point, Point, Point, Point] {
  const [cos, sin] = [Math.cos((turn * Math.PI) / 180), Math.sin((turn * Math.PI) / 180)];
  const corner = (u: number, v: number): Point => ({ x: at.x + u * cos - v * sin, y: at.y + u * sin + v * cos });
  return [corner(-halfU, -halfV), corner(halfU, -halfV), corner(halfU, halfV), corner(-halfU, halfV)];
}

/** Whether a line comes into a box: it is clipped to the box side by side (Liang and Barsky, 1984). */
function meetsBox(ax: number, ay: number, bx: number, by: number, box: Box): boolean {
  const dx = bx - ax;
  const dy = by - ay;
  let from = 0;
  let to = 1;
  if (dx === 0) {
    if (ax < box.x0 || ax > box.x1) return false;
  } else {
    const s = (box.x0 - ax) / dx;
    const t = (box.x1 - ax) / dx;
    from = Math.max(from, Math.min(s, t));
    to = Math.min(to, Math.max(s, t));
  }
  if (dy === 0) return ay >= box.y0 && ay <= box.y1 && from <= to;
  const s = (box.y0 - ay) / dy;
  const t = (box.y1 - ay) / dy;
  return Math.max(from, Math.min(s, t)) <= Math.min(to, Math.max(s, t));
}
