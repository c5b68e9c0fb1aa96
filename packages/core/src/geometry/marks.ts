import type { Curve } from './curve.js';
import type { GridPoint } from './grid.js';

/** A place on a source curve that was moved by `dx, dy` (mm): `k` counts along its flattened corners. */
export interface CurveRef {
  readonly curve: Curve;
  readonly dx: number;
  readonly dy: number;
  readonly k: number;
}

/**
 * Tells for every corner of a polygon from which source curve it came. Corners carry a whole number `z`; 0 or none is "no curve".
 * Books nest: a book made of `parts` renumbers their marks, so that copies of an area share one set of curves.
 * New corners, made where two sides cut each other, get marks of their own that name both curves.
 */
export class CurveMarks {
  /** Own marks in runs: mark `start + k` is corner `k` of `curve`, or the one corner that `refs` names. */
  private readonly runs: {
    readonly start: number;
    readonly curve: Curve | null;
    readonly refs: readonly CurveRef[];
  }[] = [];
  private readonly bases: number[] = [];
  private readonly parts: { readonly book: CurveMarks; readonly dx: number; readonly dy: number }[] = [];
  private partsEnd = 0;
  private ownCount = 0;

  /** The largest mark in use. */
  get size(): number {
    return this.partsEnd + this.ownCount;
  }

  /** Adds a mark for one corner on some curves. Parts must have been added before. */
  add(refs: readonly CurveRef[]): number {
    this.ownCount++;
    this.runs.push({ start: this.size, curve: null, refs });
    return this.size;
  }

  /** Adds marks for all corners of a curve, of which there are `count`; returns the mark of corner 0. */
  addCorners(curve: Curve, count: number): number {
    const start = this.size + 1;
    this.runs.push({ start, curve, refs: [] });
    this.ownCount += count;
    return start;
  }

  /** Takes another book's marks in, moved by `dx, dy` mm; returns what to add to its marks. Before any `add`. */
  include(book: CurveMarks, dx: number, dy: number): number {
    const base = this.partsEnd;
    this.bases.push(base);
    this.parts.push({ book, dx, dy });
    this.partsEnd += book.size;
    return base;
  }

  refs(z: number | undefined): readonly CurveRef[] {
    if (!z || z <= 0) return [];
    if (z > this.partsEnd) {
      const run = this.runs[lastAtMost(this.runs, z, (r) => r.start)];
      return run.curve ? [{ curve: run.curve, dx: 0, dy: 0, k: z - run.start }] : run.refs;
    }
    const index = lastAtMost(this.bases, z - 1, (base) => base);
    const part = this.parts[index];
    const refs = part.book.refs(z - this.bases[index]);
    if (part.dx === 0 && part.dy === 0) return refs;
    return refs.map((r) => ({ curve: r.curve, dx: r.dx + part.dx, dy: r.dy + part.dy, k: r.k }));
  }

  /** Marks a corner where the sides `a→b` and `c→d` cut each other, as the polygon engine reports it. */
  readonly markCut = (a: GridPoint, b: GridPoint, c: GridPoint, d: GridPoint, at: GridPoint): void => {
    const found: CurveRef[] = [];
    for (const [p, q] of [
      [a, b],
      [c, d],
    ]) {
      // Where the cut is a corner already, it stays what it was: two curves may meet there.
      const corner = [p, q].find((end) => end.x === at.x && end.y === at.y);
      if (corner) {
        found.push(...this.refs(corner.z));
        continue;
      }
      const side = this.curveAlong(p, q);
      if (!side) continue;
      const length = (q.x - p.x) ** 2 + (q.y - p.y) ** 2;
      const t = length === 0 ? 0 : ((at.x - p.x) * (q.x - p.x) + (at.y - p.y) * (q.y - p.y)) / length;
      const k = side.from + Math.min(1, Math.max(0, t)) * (side.to - side.from);
      found.push({ curve: side.curve, dx: side.dx, dy: side.dy, k });
    }
    at.z = found.length > 0 ? this.add(found) : 0;
  };

  /** The curve of which the side `p→q` is a chord (or part of one), with the corners' places on it; null for none. */
  curveAlong(p: GridPoint, q: GridPoint): { curve: Curve; dx: number; dy: number; from: number; to: number } | null {
    const refsQ = this.refs(q.z);
    if (refsQ.length === 0) return null;
    for (const r of this.refs(p.z)) {
      for (const s of refsQ) {
        if (r.curve !== s.curve || Math.abs(r.dx - s.dx) > 1e-9 || Math.abs(r.dy - s.dy) > 1e-9) continue;
        const to = sameSide(r.k, s.k, r.curve);
        if (to !== null) return { curve: r.curve, dx: r.dx, dy: r.dy, from: r.k, to };
      }
    }
    return null;
  }
}

/** `to`, unwrapped so that it lies on the same flattened side as `from`; null where no side holds both. */
function sameSide(from: number, to: number, curve: Curve): number | null {
  const n = curve.s.length;
  let end = to;
  if (curve.closed && Math.abs(end - from) > 1) {
    if (from - end > n - 1.000001) end += n;
    else if (end - from > n - 1.000001) end -= n;
  }
  if (end === from || Math.abs(end - from) > 1) return null;
  const low = Math.min(from, end);
  const high = Math.max(from, end);
  return Math.floor(low) + 1 >= high ? end : null;
}

/** Index of the last item of a sorted list whose key is at most `value`. */
function lastAtMost<T>(items: readonly T[], value: number, key: (item: T) => number): number {
  let low = 0;
  let high = items.length - 1;
  while (low < high) {
    const mid = (low + high + 1) >> 1;
    if (key(items[mid]) <= value) low = mid;
    else high = mid - 1;
  }
  return low;
}
