import type { Box, Contour } from '../geometry/types.js';
import { chordsOf } from './cubic.js';

/** Chords of outlines lie this near to their curves, mm. */
export const CHORD_MM = 2.5e-4;

/** Chords in one row of the index, about. */
const ROW_CHORDS = 4;
const ROWS_MAX = 8192;

/** Winding numbers of closed outlines about any place. Outlines that are not closed are closed by a straight side. */
export class Windings {
  readonly box: Box;
  private readonly chords: Float64Array;
  private readonly rowStart: Int32Array;
  private readonly rowChords: Int32Array;
  private readonly perMm: number;

  constructor(contours: readonly Contour[], chordMm = CHORD_MM) {
    const list: number[] = [];
    const box = { x0: Infinity, y0: Infinity, x1: -Infinity, y1: -Infinity };
    for (const contour of contours) {
      const points = chordsOf(contour, chordMm);
      const n = points.length;
      for (let k = 0; k < n; k += 2) {
        const [x0, y0] = [points[k], points[k + 1]];
        const [x1, y1] = [points[(k + 2) % n], points[(k + 3) % n]];
        box.x0 = Math.min(box.x0, x0);
        box.y0 = Math.min(box.y0, y0);
        box.x1 = Math.max(box.x1, x0);
        box.y1 = Math.max(box.y1, y0);
        // A level chord never crosses a level ray.
        if (y0 !== y1) list.push(x0, y0, x1, y1);
      }
    }
    this.box = box;
    this.chords = Float64Array.from(list);
    const count = list.length / 4;
    const rows = Math.max(1, Math.min(ROWS_MAX, Math.ceil(count / ROW_CHORDS)));
    const height = box.y1 - box.y0;
    this.perMm = height > 0 ? rows / height : 0;
    const last = rows - 1;
    const rowOf = (y: number): number => Math.min(last, Math.max(0, Math.floor((y - box.y0) * this.perMm)));
    const start = new Int32Array(rows + 1);
    for (let k = 0; k < count; k++) {
      const [from, to] = this.rowsOf(k, rowOf);
      for (let r = from; r <= to; r++) start[r + 1]++;
    }
    for (let r = 0; r < rows; r++) start[r + 1] += start[r];
    const next = start.slice();
    this.rowChords = new Int32Array(start[rows]);
    for (let k = 0; k < count; k++) {
      const [from, to] = this.rowsOf(k, rowOf);
      for (let r = from; r <= to; r++) this.rowChords[next[r]++] = k;
    }
    this.rowStart = start;
  }

  private rowsOf(k: number, rowOf: (y: number) => number): [number, number] {
    const [a, b] = [this.chords[4 * k + 1], this.chords[4 * k + 3]];
    return [rowOf(Math.min(a, b)), rowOf(Math.max(a, b))];
  }

  /** How often the outlines turn about a place: crossings of a level ray to the right, downward ones positive. */
  at(x: number, y: number): number {
    const { box, chords } = this;
    if (!(x >= box.x0 && x <= box.x1 && y >= box.y0 && y <= box.y1)) return 0;
    const row = Math.min(this.rowStart.length - 2, Math.floor((y - box.y0) * this.perMm));
    let turns = 0;
    for (let k = this.rowStart[row]; k < this.rowStart[row + 1]; k++) {
      const c = 4 * this.rowChords[k];
      const [y0, y1] = [chords[c + 1], chords[c + 3]];
      if (y0 <= y === y1 <= y) continue;
      const [x0, x1] = [chords[c], chords[c + 2]];
      if (x0 <= x && x1 <= x) continue;
      if ((x0 > x && x1 > x) || x0 + ((y - y0) * (x1 - x0)) / (y1 - y0) > x) turns += y1 > y0 ? 1 : -1;
    }
    return turns;
  }
}
