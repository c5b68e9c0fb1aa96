import { flattenCubic } from '../geometry/flatten.js';
import type { Box, Contour, Point } from '../geometry/types.js';

/** Lines are known to this, mm: a third of the width of the thinnest outline. */
const FLATTEN_LABEL_MM = 0.08;
/** Longer pieces are divided, so that a slanting line takes up few cells of the grid, mm. */
const PIECE_MM = 16;
/** Side of a grid cell, mm: about a label's height. */
const CELL_MM = 8;
/** Cells are keyed by one number; a sheet has fewer cells than this a row. */
const ROW = 1 << 16;

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

  /** Adds the four sides of a box that is taken up, e.g. by a label. */
  addBox({ x0, y0, x1, y1 }: Box, owner: number): void {
    this.addLine(x0, y0, x1, y0, owner);
    this.addLine(x1, y0, x1, y1, owner);
    this.addLine(x1, y1, x0, y1, owner);
    this.addLine(x0, y1, x0, y0, owner);
    // A small box inside a large one touches none of its sides: the diagonals bar it.
    this.addLine(x0, y0, x1, y1, owner);
    this.addLine(x0, y1, x1, y0, owner);
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

  /** True where no line comes into the box. */
  isClear(box: Box): boolean {
    return !this.eachCell(box.x0, box.y0, box.x1, box.y1, (key) => {
      const cell = this.cells.get(key);
      return cell?.some((id) => this.lineMeetsBox(id, box)) ?? false;
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
    const ax = this.lines[k];
    const ay = this.lines[k + 1];
    const dx = this.lines[k + 2] - ax;
    const dy = this.lines[k + 3] - ay;
    // Clips the line to the box side by side (Liang and Barsky, 1984).
    let from = 0;
    let to = 1;
    for (const [d, low, high] of [
      [dx, box.x0 - ax, box.x1 - ax],
      [dy, box.y0 - ay, box.y1 - ay],
    ]) {
      if (d === 0) {
        if (low > 0 || high < 0) return false;
        continue;
      }
      const s = Math.min(low / d, high / d);
      const t = Math.max(low / d, high / d);
      if (s > from) from = s;
      if (t < to) to = t;
      if (from > to) return false;
    }
    return true;
  }

  private lineCrosses(id: number, a: Point, b: Point): boolean {
    const k = 4 * id;
    const p = { x: this.lines[k], y: this.lines[k + 1] };
    const q = { x: this.lines[k + 2], y: this.lines[k + 3] };
    return side(p, q, a) !== side(p, q, b) && side(a, b, p) !== side(a, b, q);
  }
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
