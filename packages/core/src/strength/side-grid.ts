import { distance } from '../geometry/points.js';
import type { Point } from '../geometry/types.js';

/** At most this many cells for each side, so that the grid grows with the outlines. */
const CELLS_PER_SIDE = 4;

/** The sides of closed rings in a grid of square cells, to be asked what a straight way meets. */
export class SideGrid {
  private readonly sides: Float64Array;
  private readonly cell: number;
  private readonly x0: number;
  private readonly y0: number;
  private readonly columns: number;
  private readonly rows: number;
  /** Where each cell's sides start in `members`. */
  private readonly starts: Int32Array;
  private readonly members: Int32Array;

  constructor(rings: readonly (readonly Point[])[]) {
    const sides: number[] = [];
    let [x0, y0, x1, y1, length] = [Infinity, Infinity, -Infinity, -Infinity, 0];
    for (const ring of rings) {
      ring.forEach((p, k) => {
        const q = ring[(k + 1) % ring.length];
        sides.push(p.x, p.y, q.x, q.y);
        length += distance(q, p);
        [x0, y0, x1, y1] = [Math.min(x0, p.x), Math.min(y0, p.y), Math.max(x1, p.x), Math.max(y1, p.y)];
      });
    }
    const count = Math.max(1, sides.length / 4);
    const [width, height] = [Math.max(x1 - x0, 1e-6), Math.max(y1 - y0, 1e-6)];
    // Neither many more cells than sides, nor sides that run through many cells.
    this.cell = Math.max(Math.sqrt((width * height) / (CELLS_PER_SIDE * count)), length / (CELLS_PER_SIDE * count));
    this.sides = Float64Array.from(sides);
    [this.x0, this.y0] = [x0, y0];
    this.columns = Math.floor(width / this.cell) + 1;
    this.rows = Math.floor(height / this.cell) + 1;
    const counts = new Int32Array(this.columns * this.rows + 1);
    const each = (visit: (cell: number, side: number) => void): void => {
      for (let k = 0; k < count; k++) {
        const [ax, ay, bx, by] = this.sides.subarray(4 * k, 4 * k + 4);
        this.walk(ax, ay, bx, by, (cell) => {
          visit(cell, k);
          return false;
        });
      }
    };
    each((cell) => {
      counts[cell + 1]++;
    });
    for (let k = 1; k < counts.length; k++) counts[k] += counts[k - 1];
    this.starts = counts.slice();
    this.members = new Int32Array(counts[counts.length - 1]);
    each((cell, side) => {
      this.members[counts[cell]++] = side;
    });
  }

  /** Whether the straight way between two points meets no side. */
  isFree(a: Point, b: Point): boolean {
    return this.firstHit(a, b, true) === 1;
  }

  /**
   * At which share of the straight way from `a` to `b` it first meets a side; 1 where it meets none. `any` stops at the first side found,
   * which need not be the nearest.
   */
  firstHit(a: Point, b: Point, any = false): number {
    let best = 1;
    const [dx, dy] = [b.x - a.x, b.y - a.y];
    this.walk(a.x, a.y, b.x, b.y, (cell, until) => {
      for (let k = this.starts[cell]; k < this.starts[cell + 1]; k++) {
        const o = 4 * this.members[k];
        const [sx, sy] = [this.sides[o], this.sides[o + 1]];
        const [ex, ey] = [this.sides[o + 2] - sx, this.sides[o + 3] - sy];
        const cross = dx * ey - dy * ex;
        if (cross === 0) continue;
        const t = ((sx - a.x) * ey - (sy - a.y) * ex) / cross;
        const s = ((sx - a.x) * dy - (sy - a.y) * dx) / cross;
        if (s >= 0 && s <= 1 && t >= 0 && t < best) best = t;
      }
      return best < 1 && (any || best <= until);
    });
    return best;
  }

  /** Visits the cells along a straight way in order, until told to stop; `until` is the share of the way at which it leaves the cell. */
  private walk(ax: number, ay: number, bx: number, by: number, visit: (cell: number, until: number) => boolean): void {
    const { cell, columns, rows } = this;
    const clamp = (v: number, n: number): number => Math.min(n - 1, Math.max(0, Math.floor(v)));
    let [i, j] = [clamp((ax - this.x0) / cell, columns), clamp((ay - this.y0) / cell, rows)];
    const [iEnd, jEnd] = [clamp((bx - this.x0) / cell, columns), clamp((by - this.y0) / cell, rows)];
    const [dx, dy] = [bx - ax, by - ay];
    const [stepX, stepY] = [Math.sign(iEnd - i), Math.sign(jEnd - j)];
    const nextX = (): number =>
      stepX === 0 || i === iEnd ? Infinity : (this.x0 + (i + (stepX > 0 ? 1 : 0)) * cell - ax) / dx;
    const nextY = (): number =>
      stepY === 0 || j === jEnd ? Infinity : (this.y0 + (j + (stepY > 0 ? 1 : 0)) * cell - ay) / dy;
    for (;;) {
      const [tx, ty] = [nextX(), nextY()];
      if (visit(j * columns + i, Math.min(tx, ty, 1))) return;
      if (tx === Infinity && ty === Infinity) return;
      if (tx < ty) i += stepX;
      else j += stepY;
    }
  }
}
