import { flattenCubic } from '../geometry/flatten.js';
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
/** Cells are keyed by one number; a sheet has fewer cells than this a row. */
const ROW = 1 << 16;

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
  private readonly cells = new Map<number, number[]>();
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
      this.eachCell(x0, y0, x1, y1, (key) => {
        const cell = this.cells.get(key);
        if (cell) cell.push(id);
        else this.cells.set(key, [id]);
        return false;
      });
    }
  }

  /** Call when the many lines are in, before the many questions: what is crossed in the middle is then told at once. */
  seal(): void {
    this.crossed = crossedCells(this.lines);
  }

  /** True where no line comes into the box. */
  isClear(box: Box): boolean {
    if (this.crossed && isCrossed(this.crossed, box)) return false;
    return !this.eachCell(box.x0, box.y0, box.x1, box.y1, (key) => {
      const cell = this.cells.get(key);
      return cell?.some((id) => this.lineMeetsBox(id, box)) ?? false;
    });
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
    return !this.eachCell(at.x - x, at.y - y, at.x + x, at.y + y, (key) => {
      const cell = this.cells.get(key);
      return (
        cell?.some((id) => {
          const k = 4 * id;
          const [ax, ay] = [this.lines[k] - at.x, this.lines[k + 1] - at.y];
          const [bx, by] = [this.lines[k + 2] - at.x, this.lines[k + 3] - at.y];
          return meetsBox(ax * cos + ay * sin, ay * cos - ax * sin, bx * cos + by * sin, by * cos - bx * sin, box);
        }) ?? false
      );
    });
  }

  /**
   * True where the straight line from `a` to `b` crosses a line whose owner is neither `owner` nor `SOFT`; with `overOutlines` only where
   * it crosses one that belongs to no opening.
   */
  crossesOthers(a: Point, b: Point, owner: number, { overOutlines = false } = {}): boolean {
    return this.eachCell(a.x, a.y, b.x, b.y, (key) => {
      const cell = this.cells.get(key);
      return (
        cell?.some((id) => {
          const own = this.owners[id];
          const counts = overOutlines ? own === NO_OWNER : own !== owner && own !== SOFT;
          return counts && this.lineCrosses(id, a, b);
        }) ?? false
      );
    });
  }

  /** Calls `found` with every cell that the box of two corners reaches, until it says true. */
  private eachCell(ax: number, ay: number, bx: number, by: number, found: (key: number) => boolean): boolean {
    const i1 = Math.floor(Math.max(ax, bx) / CELL_MM);
    const j0 = Math.floor(Math.min(ay, by) / CELL_MM);
    const j1 = Math.floor(Math.max(ay, by) / CELL_MM);
    for (let i = Math.floor(Math.min(ax, bx) / CELL_MM); i <= i1; i++) {
      for (let j = j0; j <= j1; j++) {
        if (found(i * ROW + j)) return true;
      }
    }
    return false;
  }

  private lineMeetsBox(id: number, box: Box): boolean {
    const k = 4 * id;
    return meetsBox(this.lines[k], this.lines[k + 1], this.lines[k + 2], this.lines[k + 3], box);
  }

  private lineCrosses(id: number, a: Point, b: Point): boolean {
    const k = 4 * id;
    const p = { x: this.lines[k], y: this.lines[k + 1] };
    const q = { x: this.lines[k + 2], y: this.lines[k + 3] };
    return side(p, q, a) !== side(p, q, b) && side(a, b, p) !== side(a, b, q);
  }
}

/** The corners of a turned box, in turn. */
export function turnedCorners({ at, halfU, halfV, turn }: TurnedBox): [Point, Point, Point, Point] {
  const [cos, sin] = [Math.cos((turn * Math.PI) / 180), Math.sin((turn * Math.PI) / 180)];
  const corner = (u: number, v: number): Point => ({ x: at.x + u * cos - v * sin, y: at.y + u * sin + v * cos });
  return [corner(-halfU, -halfV), corner(halfU, -halfV), corner(halfU, halfV), corner(-halfU, halfV)];
}

function between(p: Point, q: Point, t: number): Point {
  return { x: p.x + t * (q.x - p.x), y: p.y + t * (q.y - p.y) };
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

function side(p: Point, q: Point, r: Point): boolean {
  return (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x) > 0;
}

/** True where `p` lies inside closed outlines by the nonzero rule. */
export function isInside(contours: readonly Contour[], p: Point): boolean {
  let winding = 0;
  for (const { coords } of contours) {
    if (coords.length < 8) continue;
    let x = coords[0];
    let y = coords[1];
    const turn = (nx: number, ny: number): void => {
      if (y <= p.y !== ny <= p.y) {
        const cross = (nx - x) * (p.y - y) - (ny - y) * (p.x - x);
        if (ny > y && cross > 0) winding++;
        if (ny <= y && cross < 0) winding--;
      }
      x = nx;
      y = ny;
    };
    for (let k = 0; k + 7 < coords.length; k += 6) flattenCubic(coords, k, FLATTEN_LABEL_MM, turn);
    turn(coords[0], coords[1]);
  }
  return winding !== 0;
}

/** A box grown by `byMm` on every side. */
export function grow({ x0, y0, x1, y1 }: Box, byMm: number): Box {
  return { x0: x0 - byMm, y0: y0 - byMm, x1: x1 + byMm, y1: y1 + byMm };
}
