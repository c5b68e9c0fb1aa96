/** Straight pieces of lines, found by place. */
export class NearLines {
  private readonly cells = new Map<number, number[]>();
  private readonly lines: number[] = [];

  constructor(private readonly cellMm: number) {}

  add(x0: number, y0: number, x1: number, y1: number): void {
    const at = this.lines.length;
    this.lines.push(x0, y0, x1, y1);
    // A slanting piece is entered in short steps, so that its box holds no cell it is far from.
    const parts = Math.max(1, Math.ceil(Math.hypot(x1 - x0, y1 - y0) / this.cellMm));
    for (let k = 0; k < parts; k++) {
      const [ax, ay] = [x0 + ((x1 - x0) * k) / parts, y0 + ((y1 - y0) * k) / parts];
      const [bx, by] = [x0 + ((x1 - x0) * (k + 1)) / parts, y0 + ((y1 - y0) * (k + 1)) / parts];
      const [i0, i1] = [this.index(Math.min(ax, bx)), this.index(Math.max(ax, bx))];
      const [j0, j1] = [this.index(Math.min(ay, by)), this.index(Math.max(ay, by))];
      for (let i = i0; i <= i1; i++) {
        for (let j = j0; j <= j1; j++) {
          const key = cellKey(i, j);
          const list = this.cells.get(key);
          if (!list) this.cells.set(key, [at]);
          else if (list[list.length - 1] !== at) list.push(at);
        }
      }
    }
  }

  addChords(points: readonly number[]): void {
    for (let k = 0; k + 3 < points.length; k += 2) this.add(points[k], points[k + 1], points[k + 2], points[k + 3]);
  }

  /** Distance from a place to the nearest piece, mm; `withinMm` or more where none is nearer than that. */
  distance(x: number, y: number, withinMm: number): number {
    const { lines } = this;
    let best = withinMm * withinMm;
    const [i0, i1] = [this.index(x - withinMm), this.index(x + withinMm)];
    const [j0, j1] = [this.index(y - withinMm), this.index(y + withinMm)];
    for (let i = i0; i <= i1; i++) {
      for (let j = j0; j <= j1; j++) {
        for (const k of this.cells.get(cellKey(i, j)) ?? []) {
          const [ax, ay, bx, by] = [lines[k], lines[k + 1], lines[k + 2], lines[k + 3]];
          const [ux, uy] = [bx - ax, by - ay];
          const size = ux * ux + uy * uy;
          const share = size > 0 ? Math.max(0, Math.min(1, ((x - ax) * ux + (y - ay) * uy) / size)) : 0;
          const square = (ax + share * ux - x) ** 2 + (ay + share * uy - y) ** 2;
          if (square < best) best = square;
        }
      }
    }
    return Math.sqrt(best);
  }

  private index(v: number): number {
    return Math.floor(v / this.cellMm);
  }
}

function cellKey(i: number, j: number): number {
  return i * 4_194_304 + j;
}
