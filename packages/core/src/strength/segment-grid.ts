import type { Samples } from './samples.js';
import { sampleAfter } from './samples.js';

/** Most cells of a grid: memory, not speed. */
const MAX_CELLS = 8_000_000;

/** The chords from each sample to the next, sorted into square cells by their middles. */
export interface SegmentGrid {
  readonly cell: number;
  readonly columns: number;
  readonly rows: number;
  readonly x0: number;
  readonly y0: number;
  /** Chords of cell `c` (row after row) are `items[first[c]]` up to `items[first[c + 1]]`; a chord has the number of its sample. */
  readonly first: Int32Array;
  readonly items: Int32Array;
  /** Length of the longest chord, mm. */
  readonly longest: number;
  /** The way along each chord. */
  readonly ex: Float64Array;
  readonly ey: Float64Array;
}

/** Sorts the chords between samples into cells that suit looking `reachMm` far. Chords without a length are left out. */
export function gridSegments(samples: Samples, { reachMm }: { reachMm: number }): SegmentGrid {
  const { count, x, y } = samples;
  const ex = new Float64Array(count);
  const ey = new Float64Array(count);
  let longest = 0;
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i < count; i++) {
    const next = sampleAfter(samples, i);
    ex[i] = x[next] - x[i];
    ey[i] = y[next] - y[i];
    longest = Math.max(longest, ex[i] * ex[i] + ey[i] * ey[i]);
    x0 = Math.min(x0, x[i]);
    x1 = Math.max(x1, x[i]);
    y0 = Math.min(y0, y[i]);
    y1 = Math.max(y1, y[i]);
  }
  longest = Math.sqrt(longest);
  if (count === 0) [x0, y0, x1, y1] = [0, 0, 0, 0];
  let cell = Math.max(reachMm / 16, 2 * longest, 1e-3);
  cell = Math.max(cell, Math.sqrt(((x1 - x0) * (y1 - y0)) / MAX_CELLS), (x1 - x0) / MAX_CELLS, (y1 - y0) / MAX_CELLS);
  const columns = Math.floor((x1 - x0) / cell) + 1;
  const rows = Math.floor((y1 - y0) / cell) + 1;
  const first = new Int32Array(columns * rows + 1);
  const bucketOf = new Int32Array(count).fill(-1);
  for (let i = 0; i < count; i++) {
    if (ex[i] === 0 && ey[i] === 0) continue;
    const column = Math.min(columns - 1, Math.floor((x[i] + ex[i] / 2 - x0) / cell));
    const row = Math.min(rows - 1, Math.floor((y[i] + ey[i] / 2 - y0) / cell));
    bucketOf[i] = row * columns + column;
    first[bucketOf[i] + 1]++;
  }
  for (let b = 0; b < columns * rows; b++) first[b + 1] += first[b];
  const items = new Int32Array(first[columns * rows]);
  const at = first.slice(0, columns * rows);
  for (let i = 0; i < count; i++) if (bucketOf[i] >= 0) items[at[bucketOf[i]]++] = i;
  return { cell, columns, rows, x0, y0, first, items, longest, ex, ey };
}
