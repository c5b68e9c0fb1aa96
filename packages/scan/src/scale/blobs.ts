import { UnionFind } from '@okuri/core/inside';
/** A connected dark area of a picture. Places in pixels of that picture, from its upper left corner. */
export interface Blob {
  /** Pixels. */
  readonly area: number;
  /** Mean place of its pixels. */
  readonly x: number;
  readonly y: number;
  /** Whole pixels: first and one past the last. */
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

/**
 * Connected areas (by sides) of the pixels whose value is below `level`, in one pass by rows: runs of dark pixels are joined to the runs above them
 * with a union-find (Rosenfeld & Pfaltz, J. ACM 13 (1966) 471, by runs). Only blobs for which `keep` holds are given back.
 */
export function blobsBelow(
  { values, width, height }: { readonly values: ArrayLike<number>; readonly width: number; readonly height: number },
  level: number,
  keep: (blob: Blob) => boolean,
): Blob[] {
  const book = new BlobBook();
  let above: Run[] = [];
  for (let y = 0; y < height; y++) {
    const row: Run[] = [];
    let next = 0;
    for (let x = 0; x < width; x++) {
      if (!(values[y * width + x] < level)) continue;
      const start = x;
      while (x < width && values[y * width + x] < level) x++;
      let label = -1;
      while (next < above.length && above[next].end <= start) next++;
      for (let k = next; k < above.length && above[k].start < x; k++) {
        label = label < 0 ? book.rootOf(above[k].label) : book.join(label, above[k].label);
      }
      if (label < 0) label = book.open();
      book.add(label, start, x, y);
      row.push({ start, end: x, label });
    }
    above = row;
  }
  return book.blobs(keep);
}

interface Run {
  readonly start: number;
  readonly end: number;
  readonly label: number;
}

/** Sums of blobs under way, as parallel lists: a noisy picture has millions. */
class BlobBook {
  readonly #sets = new UnionFind();
  readonly #area: number[] = [];
  readonly #sumX: number[] = [];
  readonly #sumY: number[] = [];
  readonly #x0: number[] = [];
  readonly #x1: number[] = [];
  readonly #y0: number[] = [];
  readonly #y1: number[] = [];

  open(): number {
    const label = this.#sets.add();
    this.#area.push(0);
    this.#sumX.push(0);
    this.#sumY.push(0);
    this.#x0.push(Number.POSITIVE_INFINITY);
    this.#x1.push(0);
    this.#y0.push(Number.POSITIVE_INFINITY);
    this.#y1.push(0);
    return label;
  }

  rootOf(label: number): number {
    return this.#sets.find(label);
  }

  join(one: number, other: number): number {
    const [a, b] = [this.rootOf(one), this.rootOf(other)];
    if (a === b) return a;
    const root = this.#sets.join(a, b);
    const child = root === a ? b : a;
    this.#area[root] += this.#area[child];
    this.#sumX[root] += this.#sumX[child];
    this.#sumY[root] += this.#sumY[child];
    this.#x0[root] = Math.min(this.#x0[root], this.#x0[child]);
    this.#x1[root] = Math.max(this.#x1[root], this.#x1[child]);
    this.#y0[root] = Math.min(this.#y0[root], this.#y0[child]);
    this.#y1[root] = Math.max(this.#y1[root], this.#y1[child]);
    return root;
  }

  add(label: number, start: number, end: number, y: number): void {
    const root = this.rootOf(label);
    const length = end - start;
    this.#area[root] += length;
    this.#sumX[root] += (length * (start + end)) / 2;
    this.#sumY[root] += length * (y + 0.5);
    this.#x0[root] = Math.min(this.#x0[root], start);
    this.#x1[root] = Math.max(this.#x1[root], end);
    this.#y0[root] = Math.min(this.#y0[root], y);
    this.#y1[root] = Math.max(this.#y1[root], y + 1);
  }

  blobs(keep: (blob: Blob) => boolean): Blob[] {
    const found: Blob[] = [];
    for (let k = 0; k < this.#sets.count; k++) {
      if (this.rootOf(k) !== k) continue;
      const area = this.#area[k];
      const blob = {
        area,
        x: this.#sumX[k] / area,
        y: this.#sumY[k] / area,
        x0: this.#x0[k],
        y0: this.#y0[k],
        x1: this.#x1[k],
        y1: this.#y1[k],
      };
      if (keep(blob)) found.push(blob);
    }
    return found;
  }
}
