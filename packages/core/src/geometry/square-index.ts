import type { Box, Point } from './types.js';

/** Squares are keyed by one number, a row of squares having fewer than this. */
const ROW = 2 ** 26;

/** Things found again by where they are, in squares of the plane; things may be added at any time. For boxes that are known all at once `boxIndex` is faster. */
export class SquareIndex<T> {
  readonly #side: number;
  readonly #squares = new Map<number, T[]>();

  /** `side` of a square: about the size of a thing, and no less than the reach of `around`. */
  constructor(side: number) {
    this.#side = side;
  }

  /** A thing that lies at a place. */
  add(thing: T, { x, y }: Point): void {
    this.#put(thing, this.#cell(x) * ROW + this.#cell(y));
  }

  /** A thing that lies anywhere in a box: it stands in every square that the box reaches. */
  addBox(thing: T, box: Box): void {
    this.#visit(box, (key) => {
      this.#put(thing, key);
      return false;
    });
  }

  /** Takes away what was added at a place. */
  remove(thing: T, at: Point): void {
    const things = this.at(at) as T[];
    const k = things.indexOf(thing);
    if (k >= 0) things.splice(k, 1);
  }

  /** What stands in the square of a place, in the order in which it was added. */
  at({ x, y }: Point): readonly T[] {
    return this.#squares.get(this.#cell(x) * ROW + this.#cell(y)) ?? [];
  }

  /** What stands in the square of a place and the eight around it: everything that was added within `side`, and more. */
  around({ x, y }: Point): T[] {
    const found: T[] = [];
    for (let i = this.#cell(x) - 1, last = i + 2; i <= last; i++) {
      for (let j = this.#cell(y) - 1, end = j + 2; j <= end; j++) found.push(...(this.#squares.get(i * ROW + j) ?? []));
    }
    return found;
  }

  /** What may touch a box; each once. */
  near(box: Box): T[] {
    const found = new Set<T>();
    this.some(box, (thing) => {
      found.add(thing);
      return false;
    });
    return [...found];
  }

  /** Whether a test holds for anything that may touch a box; a thing in several squares may be asked more than once. */
  some(box: Box, test: (thing: T) => boolean): boolean {
    return this.#visit(box, (key) => this.#squares.get(key)?.some(test) ?? false);
  }

  #cell(v: number): number {
    return Math.floor(v / this.#side);
  }

  #put(thing: T, key: number): void {
    const square = this.#squares.get(key);
    if (square) square.push(thing);
    else this.#squares.set(key, [thing]);
  }

  /** Visits the squares that a box reaches, until told to stop. */
  #visit({ x0, y0, x1, y1 }: Box, stop: (key: number) => boolean): boolean {
    const [i1, j0, j1] = [this.#cell(x1), this.#cell(y0), this.#cell(y1)];
    for (let i = this.#cell(x0); i <= i1; i++) {
      for (let j = j0; j <= j1; j++) if (stop(i * ROW + j)) return true;
    }
    return false;
  }
}
